// Why a design is as it is: the line that holds it, and how far it lies from common practice.
#include <algorithm>
#include <array>
#include <cmath>

#include "recipe/designing.h"
#include "recipe/lines.h"

namespace barm::recipe {
namespace {

constexpr double nearly = 0.93;       // judged: one kitchen measure more would pass the line
constexpr double all_of_it = 0.99;    // judged: what is left of the stock is dust
constexpr double nearly_odds = 0.03;  // judged

// Common practice for 5 US gal (no source): 1.5 to 2 lb compost, 3 to 4 tbsp of the main food, a few teaspoons, taken
// as 2 to 4, of kelp and of fish.
constexpr double bucket_l = 18.927, practice_factor = 2.0;  // within a factor of two counts as common
constexpr double compost_low_g = 680.4 / bucket_l, compost_high_g = 907.2 / bucket_l;
constexpr double food_low_ml = 44.36 / bucket_l, food_high_ml = 59.15 / bucket_l;
constexpr double spoons_low_ml = 9.858 / bucket_l, spoons_high_ml = 19.72 / bucket_l;
constexpr std::array by_the_teaspoon = {"kelp_meal", "fish_hydrolysate"};

/// The lines that keep a design from more, the most telling first.
Remarks held_by(const Draft& draft, const Tried& tried, const BrewPlan& plan) {
  Remarks all;
  const double above_6 = plan.forecast.probability_oxygen_stays_above_6;
  if (above_6 <= draft.ask.tolerance + nearly_odds)
    all.push_back({"recipe.design.held.oxygen", "", {{"of_100", of_100(above_6)}}});
  if (tried.uses.sugar >= nearly)
    all.push_back({"recipe.design.held.sugar", "", {{"most", Quantity{lines::sugar_most_share, Dimension::share}}}});
  if (tried.uses.nitrogen >= nearly)
    all.push_back({"recipe.design.held.nitrogen",
                   "",
                   {{"nitrogen", Quantity{plan.nitrogen_mg_per_l, Dimension::concentration}}}});
  if (tried.uses.salt >= nearly) all.push_back({"recipe.design.held.salt", "", {}});
  if (tried.uses.food >= nearly) all.push_back({"recipe.design.held.food", "", {}});
  if (tried.uses.thick >= nearly) all.push_back({"recipe.design.held.thick", "", {}});
  for (std::size_t i = 0; i < draft.shelf.size(); ++i) {
    const Choosable& what = draft.shelf[i];
    if (!(tried.mix.amounts[i] >= all_of_it * what.stock)) continue;
    Remark remark{"recipe.design.held.stock", "", {}};
    if (what.kind != nullptr) {
      remark.facts = {{"food", what.kind->english}, {"food_es", what.kind->spanish}};
    } else {
      remark.facts = named(*what.food);
    }
    all.push_back(std::move(remark));
  }
  if (plan.ask.length_h >= longest_h(draft))
    all.push_back({"recipe.design.held.clock", "", {{"length", Quantity{plan.ask.length_h, Dimension::duration}}}});
  return all;
}

/// How much of one thing there is, by volume [mL/L].
double ml_per_l(const Draft& draft, const Mix& mix, std::size_t i) {
  const Choosable& what = draft.shelf[i];
  return mix.amounts[i] * what.g_per_measure / what.food->density_g_per_ml / draft.brewing.ask.volume_l;
}

/// The food there is most of, by volume [mL/L]; none when there is no food.
std::pair<const food::Food*, double> main_food(const Draft& draft, const Mix& mix) {
  std::pair<const food::Food*, double> most{nullptr, 0.0};
  for (std::size_t i = 0; i < draft.shelf.size(); ++i) {
    const Choosable& what = draft.shelf[i];
    if (what.food == nullptr) continue;
    const double ml = ml_per_l(draft, mix, i);
    if (ml > most.second) most = {what.food, ml};
  }
  return most;
}

/// A sentence for kelp or fish on the shelf that lies outside a factor of two of a few teaspoons.
void compare_spoons(const Draft& draft, const Tried& tried, Remarks& all) {
  for (std::size_t i = 0; i < draft.shelf.size(); ++i) {
    const food::Food* food = draft.shelf[i].food;
    if (food == nullptr || std::find(by_the_teaspoon.begin(), by_the_teaspoon.end(), food->id) == by_the_teaspoon.end())
      continue;
    const double ml = ml_per_l(draft, tried.mix, i);
    if (ml > spoons_high_ml * practice_factor) all.push_back({"recipe.design.practice.more_spoons", "", named(*food)});
    if (ml < spoons_low_ml / practice_factor)
      all.push_back(
          {ml > 0.0 ? "recipe.design.practice.fewer_spoons" : "recipe.design.practice.no_spoons", "", named(*food)});
  }
}

/// A sentence when an amount lies outside a factor of two of common practice.
void compare_with_practice(const Draft& draft, const Tried& tried, const Remarks& held, Remarks& all) {
  double compost_g = 0.0;
  for (std::size_t i = 0; i < draft.shelf.size(); ++i)
    if (draft.shelf[i].kind != nullptr) compost_g += tried.mix.amounts[i] / draft.brewing.ask.volume_l;
  const auto is_held_by = [&](const char* code) {
    return std::any_of(held.begin(), held.end(), [&](const Remark& r) { return r.code == code; });
  };
  const bool by_oxygen = is_held_by("recipe.design.held.oxygen");
  if (compost_g < compost_low_g / practice_factor)
    all.push_back(
        {by_oxygen ? "recipe.design.practice.less_compost_for_oxygen" : "recipe.design.practice.less_compost", "", {}});
  if (compost_g > compost_high_g * practice_factor) all.push_back({"recipe.design.practice.more_compost", "", {}});
  if (draft.food_is_kept_out) return;
  const auto [food, ml] = main_food(draft, tried.mix);
  if (ml > food_high_ml * practice_factor) all.push_back({"recipe.design.practice.more_food", "", named(*food)});
  if (ml >= food_low_ml / practice_factor) return;
  const char* why = by_oxygen                                   ? "recipe.design.practice.less_food_for_oxygen"
                    : is_held_by("recipe.design.held.sugar")    ? "recipe.design.practice.less_food_for_sugar"
                    : is_held_by("recipe.design.held.nitrogen") ? "recipe.design.practice.less_food_for_nitrogen"
                                                                : "recipe.design.practice.less_food";
  all.push_back({why, "", {}});
}

}  // namespace

Remarks reasons(const Draft& draft, const Tried& tried, const Design& design) {
  const Remarks held = held_by(draft, tried, design.plan);
  Remarks all = held;
  if (design.role == Role::best) {
    compare_with_practice(draft, tried, held, all);
    if (!draft.food_is_kept_out) compare_spoons(draft, tried, all);
  }
  return all;
}

Remarks notes_of(const Draft& draft, const DesignAnswer& answer) {
  Remarks notes;
  if (draft.ask.purpose == Purpose::extract) {
    notes.push_back({"recipe.design.note.extract", "", {}});
  } else if (draft.food_is_kept_out) {
    notes.push_back({"recipe.design.note.untreated_with_food", "", {}});
  } else if (draft.animal_food_is_kept_out) {
    notes.push_back({"recipe.design.note.no_animal_food", "", {}});
  }
  if (answer.designs.size() < 3) notes.push_back({"recipe.design.note.no_other", "", {}});
  notes.push_back({"recipe.design.note.yield_is_no_benefit", "", {}});
  return notes;
}

}  // namespace barm::recipe
