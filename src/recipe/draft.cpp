// A design ask checked and looked up: the water, the vessel that takes the air best, and the shelf.
#include <algorithm>
#include <cmath>
#include <numeric>

#include "recipe/designing.h"
#include "recipe/lines.h"

namespace barm::recipe {
namespace {

constexpr double ml_per_l = 1000.0, m2_per_ha = 10'000.0;
constexpr double least_food_ml_per_l = 0.05;  // judged: a teaspoon in 100 L; less is not worth opening the jar

std::string row_of(const char* list, std::size_t i) {
  return std::string(list) + "[" + std::to_string(i + 1) + "]";
}

/// A plan ask of the same water and site; compost enough to be one, of every lot, so that all are looked up.
PlanAsk plain_ask(const DesignAsk& ask, double volume_l, const OwnedVessel& vessel) {
  PlanAsk plan;
  plan.name = ask.name;
  plan.aim = aim_of(ask.purpose);
  plan.place = ask.place;
  plan.altitude_m = ask.altitude_m;
  plan.customs = ask.customs;
  plan.volume_l = volume_l;
  plan.vessel_diameter_m = vessel.diameter_m;
  plan.water_temperature_c = ask.water_temperature_c;
  plan.disinfectant = ask.disinfectant;
  plan.disinfectant_is_known = ask.disinfectant_is_known;
  plan.air = ask.air;
  plan.measured_kla20_per_h = ask.measured_kla20_per_h;
  plan.measured_kla20_error_per_h = ask.measured_kla20_error_per_h;
  plan.room_temperature_c = ask.room_temperature_c;
  plan.room_day = ask.room_day;
  plan.room_humidity_share = ask.room_humidity_share;
  plan.members_count = ask.members_count;
  plan.seed = ask.seed;
  plan.start_at = ask.start_from_at;
  for (const CompostLot& lot : ask.composts)
    plan.composts.push_back({.kind = lot.kind, .mass_g = 1.0, .in_bag = lot.in_bag});
  return plan;
}

/// The smallest that can be measured out, at least so much.
double smallest(const Choosable& what, double at_least, const Customs& customs) {
  for (double amount = at_least;; amount *= 1.05) {
    const double found = measurable(what, amount, customs);
    if (found > 0.0 && found >= at_least) return found;
  }
}

/// The largest that can be measured out, at most so much; 0 when there is none.
double largest(const Choosable& what, double at_most, const Customs& customs) {
  double found = measurable(what, at_most, customs);
  for (double amount = at_most; found > at_most && amount > at_most / 2.0; amount /= 1.02)
    found = measurable(what, amount, customs);
  return found <= at_most ? found : 0.0;
}

double per_g(const Price& price, double mass_g) {
  return price.paid > 0.0 ? price.paid / mass_g : 0.0;
}

void take_composts(Draft& draft, Findings& findings) {
  const double volume_l = draft.brewing.ask.volume_l;
  const double most_g = volume_l * ml_per_l / lines::water_per_compost_least;
  double stock_g = 0.0;
  for (std::size_t i = 0; i < draft.ask.composts.size(); ++i) {
    const CompostLot& lot = draft.ask.composts[i];
    Choosable what{.kind = *draft.knowledge->composts.find(lot.kind), .in_bag = lot.in_bag};
    what.stock = lot.stock_g;
    what.most = largest(what, std::min(lot.stock_g, most_g), draft.ask.customs);
    what.least = std::min(what.most, smallest(what, volume_l, draft.ask.customs));  // 1 g/L: less is not worth the bag
    const double priced = lot.price.amount.measured.value;
    what.cost_per_g = per_g(lot.price, std::isnan(priced) ? lot.stock_g : priced);
    what.price = {lot.price.paid, {{std::isnan(priced) ? lot.stock_g : priced, Dimension::mass}}};
    stock_g += lot.stock_g;
    draft.shelf.push_back(what);
  }
  const double needed_g = volume_l * ml_per_l / lines::water_per_compost_most;
  if (stock_g >= needed_g) return;
  findings.refuse({"recipe.design.compost_short",
                   "compost",
                   {{"given", Quantity{stock_g, Dimension::mass}}, {"least", Quantity{needed_g, Dimension::mass}}}});
  findings.refuse({"recipe.design.nearest.volume",
                   "water.volume",
                   {{"most", Quantity{stock_g * lines::water_per_compost_most / ml_per_l, Dimension::volume}}}});
}

/// The largest amount of one food that passes no line by itself.
double most_alone(const Draft& draft, const Choosable& what) {
  Brewing brewing = draft.brewing;
  brewing.foods = {{what.food, {1.0, what.measure}, what.g_per_measure, "food"}};
  const Contents in = contents(brewing);
  const auto room = [](double line, double used) { return used > 0.0 ? line / used : 1e12; };
  return std::min({room(lines::sugar_most_share, in.sugar_share),
                   room(lines::food_cod_most_g_per_l, in.food_cod_g_per_l),
                   room(lines::conductivity_most_ms_per_cm, in.conductivity_rise_ms_per_cm), what.stock});
}

const food::Food* find_food(const Knowledge& knowledge, const ShelfFood& shelf, std::size_t i, Findings& findings) {
  auto found = knowledge.foods.find(shelf.name);
  for (Remark why : found.refusals()) {
    why.field = row_of("food", i) + ".name";
    findings.refuse(std::move(why));
  }
  return found.ok() ? *found : nullptr;
}

void take_food(Draft& draft, std::size_t i, Findings& findings) {
  const ShelfFood& shelf = draft.ask.foods[i];
  const std::string row = row_of("food", i);
  const food::Food* found = find_food(*draft.knowledge, shelf, i, findings);
  if (found == nullptr) return;
  const food::Food& food = *found;
  if (draft.ask.crop_is_covered_produce && food.is_animal_origin) {
    draft.animal_food_is_kept_out = true;
    return;
  }
  const auto mass_of = [&](const Amount& amount, const char* column) -> double {
    const auto mass = food::mass_g(food, amount);
    for (Remark why : mass.refusals()) {
      why.field = row + column;
      findings.refuse(std::move(why));
    }
    return mass.ok() ? *mass : unset;
  };
  const double stock_g = mass_of(shelf.stock, ".stock");
  const bool is_priced_apart = !std::isnan(shelf.price.amount.measured.value);
  const double priced_g = is_priced_apart ? mass_of(shelf.price.amount, ".price_for") : stock_g;
  if (findings.refused() || !(stock_g > 0.0)) return;  // nothing on hand: nothing to choose
  Choosable what{.food = &food, .measure = food.is_liquid ? Dimension::volume : Dimension::mass};
  what.g_per_measure = food.is_liquid ? food.density_g_per_ml * ml_per_l : 1.0;
  what.stock = stock_g / what.g_per_measure;
  what.cost_per_g = per_g(shelf.price, priced_g);
  what.price = {shelf.price.paid, is_priced_apart ? shelf.price.amount : shelf.stock};
  const double worth_it = least_food_ml_per_l / ml_per_l * draft.brewing.ask.volume_l;  // L
  what.least =
      smallest(what, food.is_liquid ? worth_it : worth_it * ml_per_l * food.density_g_per_ml, draft.ask.customs);
  what.most = largest(what, most_alone(draft, what), draft.ask.customs);
  if (what.most >= what.least) draft.shelf.push_back(what);
}

/// Each end of the clock behind its beginning, and not so far off that the year must be mistyped.
void check_clock(const DesignAsk& ask, Findings& findings) {
  constexpr std::int64_t day_ms = 24 * 3'600'000, furthest_d = 60;  // judged
  const auto check = [&](const std::optional<std::int64_t>& at, std::int64_t from_at, const char* field) {
    if (!at) return;
    if (*at < from_at) findings.refuse({"recipe.design.clock_reversed", field, {}});
    if (*at > ask.start_from_at + furthest_d * day_ms)
      findings.refuse({"recipe.design.too_far_off", field, {{"most", std::to_string(furthest_d)}}});
  };
  check(ask.start_until_at, ask.start_from_at, "time.start_until");
  check(ask.finish_from_at, ask.start_from_at, "time.finish_from");
  check(ask.finish_until_at, std::max(ask.start_from_at, ask.finish_from_at.value_or(ask.start_from_at)),
        "time.finish_until");
}

void check_own(const DesignAsk& ask, Findings& findings) {
  const auto positive = [&](double value, const std::string& field, Dimension dimension) {
    if (value > 0.0 && std::isfinite(value)) return;
    findings.refuse(
        {.code = "recipe.plan.not_positive", .field = field, .facts = {{"given", Quantity{value, dimension}}}});
  };
  const auto within = [&](double value, double least, double most, const char* field, Dimension dimension) {
    if (value >= least && value <= most) return;
    findings.refuse({.code = "recipe.plan.out_of_range",
                     .field = field,
                     .facts = {{"given", Quantity{value, dimension}},
                               {"least", Quantity{least, dimension}},
                               {"most", Quantity{most, dimension}}}});
  };
  if (std::isnan(ask.volume_l) == ask.beds.empty())
    findings.refuse({"recipe.design.volume_or_beds", "water.volume", {}});
  for (std::size_t i = 0; i < ask.beds.size(); ++i)
    positive(ask.beds[i].area_m2, row_of("bed", i) + ".area", Dimension::area);
  positive(ask.rate_l_per_ha, "spread.rate", Dimension::coverage);
  for (std::size_t i = 0; i < ask.composts.size(); ++i)
    positive(ask.composts[i].stock_g, row_of("compost", i) + ".stock", Dimension::mass);
  for (std::size_t i = 0; i < ask.vessels.size(); ++i)
    positive(ask.vessels[i].capacity_l, row_of("vessel", i) + ".capacity", Dimension::volume);
  if (ask.vessels.empty()) findings.refuse({"recipe.design.no_vessel", "vessel", {}});
  within(ask.tolerance, 0.5, 0.99, "brew.tolerance", Dimension::share);
  within(ask.longest_h, ask.purpose == Purpose::extract ? shortest_extract_h : shortest_h, lines::length_usual_h,
         "brew.longest", Dimension::duration);
  check_clock(ask, findings);
}

/// The vessel that takes the air best; its plain ask is checked as a plan is.
void choose_vessel(Draft& draft, double volume_l, Findings& findings) {
  const OwnedVessel* largest_one = &draft.ask.vessels.front();
  Findings first_wrong;
  for (std::size_t i = 0; i < draft.ask.vessels.size(); ++i) {
    const OwnedVessel& vessel = draft.ask.vessels[i];
    if (vessel.capacity_l > largest_one->capacity_l) largest_one = &vessel;
    if (vessel.capacity_l < volume_l) continue;
    Findings own;
    auto brewing = check(plain_ask(draft.ask, volume_l, vessel), *draft.knowledge, own);
    std::optional<Aeration> aeration;
    if (brewing) {
      brewing->composts.clear();
      brewing->ask.composts.clear();
      measure_out(*brewing, own);  // the water, as it can be measured out
      aeration = own.take(aerate(*brewing));
    }
    if (!aeration) {
      if (!first_wrong.refused()) first_wrong = own;
      continue;
    }
    if (draft.vessel.empty() || aeration->kla.kla20_per_h > draft.aeration.kla.kla20_per_h) {
      draft.brewing = std::move(*brewing);
      draft.aeration = *aeration;
      draft.vessel = vessel.name.empty() ? row_of("vessel", i) : vessel.name;
    }
  }
  if (!draft.vessel.empty()) return;
  for (const Remark& why : first_wrong.refusals()) findings.refuse(why);
  if (findings.refused()) return;
  findings.refuse({"recipe.design.vessel_small",
                   "vessel",
                   {{"given", Quantity{volume_l, Dimension::volume}},
                    {"most", Quantity{largest_one->capacity_l, Dimension::volume}}}});
  double stock_g = 0.0;
  for (const CompostLot& lot : draft.ask.composts) stock_g += lot.stock_g;
  const double most_l = std::min(largest_one->capacity_l, stock_g * lines::water_per_compost_most / ml_per_l);
  findings.refuse({"recipe.design.nearest.volume", "water.volume", {{"most", Quantity{most_l, Dimension::volume}}}});
}

}  // namespace

brew::Aim aim_of(Purpose purpose) {
  switch (purpose) {
    case Purpose::fungal:
      return brew::Aim::fungal;
    case Purpose::balanced:
      return brew::Aim::balanced;
    case Purpose::bacterial:
    case Purpose::extract:
      return brew::Aim::bacterial;
  }
  throw BrokenPromise("a purpose nobody knows");
}

double area_of_m2(const DesignAsk& ask, double volume_l) {
  if (ask.beds.empty()) return volume_l / ask.rate_l_per_ha * m2_per_ha;
  return std::accumulate(ask.beds.begin(), ask.beds.end(), 0.0,
                         [](double sum, const TreatedBed& bed) { return sum + bed.area_m2; });
}

double volume_of_l(const DesignAsk& ask) {
  if (!std::isnan(ask.volume_l)) return ask.volume_l;
  const double needed_l = area_of_m2(ask, 0.0) * ask.rate_l_per_ha / m2_per_ha;
  // Rounded as it will be measured, but up: the last bed is not left dry.
  constexpr double furthest = 1.1, step = 1.002;
  const Choosable water{.measure = Dimension::volume};
  for (double factor = 1.0; factor < furthest; factor *= step) {
    if (const double l = measurable(water, needed_l * factor, ask.customs); l >= needed_l) return l;
  }
  return needed_l;
}

std::optional<Draft> draft(const DesignAsk& ask, const Knowledge& knowledge, Findings& findings) {
  Draft draft{.ask = ask, .knowledge = &knowledge};
  check_own(ask, findings);
  if (findings.refused()) {  // tell what else is wrong with them
    const OwnedVessel some{.name = {}, .capacity_l = 20.0, .diameter_m = 0.28};
    check(plain_ask(ask, some.capacity_l, ask.vessels.empty() ? some : ask.vessels.front()), knowledge, findings);
    for (std::size_t i = 0; i < ask.foods.size(); ++i) find_food(knowledge, ask.foods[i], i, findings);
    return std::nullopt;
  }
  choose_vessel(draft, volume_of_l(ask), findings);
  if (draft.vessel.empty()) return std::nullopt;
  take_composts(draft, findings);
  // What nobody said counts against.
  const bool may_hold_animal_origin = std::any_of(ask.composts.begin(), ask.composts.end(), [](const CompostLot& lot) {
    return lot.is_animal_origin.value_or(true);
  });
  draft.food_is_kept_out = ask.purpose == Purpose::extract || (ask.crop_is_covered_produce && may_hold_animal_origin);
  for (std::size_t i = 0; i < ask.foods.size() && !draft.food_is_kept_out; ++i) take_food(draft, i, findings);
  draft.timetables = timetables(ask);
  if (draft.timetables.empty())
    for (Remark& why : no_time(ask)) findings.refuse(std::move(why));
  if (findings.refused()) return std::nullopt;
  return draft;
}

}  // namespace barm::recipe
