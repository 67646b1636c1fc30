#include "recipe/trial.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "recipe/lines.h"

namespace barm::recipe {
namespace {

// Forecasts for mends are small so that a plan stays quick; the draws are those of the seed, the same for every trial.
constexpr int members_count = 64;
constexpr double output_step_h = 1.0;
constexpr int halvings_count = 3;

constexpr double slow_food_weight = 0.3;  // judged: of slowly biodegradable food, about a third is eaten in a day
constexpr double coolest_c = lines::water_cool_c;
constexpr double shortest_h = 6.0;  // judged: below, nothing has grown
constexpr std::array air_factors = {1.5, 2.0, 3.0, 4.0};
constexpr std::array cooler_by_c = {2.0, 4.0, 6.0, 8.0};

Quantity litres_per_hour(double value) {
  return {value, Dimension::flow};
}

/// As the person writes it in the plan; four digits, so that a change tried is the change made.
std::string written(const Workbench& bench, Quantity quantity) {
  return write(quantity, bench.brewing().ask.customs, 4);
}

double coldest_room_c(const PlanAsk& ask) {
  return ask.room_day.is_told() ? ask.room_day.coldest_c() : ask.room_temperature_c;
}

std::vector<Change> room_written(const Workbench& bench, const PlanAsk& ask) {
  const auto one = [&](double room_c) { return written(bench, {room_c, Dimension::temperature}); };
  const RoomDay& day = ask.room_day;
  if (day.is_of_two) return {{"room.temperature", one(day.warmest_c())}, {"room.night", one(day.coldest_c())}};
  if (!day.is_told()) return {{"room.temperature", one(ask.room_temperature_c)}};
  Change change{"room.by_hour", {}};
  for (const double hour_c : day.by_hour_c) change.value += (change.value.empty() ? "" : ",") + one(hour_c);
  return {change};
}

/// The food that pulls most oxygen; none when there is no food.
const FoodPortion* strongest(const Brewing& brewing) {
  const auto pull = [](const FoodPortion& portion) {
    const food::Food& food = *portion.food;
    return portion.mass_g * food.cod_g_per_g * (food.readily_share + slow_food_weight * food.slowly_share);
  };
  const auto most = std::max_element(brewing.foods.begin(), brewing.foods.end(),
                                     [&](const auto& a, const auto& b) { return pull(a) < pull(b); });
  return most == brewing.foods.end() ? nullptr : &*most;
}

/// The brew with that share of one food, in kitchen measures, and a pump `air_factor` times as strong.
std::optional<Trial> try_food(const Workbench& bench, const FoodPortion& food, double scale, double air_factor) {
  Brewing changed = bench.brewing();
  const auto which = static_cast<std::size_t>(&food - bench.brewing().foods.data());
  const std::string row = "food[" + std::to_string(which + 1) + "]";
  Trial trial{.odds = {}, .facts = named(*food.food), .goal = bench.goal()};
  trial.facts["from"] = food.measured;
  const Quantity wanted{food.measured.value * scale, food.measured.dimension};
  const auto rounded = round_for_kitchen(wanted, changed.ask.customs, spoon_density(*food.food));
  const bool is_some = scale > 0.0 && rounded.ok();
  if (is_some && rounded->rounded.value >= food.measured.value) return std::nullopt;
  if (is_some) {
    FoodPortion& less = changed.foods[which];
    less.mass_g *= rounded->rounded.value / less.measured.value;
    less.measured = rounded->rounded;
    trial.facts["to"] = rounded->rounded;
    trial.changes = {{row + ".amount", rounded->text}};
  } else {
    changed.foods.erase(changed.foods.begin() + static_cast<std::ptrdiff_t>(which));
    trial.facts["to"] = Quantity{0.0, food.measured.dimension};
    trial.changes = {{row, ""}};
  }
  const auto odds = bench.forecast(changed, air_factor);
  if (!odds) return std::nullopt;
  trial.odds = *odds;
  return trial;
}

/// The smallest step that is enough, found by halving; the largest that can be tried at all when none is.
template <std::size_t count, class Try>
std::optional<Trial> smallest_step(const std::array<double, count>& steps, Try attempt) {
  std::optional<Trial> best;
  std::size_t from = 0, to = count;                     // the smallest step that mends lies in [from, to]
  while (to > 0 && !best) best = attempt(steps[--to]);  // the largest step that can be tried at all
  if (!best || !best->is_enough()) return best;
  while (from < to) {
    const std::size_t middle = (from + to) / 2;
    auto trial = attempt(steps[middle]);
    if (trial && trial->is_enough()) {
      to = middle;
      best = std::move(trial);
    } else {
      from = middle + 1;
    }
  }
  return best;
}

std::optional<Trial> try_length(const Workbench& bench, double length_h) {
  Brewing changed = bench.brewing();
  changed.ask.length_h = length_h;
  const auto odds = bench.forecast(changed);
  if (!odds) return std::nullopt;
  return Trial{*odds,
               {{"from", Quantity{bench.brewing().ask.length_h, Dimension::duration}},
                {"to", Quantity{length_h, Dimension::duration}}},
               bench.goal(),
               {{"brew.length", written(bench, {length_h, Dimension::duration})}}};
}

}  // namespace

std::optional<Odds> Workbench::forecast(const Brewing& changed, double air_factor) const {
  double food_g = 0.0;
  for (const FoodPortion& portion : changed.foods) food_g += portion.mass_g;
  const Change change{changed.ask.length_h, changed.ask.water_temperature_c, food_g, air_factor};
  const auto known = known_.find(change);
  if (known != known_.end()) return known->second;
  return known_[change] = forecast_anew(changed, air_factor);
}

std::optional<Odds> Workbench::forecast_anew(const Brewing& changed, double air_factor) const {
  const auto aeration = aerate(changed, air_factor);
  if (!aeration.ok() || aeration->air.vvm > lines::air_most_vvm) return std::nullopt;
  brew::Setup setup = set_up(changed, *aeration);
  setup.horizon_h = setup.length_h;
  const brew::EnsembleOptions options{.members_count = std::min(members_count, changed.ask.members_count),
                                      .seed = changed.ask.seed,
                                      .output_step_h = output_step_h};
  const auto made = forecaster_(setup, knowledge_.priors, options);
  if (!made.ok()) return std::nullopt;
  return odds(*made, setup.length_h);
}

bool Trial::is_enough() const {
  return goal == Goal::every_line ? shortfall(odds) <= 0.0 : odds.below_2 <= lines::below_2_most;
}

std::optional<Trial> less_food(const Workbench& bench, double air_factor) {
  const FoodPortion* food = strongest(bench.brewing());
  if (food == nullptr) return std::nullopt;
  auto best = try_food(bench, *food, 0.0, air_factor);
  if (!best || !best->is_enough()) return best;
  double enough = 0.0, too_much = 1.0;
  for (int i = 0; i < halvings_count; ++i) {
    const double scale = (enough + too_much) / 2.0;
    auto trial = try_food(bench, *food, scale, air_factor);
    if (trial && trial->is_enough()) {
      enough = scale;
      best = std::move(trial);
    } else {
      too_much = scale;
    }
  }
  return best;
}

bool leaves_food_out(const Trial& trial) {
  const auto to = trial.facts.find("to");
  return to != trial.facts.end() && std::get<Quantity>(to->second).value <= 0.0;
}

std::optional<Trial> together(const Workbench& bench) {
  std::optional<Trial> best;
  for (const double factor : {2.0, 4.0}) {
    auto trial = less_food(bench, factor);
    if (!trial) return best;
    const double rating_l_per_h = bench.brewing().ask.air.rated_flow_l_per_h;
    trial->facts["air_from"] = litres_per_hour(rating_l_per_h);
    trial->facts["air_to"] = litres_per_hour(rating_l_per_h * factor);
    trial->changes.push_back({"air.rated_flow", written(bench, litres_per_hour(rating_l_per_h * factor))});
    if (trial->is_enough()) return trial;
    best = std::move(trial);
  }
  return best;
}

std::optional<Trial> more_air(const Workbench& bench) {
  const double rating_l_per_h = bench.brewing().ask.air.rated_flow_l_per_h;
  return smallest_step(air_factors, [&](double factor) -> std::optional<Trial> {
    const auto odds = bench.forecast(bench.brewing(), factor);
    if (!odds) return std::nullopt;
    return Trial{*odds,
                 {{"from", litres_per_hour(rating_l_per_h)}, {"to", litres_per_hour(rating_l_per_h * factor)}},
                 bench.goal(),
                 {{"air.rated_flow", written(bench, litres_per_hour(rating_l_per_h * factor))}}};
  });
}

std::optional<Trial> cooler(const Workbench& bench) {
  const PlanAsk& ask = bench.brewing().ask;
  return smallest_step(cooler_by_c, [&](double by_c) -> std::optional<Trial> {
    Brewing changed = bench.brewing();
    changed.ask.water_temperature_c -= by_c;
    changed.ask.warm_room(-by_c);
    if (changed.ask.water_temperature_c < coolest_c || coldest_room_c(changed.ask) < coolest_c) return std::nullopt;
    const auto odds = bench.forecast(changed);
    if (!odds) return std::nullopt;
    std::vector<Change> changes = room_written(bench, changed.ask);
    changes.insert(changes.begin(),
                   {"water.temperature", written(bench, {changed.ask.water_temperature_c, Dimension::temperature})});
    return Trial{*odds,
                 {{"from", Quantity{ask.water_temperature_c, Dimension::temperature}},
                  {"to", Quantity{changed.ask.water_temperature_c, Dimension::temperature}},
                  {"room_from", Quantity{ask.room_meanwhile_c(), Dimension::temperature}},
                  {"room_to", Quantity{changed.ask.room_meanwhile_c(), Dimension::temperature}}},
                 bench.goal(),
                 std::move(changes)};
  });
}

std::optional<Trial> shorter(const Workbench& bench, const brew::ReadyWindow& ready) {
  double enough = ready.exists ? std::max(shortest_h, std::ceil(ready.from_h)) : shortest_h;
  double too_long = std::min(std::ceil(bench.brewing().ask.length_h), lines::length_usual_h + 1.0);
  if (enough >= too_long) return std::nullopt;
  auto best = try_length(bench, enough);
  if (!best || !best->is_enough()) return best;
  for (int i = 0; i < halvings_count && too_long - enough > 1.0; ++i) {
    const double length_h =
        i == 0 && too_long > lines::length_usual_h ? lines::length_usual_h : std::floor((enough + too_long) / 2.0);
    auto trial = try_length(bench, length_h);
    if (trial && trial->is_enough()) {
      enough = length_h;
      best = std::move(trial);
    } else {
      too_long = length_h;
    }
  }
  return best;
}

}  // namespace barm::recipe
