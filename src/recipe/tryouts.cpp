#include "recipe/tryouts.h"

#include <algorithm>
#include <cmath>

#include "recipe/lines.h"

namespace barm::recipe {
namespace {

constexpr double a_miss_weighs = 30.0;  // judged: a hundredth past a line costs more than any mix gains by it
constexpr double unlike_share = 0.25, unlike_h = 2.0;  // judged: what a grower would call another brew

std::vector<Pick> best_first(std::vector<std::pair<double, Pick>> all) {
  std::stable_sort(all.begin(), all.end(), [](const auto& a, const auto& b) { return a.first > b.first; });
  std::vector<Pick> picks;
  for (const auto& [figure, pick] : all) picks.push_back(pick);
  return picks;
}

}  // namespace

double unlikeness(const Pick& one, const Pick& other) {
  double most = std::abs(one.told().slot.length_h - other.told().slot.length_h) / unlike_h;
  const auto& a = one.tried->mix.amounts;
  const auto& b = other.tried->mix.amounts;
  for (std::size_t i = 0; i < a.size(); ++i)
    if (const double larger = std::max(a[i], b[i]); larger > 0.0)
      most = std::max(most, std::abs(a[i] - b[i]) / larger / unlike_share);
  return most;
}

const Tried& Tryouts::of(const Mix& mix, bool is_measurable) {
  const auto known = tried_.find(mix);
  if (known != tried_.end()) return known->second;
  is_stopped_ = is_stopped_ || (help_.should_stop && help_.should_stop());
  Tried tried{.mix = mix};
  if (!is_stopped_) tried = try_out(draft_, mix, help_.parallel);
  if (!tried.outcomes.empty()) {
    ++tried_count_;
    if (help_.progress) help_.progress(std::min(1.0, static_cast<double>(tried_count_) / expected_count_));
  }
  tried.is_measurable = is_measurable;
  return tried_.emplace(mix, std::move(tried)).first->second;
}

double Tryouts::below_6(const Outcome& told, double tolerance) const {
  if (told.stays_above_6 >= tolerance) return 0.0;
  if (tolerance != draft_.ask.tolerance) return tolerance - told.stays_above_6;
  constexpr double line_mg_per_l = 6.0;
  return (line_mg_per_l - told.edge_mg_per_l) / line_mg_per_l;
}

double Tryouts::missing(const Pick& pick, const Want& want) const {
  const Outcome& told = pick.told();
  double missing = pick.tried->uses.excess();
  if (want.oxygen_counts) missing += below_6(told, want.tolerance) + std::max(0.0, told.below_2 - lines::below_2_most);
  if (want.window_counts) missing += told.off_window;
  if (want.yield_least > 0.0) missing += std::max(0.0, std::log(want.yield_least / std::max(told.yield, 1e-12)));
  for (const Pick& other : want.unlike) missing += std::max(0.0, 1.0 - unlikeness(pick, other));
  return missing;
}

double Tryouts::merit(const Pick& pick, const Want& want) const {
  switch (want.role) {
    case Role::best:
      return std::log(std::max(pick.told().yield, 1e-12));
    case Role::least_risk:
      return pick.told().lowest_mg_per_l;
    case Role::cheapest: {
      const Tariffs& tariffs = draft_.ask.tariffs;
      const BatchCost cost = batch_cost({.foods = pick.tried->stuff_cost,
                                         .volume_l = draft_.brewing.ask.volume_l,
                                         .length_h = pick.told().slot.length_h,
                                         .rate_l_per_ha = draft_.ask.rate_l_per_ha},
                                        tariffs);
      const double paid = pick.tried->stuff_cost + cost.electricity;
      // Where nothing is priced, the least stuff; it also decides between equal costs.
      constexpr double a_kilogram_weighs = 1e-6;
      return -std::log(paid + a_kilogram_weighs * pick.tried->stuff_g / 1000.0);
    }
  }
  throw BrokenPromise("a role nobody knows");
}

double Tryouts::score(const Pick& pick, const Want& want) const {
  return merit(pick, want) - a_miss_weighs * missing(pick, want);
}

std::optional<Pick> Tryouts::best_length(const Tried& tried, const Want& want) const {
  std::optional<Pick> best;
  double most = 0.0;
  for (std::size_t i = 0; i < tried.outcomes.size(); ++i) {
    const Pick pick{&tried, i};
    const double now = score(pick, want);
    if (best && now <= most) continue;
    best = pick;
    most = now;
  }
  return best;
}

std::vector<Pick> Tryouts::ranked(const Want& want) const {
  std::vector<std::pair<double, Pick>> all;
  for (const auto& [mix, tried] : tried_)
    for (std::size_t i = 0; i < tried.outcomes.size() && tried.is_measurable; ++i) {
      const Pick pick{&tried, i};
      if (missing(pick, want) <= 0.0) all.emplace_back(merit(pick, want), pick);
    }
  return best_first(std::move(all));
}

std::vector<Pick> Tryouts::by_score(const Want& want) const {
  std::vector<std::pair<double, Pick>> all;
  for (const auto& [mix, tried] : tried_) {
    if (!tried.is_measurable || want.branch == (tried.has_food ? Branch::plain : Branch::fed)) continue;
    if (const auto pick = best_length(tried, want)) all.emplace_back(score(*pick, want), *pick);
  }
  return best_first(std::move(all));
}

std::optional<Pick> Tryouts::nearest_of(const Mix& foods, const Want& want) const {
  for (const Pick& pick : by_score(want)) {
    const auto& amounts = pick.tried->mix.amounts;
    bool same = true;
    for (std::size_t i = 0; i < amounts.size(); ++i)
      same = same && (draft_.shelf[i].food == nullptr || (amounts[i] > 0.0) == (foods.amounts[i] > 0.0));
    if (same) return pick;
  }
  return std::nullopt;
}

std::optional<Pick> Tryouts::nearest(const Want& want) const {
  const auto all = by_score(want);
  return all.empty() ? std::nullopt : std::optional(all.front());
}

}  // namespace barm::recipe
