#include "recipe/substitute.h"

#include <algorithm>
#include <cmath>
#include <tuple>

#include "recipe/designing.h"
#include "recipe/lines.h"

namespace barm::recipe {
namespace {

constexpr double mg_per_g = 1000.0;
constexpr std::size_t forecast_most = 6;  // judged: the seventh likest is not like it
constexpr double unlike = 0.5;            // judged: half of what the food brings

Purpose purpose_of(Aim aim) {
  return aim == Aim::bacterial ? Purpose::bacterial : aim == Aim::fungal ? Purpose::fungal : Purpose::balanced;
}

std::map<std::string, Remark::Fact> two_named(const food::Food& missing, const food::Food& other) {
  auto facts = named(other);
  facts["missing"] = missing.names.front();
  facts["missing_es"] = missing.spanish;
  return facts;
}

/// Everything that stays the same from one candidate to the next.
class Exchange {
 public:
  Exchange(PlanAsk ask, Brewing brewing, std::size_t row, const Knowledge& knowledge, const brew::Parallel& parallel)
      : ask_(std::move(ask)), brewing_(std::move(brewing)), row_(row), knowledge_(knowledge), parallel_(parallel) {}

  const food::Food& missing() const { return *brewing_.foods[row_].food; }
  Brings brought() const { return brings(missing(), brewing_.foods[row_].mass_g, brewing_.ask.volume_l); }

  PlanAsk ask_without() const {
    PlanAsk ask = ask_;
    ask.foods.erase(ask.foods.begin() + static_cast<std::ptrdiff_t>(row_));
    return ask;
  }

  /// Another food in its place, not forecast yet; nothing when so much cannot be measured out.
  std::optional<Substitute> put(const food::Food& food) const {
    const double eaten_share = food.cod_g_per_g * (food.readily_share + food.slowly_share);
    const bool is_itself = &food == &missing();
    if (!(eaten_share > 0.0) && !is_itself) return std::nullopt;
    const FoodPortion& gone = brewing_.foods[row_];
    const double wanted_g =
        is_itself ? gone.mass_g : brought().eaten_mg_per_l() / mg_per_g * brewing_.ask.volume_l / eaten_share;
    const auto held = std::find_if(brewing_.foods.begin(), brewing_.foods.end(),
                                   [&](const FoodPortion& portion) { return portion.food == &food; });
    const bool is_held = held != brewing_.foods.end();
    Choosable what{.food = &food, .measure = food.is_liquid ? Dimension::volume : Dimension::mass};
    if (is_held) what.measure = held->measured.dimension;
    what.g_per_measure = what.measure == Dimension::volume ? food.density_g_per_ml * 1000.0 : 1.0;
    const double held_g = is_held && !is_itself ? held->mass_g : 0.0;
    const double amount = measurable(what, (wanted_g + held_g) / what.g_per_measure, brewing_.ask.customs);
    const double put_g = amount * what.g_per_measure - held_g;
    if (!(put_g > 0.0) || amount * what.g_per_measure > lines::food_most_g_per_l * brewing_.ask.volume_l)
      return std::nullopt;

    Substitute found{.food = &food, .part = part_of(food, knowledge_.priors)};
    found.adds_to_what_is_in = is_held && !is_itself;
    found.brings = brings(food, put_g, brewing_.ask.volume_l);
    found.misfit = misfit(brought(), found.brings, knowledge_.priors);
    found.coming.plan.ask = found.adds_to_what_is_in ? ask_without() : ask_;
    auto& rows = found.coming.plan.ask.foods;
    auto row = static_cast<std::size_t>(is_held ? held - brewing_.foods.begin() : static_cast<std::ptrdiff_t>(row_));
    if (found.adds_to_what_is_in && row > row_) --row;
    if (!is_held) rows[row].name = food.names.front();
    rows[row].amount = {{amount, what.measure}};
    return found;
  }

  /// What a plan comes to, forecast.
  Answer<Coming> come(const PlanAsk& ask, double yield_was) const {
    auto planned = plan_brew(ask, knowledge_, parallel_);
    if (!planned.ok()) return Answer<Coming>::refused(planned.refusals());
    Findings none;
    const auto brewing = check(planned->ask, knowledge_, none);
    expects(brewing.has_value(), "what was planned can be checked again");
    const Contents in = contents(*brewing);
    Coming coming{.plan = std::move(planned.value())};
    coming.ready_mg_per_l = in.ready_cod_g_per_l * mg_per_g;
    coming.covered_mg_per_l = in.nitrogen_mg_per_l / nitrogen_of_cells(knowledge_.priors);
    double cod_g = 0.0, nitrogen_g = 0.0;
    for (const FoodPortion& portion : brewing->foods) {
      cod_g += portion.mass_g * portion.food->cod_g_per_g;
      nitrogen_g += portion.mass_g * portion.food->nitrogen_share;
    }
    coming.carbon_to_nitrogen = carbon_to_nitrogen(cod_g, nitrogen_g);
    coming.yield = yield_of_plan(purpose_of(ask.aim), coming.plan);
    coming.yield_share = std::isnan(yield_was) ? 1.0 : coming.yield / yield_was;
    return coming;
  }

 private:
  PlanAsk ask_;
  Brewing brewing_;  // the same, in amounts as they are measured out
  std::size_t row_;
  const Knowledge& knowledge_;
  const brew::Parallel& parallel_;
};

/// What is for foam or colour is offered only in place of its like; who has nothing else can name it.
bool may_offer(const food::Food& food, const food::Food& missing, const brew::Priors& priors) {
  const Part part = part_of(food, priors);
  return part == part_of(missing, priors) || (part != Part::surface && part != Part::colour);
}

/// The foods to choose from, in the order they stand in; refusals of those nobody knows.
std::vector<const food::Food*> on_hand(const SubstituteAsk& wanted, const food::Food* missing,
                                       const Knowledge& knowledge, Findings& findings) {
  std::vector<const food::Food*> all;
  if (wanted.with.empty()) {
    for (const food::Food& food : knowledge.foods.foods())
      if (missing != nullptr && &food != missing && may_offer(food, *missing, knowledge.priors)) all.push_back(&food);
    return all;
  }
  for (const std::string& name : wanted.with) {
    const auto found = knowledge.foods.find(name);
    for (Remark why : found.refusals()) {
      why.field = "with";
      findings.refuse(std::move(why));
    }
    if (found.ok() && std::find(all.begin(), all.end(), *found) == all.end()) all.push_back(*found);
  }
  return all;
}

/// What changes for people who touch or eat it, what it is in the brew for, and which warnings are new.
Remarks sentences(const Substitute& one, const food::Food& missing, Part part, const BrewPlan& was) {
  Remarks all;
  if (one.food == &missing) return all;
  const auto &had = missing.allergens, &has = one.food->allergens;
  const auto each = [&](const auto& from, const auto& but, const std::string& code) {
    for (const std::string& allergen : from)
      if (std::find(but.begin(), but.end(), allergen) == but.end())
        all.push_back({code + allergen, "", two_named(missing, *one.food)});
  };
  each(has, had, "recipe.substitute.brings_");
  each(had, has, "recipe.substitute.no_longer_");
  if (one.food->is_animal_origin && !missing.is_animal_origin)
    all.push_back({"recipe.substitute.animal_origin", "", two_named(missing, *one.food)});
  if (!one.food->is_animal_origin && missing.is_animal_origin)
    all.push_back({"recipe.substitute.no_animal_origin", "", two_named(missing, *one.food)});
  if (one.part != part) all.push_back({"recipe.substitute.other_part", "", two_named(missing, *one.food)});
  if (one.misfit > unlike) all.push_back({"recipe.substitute.unlike", "", two_named(missing, *one.food)});
  for (const Remark& warning : one.coming.plan.warnings) {
    const bool is_new = std::none_of(was.warnings.begin(), was.warnings.end(),
                                     [&](const Remark& before) { return before.code == warning.code; });
    if (is_new) all.push_back(warning);
  }
  return all;
}

AmountLine line_of(const Substitute& one) {
  for (const AmountLine& line : one.coming.plan.amounts)
    if (line.id == "food." + one.food->id) return line;
  throw BrokenPromise("a plan lists the food it holds");
}

/// Where the missing food stands; nothing, and a refusal, when it does not.
std::optional<std::size_t> row_of(const Brewing& brewing, const SubstituteAsk& wanted, const Knowledge& knowledge,
                                  Findings& findings) {
  const auto found = knowledge.foods.find(wanted.instead_of);
  for (Remark why : found.refusals()) {
    why.field = "instead_of";
    findings.refuse(std::move(why));
  }
  if (!found.ok()) return std::nullopt;
  for (std::size_t i = 0; i < brewing.foods.size(); ++i)
    if (brewing.foods[i].food == *found) return i;
  findings.refuse({"recipe.substitute.not_in_plan", "instead_of", named(**found)});
  return std::nullopt;
}

}  // namespace

Answer<Substituted> substitute(PlanAsk ask, const SubstituteAsk& wanted, const Knowledge& knowledge,
                               const brew::Parallel& parallel) {
  ask.wants_mends = false;  // of many plans, and none is told
  Findings findings;
  auto brewing = check(ask, knowledge, findings);
  if (!brewing) return std::move(findings).refusal<Substituted>();
  measure_out(*brewing, findings);
  const auto row = row_of(*brewing, wanted, knowledge, findings);
  const food::Food* missing = row ? brewing->foods[*row].food : nullptr;
  const auto foods = on_hand(wanted, missing, knowledge, findings);
  if (findings.refused() || missing == nullptr) return std::move(findings).refusal<Substituted>();

  const Exchange exchange(ask, *brewing, *row, knowledge, parallel);
  Substituted all{.instead_of = missing, .part = part_of(*missing, knowledge.priors), .brought = exchange.brought()};
  for (const food::Food* food : foods)
    if (auto found = exchange.put(*food)) all.candidates.push_back(std::move(*found));
  const auto place = [&](const Substitute& one) { return std::tuple(one.part != all.part, one.misfit); };
  std::stable_sort(all.candidates.begin(), all.candidates.end(),
                   [&](const auto& a, const auto& b) { return place(a) < place(b); });
  if (all.candidates.size() > forecast_most) all.candidates.resize(forecast_most);

  auto was = findings.take(exchange.come(ask, unset));
  if (!was) return std::move(findings).refusal<Substituted>();
  all.was = std::move(*was);
  all.without = exchange.come(exchange.ask_without(), all.was.yield).value();
  for (Substitute& one : all.candidates)
    if (auto coming = exchange.come(one.coming.plan.ask, all.was.yield); coming.ok()) {
      one.coming = *coming;
      one.amount = line_of(one);
      one.sentences = sentences(one, *missing, all.part, all.was.plan);
    }
  std::erase_if(all.candidates, [](const Substitute& one) { return std::isnan(one.coming.yield); });
  if (all.candidates.empty()) {
    findings.refuse({"recipe.substitute.none", "with", named(*missing)});
    return std::move(findings).refusal<Substituted>();
  }
  // One that makes a plan fail which held is no help, however like it is.
  std::stable_sort(all.candidates.begin(), all.candidates.end(), [&](const auto& a, const auto& b) {
    const auto worse = [&](const Substitute& one) { return one.coming.plan.verdict > all.was.plan.verdict; };
    return worse(a) < worse(b);
  });
  all.notes = {{"recipe.substitute.not_known", "", named(*missing)}};
  if (all.part == Part::colour || all.part == Part::surface)
    all.notes.push_back({all.part == Part::colour ? "recipe.substitute.of_colour" : "recipe.substitute.of_surface", "",
                         named(*missing)});
  return std::move(findings).answer(std::move(all));
}

}  // namespace barm::recipe
