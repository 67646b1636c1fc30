#include "recipe/design.h"

#include <algorithm>
#include <cmath>
#include <tuple>

#include "recipe/lines.h"
#include "recipe/tryouts.h"

namespace barm::recipe {
namespace {

constexpr double ms_per_h = 3'600'000.0;
constexpr double yield_least_share = 0.5;  // judged: an alternative still does half of what the best does
constexpr double as_good_ln = 0.003;       // judged: below what any count could show; then the cheaper is better
constexpr std::size_t proofs_most = 12;

/// Whether the whole forecast keeps what the search found.
bool keeps(const Draft& draft, const BrewPlan& plan) {
  const brew::Forecast& f = plan.forecast;
  const double length_h = plan.ask.length_h;
  const bool is_ready = draft.ask.purpose == Purpose::extract ||
                        (f.ready.exists && f.ready.from_h <= length_h && length_h <= f.ready.to_h);
  return is_ready && f.probability_oxygen_stays_above_6 >= draft.ask.tolerance &&
         f.probability_oxygen_below_2 <= lines::below_2_most;
}

/// Fewer things to measure out, then the cheaper, then the lighter.
bool is_plainer(const Pick& one, const Pick& other) {
  const auto things = [](const Pick& pick) {
    return std::count_if(pick.tried->mix.amounts.begin(), pick.tried->mix.amounts.end(),
                         [](double x) { return x > 0.0; });
  };
  return std::tuple(things(one), one.tried->stuff_cost, one.tried->stuff_g) <
         std::tuple(things(other), other.tried->stuff_cost, other.tried->stuff_g);
}

/// The best first; those that are as good as the best are put by how plain they are.
std::vector<Pick> candidates(const Tryouts& tryouts, const Want& want) {
  std::vector<Pick> ranked = tryouts.ranked(want);
  if (ranked.empty()) return ranked;
  const double best = tryouts.merit(ranked.front(), want);
  const auto worse = std::find_if(ranked.begin(), ranked.end(),
                                  [&](const Pick& p) { return tryouts.merit(p, want) < best - as_good_ln; });
  std::stable_sort(ranked.begin(), worse, is_plainer);
  return ranked;
}

/// Nothing has to bloom in an extract.
bool is_about_blooming(const Remark& warning) {
  return warning.code == "recipe.warning.never_ready" || warning.code == "recipe.warning.not_ready_yet";
}

struct Proven {
  Design design;
  Pick pick;
};

/// The first candidate whose plan keeps every line.
std::optional<Proven> prove(const Tryouts& tryouts, const Want& want) {
  const Draft& draft = tryouts.draft();
  std::size_t proofs = 0;
  for (const Pick& pick : candidates(tryouts, want)) {
    if (++proofs > proofs_most) break;
    auto plan =
        plan_brew(plan_ask(draft, pick.tried->mix, pick.told().slot), *draft.knowledge, tryouts.help().parallel);
    expects(plan.ok(), "a mix that could be forecast can be planned");
    if (!keeps(draft, *plan)) continue;
    Design design{.role = want.role, .plan = *plan};
    design.yield = yield_of_plan(draft.ask.purpose, design.plan);
    design.finish_at = design.plan.ask.start_at + std::llround(design.plan.ask.length_h * ms_per_h);
    double foods = 0.0, compost = 0.0;
    for (std::size_t i = 0; i < draft.shelf.size(); ++i) {
      const Choosable& what = draft.shelf[i];
      (what.kind != nullptr ? compost : foods) += pick.tried->mix.amounts[i] * what.g_per_measure * what.cost_per_g;
    }
    design.cost = batch_cost({.foods = foods,
                              .compost = compost,
                              .volume_l = design.plan.ask.volume_l,
                              .length_h = design.plan.ask.length_h,
                              .rate_l_per_ha = draft.ask.rate_l_per_ha},
                             draft.ask.tariffs);
    design.reasons = reasons(draft, *pick.tried, design);
    if (draft.ask.purpose == Purpose::extract) {  // it waits for no bloom
      std::erase_if(design.plan.warnings, is_about_blooming);
      design.plan.forecast.ready = {};
    }
    return Proven{std::move(design), pick};
  }
  return std::nullopt;
}

/// The others, each unlike all before it.
void add_alternatives(Tryouts& tryouts, const Want& best, const Proven& first, DesignAnswer& answer) {
  std::vector<Pick> unlike = {first.pick};
  for (const Role role : {Role::cheapest, Role::least_risk}) {
    Want want = best;
    want.role = role;
    want.yield_least = yield_least_share * first.pick.told().yield;
    want.unlike = unlike;
    search(tryouts, want, effort_for(tryouts.draft().shelf.size(), role));
    if (tryouts.is_stopped()) return;
    auto found = prove(tryouts, want);
    if (!found) continue;
    found->design.yield_share = found->design.yield / first.design.yield;
    unlike.push_back(found->pick);
    answer.designs.push_back(std::move(found->design));
  }
}

std::vector<Bargain> bargains(const Tryouts& tryouts, const Want& best, double yield) {
  std::vector<Bargain> all;
  for (const double tolerance : {0.95, 0.90, 0.80, 0.70, 0.60}) {
    Want want = best;
    want.tolerance = tolerance;
    const auto ranked = tryouts.ranked(want);
    if (!ranked.empty()) all.push_back({tolerance, ranked.front().told().yield / yield});
  }
  return all;
}

int expected_forecasts(std::size_t choosable_count) {
  int sum = 0;
  for (const Role role : {Role::best, Role::cheapest, Role::least_risk}) {
    const Effort effort = effort_for(choosable_count, role);
    sum += effort.everywhere + effort.nearby + effort.kitchen;
  }
  return sum;
}

Answer<DesignAnswer> stopped() {
  return Answer<DesignAnswer>::refused({{"recipe.design.stopped", "", {}}});
}

}  // namespace

Answer<DesignAnswer> design_brew(const DesignAsk& ask, const Knowledge& knowledge, const DesignHelp& help) {
  Findings findings;
  const auto drafted = draft(ask, knowledge, findings);
  if (!drafted) return std::move(findings).refusal<DesignAnswer>();

  Tryouts first_tryouts(*drafted, help, expected_forecasts(drafted->shelf.size()));
  const Want want{.role = Role::best, .tolerance = ask.tolerance};
  search(first_tryouts, want, effort_for(drafted->shelf.size(), Role::best));
  if (first_tryouts.is_stopped()) return stopped();
  auto best = prove(first_tryouts, want);
  // What keeps its oxygen may lie where little grows and the search for the most life did not look.
  Tryouts other_tryouts(*drafted, help, expected_forecasts(drafted->shelf.size()));
  Tryouts& tryouts = best ? first_tryouts : other_tryouts;
  if (!best) {
    search_ready(other_tryouts);
    if (other_tryouts.is_stopped()) return stopped();
    best = prove(other_tryouts, want);
  }
  if (!best) return Answer<DesignAnswer>::refused(impossible(other_tryouts));

  DesignAnswer answer;
  answer.vessel = drafted->vessel;
  answer.area_m2 = area_of_m2(ask, drafted->brewing.ask.volume_l);
  answer.designs.push_back(best->design);
  add_alternatives(tryouts, want, *best, answer);
  if (tryouts.is_stopped()) return stopped();
  answer.bargains = bargains(tryouts, want, best->pick.told().yield);
  answer.tried_count = tryouts.tried_count();
  answer.notes = notes_of(*drafted, answer);
  if (help.progress) help.progress(1.0);
  return answer;
}

}  // namespace barm::recipe
