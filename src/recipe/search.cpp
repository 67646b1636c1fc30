// How the shelf is searched: everywhere in coarse steps, then nearby, then from one kitchen measure to the next.
#include <nlopt.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <memory>

#include "recipe/cube.h"
#include "recipe/tryouts.h"

namespace barm::recipe {
namespace {

constexpr double hopeless = -1e6;               // a mix too far past a line to be forecast; the further, the worse
constexpr std::size_t starts_most = 3;          // judged: different sets of foods followed up
constexpr double usual_compost_g_per_l = 35.0;  // practice: 1.5 to 2 lb in 5 US gal
constexpr double first_dose = 0.1;              // judged: of the most there may be
constexpr double worth_another = 0.005;  // judged: of the logarithm of the yield, for one more thing to measure out
constexpr int a_food_takes = 12;         // judged: forecasts to set its amount and the others'
constexpr double first_step = 0.1;       // judged
constexpr double coarse_step = 13.0 / 12.0, fine_step = 1.005;  // judged: from measure to measure; and to the very next
constexpr double far_enough = 0.002;                            // in the unit cube: nearer than any kitchen measure

/// What NLopt calls back.
struct Errand {
  Tryouts& tryouts;
  const Want& want;
  Cube cube;
  nlopt_opt optimiser = nullptr;
  int last_count = 0;  // forecasts after which this part has had its share
  bool in_measures = true;

  double value(const Mix& mix) const {
    const Tried& tried = tryouts.of(mix, in_measures);
    const auto pick = tryouts.best_length(tried, want);
    return pick ? tryouts.score(*pick, want) : hopeless * (1.0 + tried.uses.excess());
  }
  static double call(unsigned, const double* x, double*, void* self) {
    auto& errand = *static_cast<Errand*>(self);
    const double value = errand.value(errand.cube.mix_at(x, errand.in_measures));
    if (errand.tryouts.is_stopped() || errand.tryouts.tried_count() >= errand.last_count)
      nlopt_force_stop(errand.optimiser);
    return value;
  }
};

/// Where a stretch of NLopt came to.
std::vector<double> run(nlopt_algorithm algorithm, Errand& errand, int count, std::vector<double> from) {
  const auto size = static_cast<unsigned>(errand.cube.size());
  const std::unique_ptr<nlopt_opt_s, void (*)(nlopt_opt)> optimiser(nlopt_create(algorithm, size), &nlopt_destroy);
  errand.optimiser = optimiser.get();
  errand.last_count = errand.tryouts.tried_count() + count;
  constexpr int repeats_most = 4;  // mixes seen before cost nothing, but the search must end
  nlopt_set_lower_bounds1(optimiser.get(), 0.0);
  nlopt_set_upper_bounds1(optimiser.get(), 1.0);
  nlopt_set_initial_step1(optimiser.get(), first_step);
  nlopt_set_xtol_abs1(optimiser.get(), far_enough);
  nlopt_set_maxeval(optimiser.get(), count * repeats_most);
  nlopt_set_max_objective(optimiser.get(), &Errand::call, &errand);
  double best = 0.0;
  nlopt_optimize(optimiser.get(), from.data(), &best);  // what it tried stands among the tried
  return from;
}

/// From a mix along its own foods, in exact amounts, then back to the nearest measures.
void near(Tryouts& tryouts, const Want& want, const Mix& start, int count) {
  Errand errand{tryouts, want, Cube(tryouts.draft(), start)};
  errand.in_measures = false;
  const auto to = run(NLOPT_LN_SBPLX, errand, count, errand.cube.point_of(start));
  if (tryouts.is_stopped()) return;
  tryouts.of(errand.cube.mix_at(to.data(), true));
}

/// Compost of a usual brew [g/L of water], filled up lot by lot.
Mix plain_mix(const Draft& draft, double compost_g_per_l) {
  Mix plain{.amounts = std::vector<double>(draft.shelf.size(), 0.0)};
  double wanted_g = compost_g_per_l * draft.brewing.ask.volume_l;
  for (std::size_t i = 0; i < draft.shelf.size() && wanted_g > 0.0; ++i) {
    const Choosable& what = draft.shelf[i];
    if (what.kind == nullptr) continue;
    plain.amounts[i] = std::clamp(measurable(what, wanted_g, draft.ask.customs), what.least, what.most);
    wanted_g -= plain.amounts[i];
  }
  return plain;
}

/// Where brews without food usually lie.
void plant(Tryouts& tryouts) {
  for (const double compost_g_per_l : {15.0, 35.0, 70.0}) tryouts.of(plain_mix(tryouts.draft(), compost_g_per_l));
}

/// One food after the other, each time the one that helps most, with all amounts set anew.
void grow(Tryouts& tryouts, const Want& want, int count) {
  const Draft& draft = tryouts.draft();
  Mix here = plain_mix(draft, usual_compost_g_per_l);
  double best = -std::numeric_limits<double>::infinity();
  for (const int last_count = tryouts.tried_count() + count; tryouts.tried_count() < last_count;) {
    std::optional<Mix> next;
    for (std::size_t i = 0; i < draft.shelf.size(); ++i) {
      const Choosable& what = draft.shelf[i];
      if (what.food == nullptr || here.amounts[i] > 0.0 || tryouts.is_stopped()) continue;
      Mix with = here;
      with.amounts[i] = std::clamp(measurable(what, first_dose * what.most, draft.ask.customs), what.least, what.most);
      tryouts.of(with);
      near(tryouts, want, with, a_food_takes);
      const auto found = tryouts.nearest_of(with, want);
      if (!found || tryouts.score(*found, want) <= best + worth_another) continue;
      best = tryouts.score(*found, want);
      next = found->tried->mix;
    }
    if (!next) return;
    here = *next;
  }
}

/// The best mixes so far of different foods.
std::vector<Mix> starts(const Tryouts& tryouts, const Want& want, std::size_t most) {
  std::vector<Mix> found;
  std::vector<std::vector<bool>> held;
  for (const Pick& pick : tryouts.by_score(want)) {
    std::vector<bool> holds;
    for (const double amount : pick.tried->mix.amounts) holds.push_back(amount > 0.0);
    if (std::find(held.begin(), held.end(), holds) != held.end()) continue;
    held.push_back(holds);
    found.push_back(pick.tried->mix);
    if (found.size() >= most) break;
  }
  return found;
}

/// From the best mix to a better neighbour, one measure or an exchange of two at a time, until none is better.
void walk(Tryouts& tryouts, const Want& want, int count, double factor) {
  const Draft& draft = tryouts.draft();
  const Errand errand{tryouts, want, {draft, want.branch}};
  const auto start = tryouts.nearest(want);
  if (!start) return;
  Mix here = start->tried->mix;
  double best = tryouts.score(*start, want);
  const int last_count = tryouts.tried_count() + count;
  const auto step = [&](const Mix& from, std::size_t i, bool up) {
    Mix to = from;
    to.amounts[i] = neighbour(draft.shelf[i], from.amounts[i], up, draft.ask.customs, factor);
    return to;
  };
  std::vector<std::size_t> chosen;
  for (std::size_t i = 0; i < draft.shelf.size(); ++i)
    if (want.branch != Branch::plain || draft.shelf[i].kind != nullptr) chosen.push_back(i);
  const auto neighbours = [&] {
    std::vector<Mix> all;
    for (const std::size_t i : chosen)
      for (const bool up : {true, false}) all.push_back(step(here, i, up));
    for (const std::size_t i : chosen)
      for (const std::size_t j : chosen)
        if (i != j) all.push_back(step(step(here, i, true), j, false));
    for (const std::size_t i : chosen)
      for (const std::size_t j : chosen)
        if (i < j) all.push_back(step(step(here, i, true), j, true));
    for (std::size_t t = 0; t < draft.timetables.size(); ++t) {
      all.push_back(here);
      all.back().timetable = t;
    }
    return all;
  };
  for (bool moved = true; moved && !tryouts.is_stopped() && tryouts.tried_count() < last_count;) {
    moved = false;
    for (const Mix& next : neighbours()) {
      if (tryouts.is_stopped() || tryouts.tried_count() >= last_count) break;
      const double value = errand.value(next);
      if (value <= best) continue;
      best = value;
      here = next;
      moved = true;
      break;
    }
  }
}

/// The best mix without one of its foods, alone or with a little more of another: fewer things to measure out.
void leave_out(Tryouts& tryouts, const Want& want, int count) {
  const Draft& draft = tryouts.draft();
  const auto start = tryouts.nearest(want);
  if (!start) return;
  const Mix here = start->tried->mix;
  const int last_count = tryouts.tried_count() + count;
  for (std::size_t i = 0; i < draft.shelf.size(); ++i) {
    if (draft.shelf[i].food == nullptr || !(here.amounts[i] > 0.0)) continue;
    Mix without = here;
    without.amounts[i] = 0.0;
    tryouts.of(without);
    for (std::size_t j = 0; j < draft.shelf.size() && tryouts.tried_count() < last_count; ++j) {
      if (j == i || !(here.amounts[j] > 0.0)) continue;
      Mix more = without;
      more.amounts[j] = neighbour(draft.shelf[j], here.amounts[j], true, draft.ask.customs);
      tryouts.of(more);
    }
  }
}

}  // namespace

Effort effort_for(std::size_t choosable_count, Role role) {
  const auto choices = static_cast<int>(choosable_count);
  if (role == Role::best)
    return {.everywhere = 10 + 3 * choices,
            .growing = 25 * choices,
            .nearby = 10 + 10 * choices,
            .kitchen = 30 + 8 * choices};
  return {.everywhere = 0, .growing = 0, .nearby = 10 + 6 * choices, .kitchen = 15 + 6 * choices};
}

void search(Tryouts& tryouts, Want want, const Effort& effort) {
  const Draft& draft = tryouts.draft();
  const bool has_food = draft.shelf.size() > draft.ask.composts.size();
  // A brew without food takes up oxygen better than one with ever so little (docs/brew/model.md), so the two
  // are searched apart.
  for (const Branch branch : {Branch::plain, Branch::fed}) {
    if (branch == Branch::fed && !has_food) continue;
    want.branch = branch;
    const int part = branch == Branch::plain ? 3 : 1;  // fewer things to choose from
    if (effort.everywhere > 0) {
      if (branch == Branch::plain) plant(tryouts);
      if (branch == Branch::fed) {
        grow(tryouts, want, effort.growing);
        Errand errand{tryouts, want, {draft, branch}};
        run(NLOPT_GN_DIRECT_L, errand, effort.everywhere, std::vector<double>(errand.cube.size(), 0.5));
      }
    }
    const auto found = starts(tryouts, want, branch == Branch::fed ? starts_most : 1);
    for (const Mix& start : found) near(tryouts, want, start, effort.nearby / (part * static_cast<int>(found.size())));
    walk(tryouts, want, effort.kitchen / part, coarse_step);
    walk(tryouts, want, effort.kitchen / part / 2, fine_step);
    if (branch == Branch::fed) leave_out(tryouts, want, effort.kitchen / 3);
  }
}

}  // namespace barm::recipe
