// A mix tried out: one run of all members tells every length at once.
#include <algorithm>
#include <cmath>

#include "brew/cells.h"
#include "brew/ready.h"
#include "brew/spreads_of_stretch.h"
#include "recipe/designing.h"
#include "recipe/lines.h"

namespace barm::recipe {
namespace {

constexpr double step_h = 0.25;         // as in a forecast, whose window is worked out from these hours
constexpr double past_longest_h = 1.0;  // the window looks an hour ahead
constexpr double extract_from_h = 4.0, extract_to_h = 12.0;  // judged: most is out by then; and nothing more comes
constexpr double far_past_lines = 0.5;                       // judged: such a mix is not worth a forecast

// What a yield is told in, so that unlike things may be multiplied; they move no optimum.
constexpr double bacteria_told_in = 3e7;                                                // M02, as in docs/brew/ready.md
constexpr double fungi_told_in = 1.0, protozoa_told_in = 1e3, nitrogen_told_in = 10.0;  // judged: of a usual brew

/// Bands of what decides when a brew is ready, and the oxygen of every member.
struct Course {
  brew::Forecast middle;
  brew::Stretch stretch;
};

Course course_of(const Draft& draft, const Mix& mix, const brew::Parallel& parallel) {
  const Timetable& table = draft.timetables[mix.timetable];
  Brewing brewing = brewing_of(draft, mix);
  brewing.ask.start_at = table.slots.front().start_at;
  brew::Setup setup = set_up(brewing, draft.aeration);
  setup.length_h = std::min(lines::length_usual_h, table.slots.back().length_h + past_longest_h);
  const brew::Unknowns unknowns(setup, draft.knowledge->priors);
  brew::Members members =
      brew::draw_members(setup, draft.knowledge->priors, unknowns, draft.ask.members_count, draft.ask.seed);
  std::vector<double> at_h;
  for (int i = 0; i * step_h <= setup.length_h; ++i) at_h.push_back(i * step_h);
  Course course{.middle = {}, .stretch = brew::run(members, 0.0, setup.length_h, {}, at_h, parallel)};
  course.middle.time_h = at_h;
  const auto middles = [&](brew::tea::Observed what, auto shown) {
    std::vector<double> all;
    for (const brew::Spread& spread : brew::spreads_of_stretch(course.stretch, members.count, what, shown))
      all.push_back(spread.p50);
    return all;
  };
  course.middle.oxygen_mg_per_l.p50 =
      middles(brew::tea::oxygen, [](double x, std::size_t) { return std::max(0.0, x); });
  course.middle.bacteria_per_ml.p50 = middles(
      brew::tea::bacteria, [&](double x, std::size_t m) { return brew::bacteria_per_ml(x, members.cell_pg_cod[m]); });
  course.middle.fungi_ug_per_ml.p50 =
      middles(brew::tea::fungi, [](double x, std::size_t) { return brew::fungi_ug_per_ml(x); });
  course.middle.protozoa_per_ml.p50 =
      middles(brew::tea::flagellates, [](double x, std::size_t) { return brew::flagellates_per_ml(x); });
  return course;
}

brew::ReadyWindow window_of(Purpose purpose, const brew::Forecast& middle) {
  if (purpose != Purpose::extract) return brew::ready_window(middle, aim_of(purpose));
  return {.exists = true, .from_h = extract_from_h, .to_h = extract_to_h, .why_from = {}, .why_to = {}};
}

/// How many days a length lies outside the window; a brew that never is ready lies further the less has grown.
double off_window(const brew::ReadyWindow& ready, double length_h, const brew::Forecast& middle) {
  constexpr double h_per_day = 24.0;
  if (ready.exists) return std::max({0.0, ready.from_h - length_h, length_h - ready.to_h}) / h_per_day;
  const double grown = *std::max_element(middle.bacteria_per_ml.p50.begin(), middle.bacteria_per_ml.p50.end());
  return 1.0 + std::clamp(std::log(bacteria_told_in * 10.0 / std::max(grown, 1.0)), 0.0, 10.0) / 10.0;
}

/// The value that so many others are not above, counted from 0.
double ranked_at(std::vector<double> values, int place) {
  std::nth_element(values.begin(), values.begin() + place, values.end());
  return values[static_cast<std::size_t>(place)];
}

/// The 5 % quantile as brew::spread_of takes it, without sorting all of them.
double low_of(std::vector<double> values) {
  const double place = 0.05 * static_cast<double>(values.size() - 1);
  const auto below = static_cast<std::ptrdiff_t>(place);
  std::nth_element(values.begin(), values.begin() + below + 1, values.end());
  const double above_value = values[static_cast<std::size_t>(below + 1)];
  const double below_value = *std::max_element(values.begin(), values.begin() + below + 1);
  return below_value + (place - static_cast<double>(below)) * (above_value - below_value);
}

}  // namespace

double yield_of(Purpose purpose, const Life& life) {
  const double bacteria = life.bacteria_per_ml / bacteria_told_in;
  const double fungi = life.fungi_ug_per_ml / fungi_told_in;
  switch (purpose) {
    case Purpose::bacterial:
      return bacteria;
    case Purpose::fungal:
      return fungi;
    case Purpose::balanced:
      return std::cbrt(bacteria * fungi * life.protozoa_per_ml / protozoa_told_in);
    case Purpose::extract:
      return std::sqrt(bacteria * life.nitrogen_mg_per_l / nitrogen_told_in);
  }
  throw BrokenPromise("a purpose nobody knows");
}

double yield_of_plan(Purpose purpose, const BrewPlan& plan) {
  const brew::Forecast& f = plan.forecast;
  const auto at = static_cast<std::size_t>(
      std::lower_bound(f.time_h.begin(), f.time_h.end(), plan.ask.length_h - 1e-9) - f.time_h.begin());
  return yield_of(purpose, {.bacteria_per_ml = f.bacteria_per_ml.p50.at(at),
                            .fungi_ug_per_ml = f.fungi_ug_per_ml.p50.at(at),
                            .protozoa_per_ml = f.protozoa_per_ml.p50.at(at),
                            .nitrogen_mg_per_l = plan.nitrogen_mg_per_l});
}

int below_allowed_count(int members_count, double tolerance) {
  constexpr double rounding = 1e-9;  // 1 - 0.9 is a hair less than 0.1
  return static_cast<int>(std::floor(members_count * (1.0 - tolerance) + rounding));
}

Tried try_out(const Draft& draft, const Mix& mix, const brew::Parallel& parallel) {
  Tried tried{.mix = mix, .uses = uses_of(draft, mix)};
  const Brewing brewing = brewing_of(draft, mix);
  tried.has_food = !brewing.foods.empty();
  for (std::size_t i = 0; i < draft.shelf.size(); ++i) {
    const double mass_g = mix.amounts[i] * draft.shelf[i].g_per_measure;
    tried.stuff_cost += mass_g * draft.shelf[i].cost_per_g;
    tried.stuff_g += mass_g;
  }
  if (tried.uses.excess() > far_past_lines || brewing.composts.empty()) return tried;

  const Course course = course_of(draft, mix, parallel);
  const Purpose purpose = draft.ask.purpose;
  const brew::ReadyWindow ready = window_of(purpose, course.middle);
  const double nitrogen_mg_per_l = contents(brewing).nitrogen_mg_per_l;
  const auto members = static_cast<std::size_t>(draft.ask.members_count);
  std::vector<double> lowest(members, 1e9);
  std::size_t at = 0;
  for (const Slot& slot : draft.timetables[mix.timetable].slots) {
    for (; at < course.middle.time_h.size() && course.middle.time_h[at] <= slot.length_h + 1e-9; ++at)
      for (std::size_t m = 0; m < members; ++m)
        lowest[m] = std::min(lowest[m], course.stretch.of(static_cast<int>(m), at, brew::tea::oxygen));
    const auto share = [&](auto holds) {
      return static_cast<double>(std::count_if(lowest.begin(), lowest.end(), holds)) / static_cast<double>(members);
    };
    tried.outcomes.push_back(
        {.slot = slot,
         .stays_above_6 = share([](double x) { return x >= 6.0; }),
         .below_2 = share([](double x) { return x < 2.0; }),
         .lowest_mg_per_l = low_of(lowest),
         .edge_mg_per_l = ranked_at(lowest, below_allowed_count(draft.ask.members_count, draft.ask.tolerance)),
         .yield = yield_of(purpose, {.bacteria_per_ml = course.middle.bacteria_per_ml.p50[at - 1],
                                     .fungi_ug_per_ml = course.middle.fungi_ug_per_ml.p50[at - 1],
                                     .protozoa_per_ml = course.middle.protozoa_per_ml.p50[at - 1],
                                     .nitrogen_mg_per_l = nitrogen_mg_per_l}),
         .off_window = off_window(ready, slot.length_h, course.middle)});
  }
  return tried;
}

}  // namespace barm::recipe
