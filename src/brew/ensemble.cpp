#include "brew/ensemble.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>
#include <numeric>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include "brew/cells.h"
#include "brew/drivers.h"
#include "brew/low_hour.h"
#include "brew/next_reading.h"
#include "brew/quantiles.h"
#include "brew/ready.h"
#include "brew/spreads_of_stretch.h"

namespace barm::brew {
namespace {

constexpr double above_line_mg_per_l =
    6.0;  // practice: a margin for sensor error and dead zones, not a threshold of life
constexpr double low_line_mg_per_l = 2.0;  // below it fermentation sets in (docs/brew/model.md, section 7)
constexpr double longest_h = 96.0, air_off_h = 24.0;

/// Hours from `from_h` to `to_h` at a step, both ends included.
std::vector<double> hours(double from_h, double to_h, double step_h, bool with_first) {
  std::vector<double> at;
  const auto count = static_cast<int>(std::ceil((to_h - from_h) / step_h - 1e-9));
  for (int i = with_first ? 0 : 1; i <= count; ++i) at.push_back(std::min(to_h, from_h + i * step_h));
  return at;
}

void append(Band& band, const std::vector<Spread>& spreads) {
  for (const Spread& spread : spreads) {
    band.p05.push_back(spread.p05);
    band.p25.push_back(spread.p25);
    band.p50.push_back(spread.p50);
    band.p75.push_back(spread.p75);
    band.p95.push_back(spread.p95);
  }
}

/// Adds a stretch to the bands. What is shown is never below zero, though a state may stand a hair below it.
void append_stretch(Forecast& f, const Members& members, const Stretch& stretch) {
  const auto spreads = [&](tea::Observed what, auto shown) {
    return spreads_of_stretch(stretch, members.count, what, shown);
  };
  const auto never_below_none = [](double x, std::size_t) { return std::max(0.0, x); };
  f.time_h.insert(f.time_h.end(), stretch.at_h.begin(), stretch.at_h.end());
  append(f.oxygen_mg_per_l, spreads(tea::oxygen, never_below_none));
  append(f.temperature_c, spreads(tea::temperature, [](double x, std::size_t) { return x; }));
  append(f.uptake_mg_per_l_per_h, spreads(tea::uptake, never_below_none));
  append(f.bacteria_per_ml,
         spreads(tea::bacteria, [&](double x, std::size_t m) { return bacteria_per_ml(x, members.cell_pg_cod[m]); }));
  append(f.fungi_ug_per_ml, spreads(tea::fungi, [](double x, std::size_t) { return fungi_ug_per_ml(x); }));
  append(f.protozoa_per_ml, spreads(tea::flagellates, [](double x, std::size_t) { return flagellates_per_ml(x); }));
  for (const Spread& spread : spreads(tea::saturation, never_below_none)) f.saturation_mg_per_l.push_back(spread.p50);
}

/// Takes the members through the output times in windows that fit into memory, each handed to `use` and then dropped. A
/// window goes on with the steps of the one before it; its end is landed on, which moves an answer within the solver's
/// own error. `room` is the stretch that is run into.
void run_in_windows(Stretch& room, Members& members, double from_h, Switches switches, std::span<const double> at_h,
                    const EnsembleOptions& options, const std::function<void(const Stretch&)>& use) {
  members.step_h.assign(static_cast<std::size_t>(members.count), 0.0);
  const double column_bytes = static_cast<double>(members.count) * sizeof(double) * int{tea::observed_count};
  const auto columns = static_cast<std::size_t>(std::max(1.0, options.window_bytes / column_bytes));
  for (std::size_t first = 0; first < at_h.size(); first += columns) {
    const auto window = at_h.subspan(first, std::min(columns, at_h.size() - first));
    run_into(room, members, from_h, window.back(), switches, {window.begin(), window.end()}, options.parallel);
    use(room);
    from_h = window.back();
  }
}

/// Lowest oxygen of each member while the brew is meant to run, and its hour.
struct Lowest {
  std::vector<double> oxygen_mg_per_l, at_h;

  void hear(const Stretch& stretch) {
    const std::size_t count = stretch.lowest.size() / 2;
    oxygen_mg_per_l.resize(count, std::numeric_limits<double>::infinity());
    at_h.resize(count, 0.0);
    for (std::size_t m = 0; m < count; ++m) {
      const double oxygen = stretch.lowest[2 * m];
      if (oxygen >= oxygen_mg_per_l[m]) continue;  // not a number stays: a member that was given up
      oxygen_mg_per_l[m] = oxygen;
      at_h[m] = stretch.lowest[2 * m + 1];
    }
  }
};

/// The odds that hang on the lowest oxygen.
void judge_oxygen(Forecast& f, Lowest lowest) {
  const auto share_of = [&](auto holds) {
    return static_cast<double>(std::ranges::count_if(lowest.oxygen_mg_per_l, holds)) /
           static_cast<double>(lowest.oxygen_mg_per_l.size());
  };
  f.probability_oxygen_stays_above_6 = share_of([](double oxygen) { return oxygen >= above_line_mg_per_l; });
  f.probability_oxygen_below_2 = share_of([](double oxygen) { return oxygen < low_line_mg_per_l; });
  f.oxygen_minimum_mg_per_l = spread_of(lowest.oxygen_mg_per_l);
  f.oxygen_minimum_at_h = spread_of(lowest.at_h);
}

/// Oxygen of a member whose air has stopped, followed until it is under 2 mg/L.
struct Fall {
  bool is_over = false;
  double minutes = air_off_h * 60.0;  // of one that never falls: the whole stretch
  double last_h = unset, last_oxygen_mg_per_l = unset;

  void hear(double now_h, double oxygen_mg_per_l, double from_h) {
    if (is_over) return;
    is_over = !(oxygen_mg_per_l >= low_line_mg_per_l);  // also one that was given up, which is told elsewhere
    if (is_over) {
      const double drop = last_oxygen_mg_per_l - oxygen_mg_per_l;  // not a number at the first hour
      const double share = drop > 0.0 ? (last_oxygen_mg_per_l - low_line_mg_per_l) / drop : 0.0;
      const double reached_h = drop > 0.0 ? last_h + share * (now_h - last_h) : now_h;
      minutes = (reached_h - from_h) * 60.0;
    }
    last_h = now_h;
    last_oxygen_mg_per_l = oxygen_mg_per_l;
  }
};

/// Minutes until each member falls under 2 mg/L once the air has stopped and the bag is out. A piece of the clock at a
/// time, and only with those that have not fallen yet: most fall long before the day is over.
Spread minutes_to_low(Stretch& room, const Members& at_end, double from_h, const EnsembleOptions& options) {
  std::vector<double> at_h;
  for (double minute = 0.0; minute < air_off_h * 60.0; minute = std::max(minute + 0.5, minute * 1.06))
    at_h.push_back(from_h + minute / 60.0);
  constexpr std::size_t piece = 16;
  std::vector<Fall> falls(static_cast<std::size_t>(at_end.count));
  std::vector<std::size_t> falling(falls.size());
  std::iota(falling.begin(), falling.end(), std::size_t{0});
  Members left = at_end;
  for (std::size_t first = 0; first < at_h.size() && !falling.empty(); first += piece) {
    const std::span<const double> hours(at_h.data() + first, std::min(piece, at_h.size() - first));
    run_in_windows(room, left, first == 0 ? from_h : at_h[first - 1], {.air_is_on = false, .bag_is_in = false}, hours,
                   options, [&](const Stretch& stretch) {
                     for (std::size_t m = 0; m < falling.size(); ++m)
                       for (std::size_t i = 0; i < stretch.at_h.size(); ++i)
                         falls[falling[m]].hear(stretch.at_h[i], stretch.of(static_cast<int>(m), i, tea::oxygen),
                                                from_h);
                   });
    std::vector<std::size_t> places, still;
    for (std::size_t m = 0; m < falling.size(); ++m)
      if (!falls[falling[m]].is_over) places.push_back(m), still.push_back(falling[m]);
    left = only(left, places);
    falling = std::move(still);
  }
  std::vector<double> minutes;
  for (const Fall& fall : falls) minutes.push_back(fall.minutes);
  return spread_of(minutes);
}

/// Members that the solver had to give up: from there on they are not a number.
int given_up_count(const Members& members) {
  int count = 0;
  for (std::size_t m = 0; m < static_cast<std::size_t>(members.count); ++m)
    count += std::isfinite(members.states[m * tea::state_count]) ? 0 : 1;
  return count;
}

}  // namespace

void check(const Setup& setup, const EnsembleOptions& options, Findings& findings) {
  const auto positive = [&](double value, const char* field, Dimension dimension) {
    if (!(std::isfinite(value) && value > 0.0))
      findings.refuse(
          {.code = "brew.setup.not_positive", .field = field, .facts = {{"given", Quantity{value, dimension}}}});
  };
  const auto within = [&](double value, double least, double most, const char* field, Dimension dimension) {
    if (!(value >= least && value <= most))
      findings.refuse({.code = "brew.setup.out_of_range",
                       .field = field,
                       .facts = {{"given", Quantity{value, dimension}},
                                 {"least", Quantity{least, dimension}},
                                 {"most", Quantity{most, dimension}}}});
  };
  positive(setup.volume_l, "volume", Dimension::volume);
  positive(setup.diameter_m, "diameter", Dimension::length);
  positive(setup.kla20_per_h, "kla", Dimension::rate);
  positive(setup.air_flow_l_per_h, "air_flow", Dimension::flow);
  within(setup.kla20_spread_ln, 0.0, 2.0, "kla_spread", Dimension::number);
  within(setup.water_temperature_c, 1.0, 42.0, "water.temperature", Dimension::temperature);
  within(setup.room_temperature_c, room_coldest_c, room_warmest_c, "room.temperature", Dimension::temperature);
  for (const RoomStep& step : setup.room_steps)
    within(step.temperature_c, room_coldest_c, room_warmest_c, "room.by_hour", Dimension::temperature);
  within(setup.room_humidity_share, 0.0, 1.0, "room.humidity", Dimension::share);
  within(setup.pressure_kpa, 50.0, 110.0, "pressure", Dimension::pressure);
  within(setup.length_h, 0.5, 72.0, "length", Dimension::duration);
  within(options.members_count, 16.0, 65536.0, "members", Dimension::number);
  within(options.output_step_h, 0.01, 6.0, "output_step", Dimension::duration);
  for (std::size_t i = 0; i < setup.composts.size(); ++i)
    positive(setup.composts[i].mass_g, ("compost[" + std::to_string(i + 1) + "].mass").c_str(), Dimension::mass);
  for (std::size_t i = 0; i < setup.foods.size(); ++i)
    positive(setup.foods[i].mass_g, ("food[" + std::to_string(i + 1) + "].amount").c_str(), Dimension::mass);
  // Thicker than this it is a paste, of which the model knows nothing (judged): half the water's weight of compost, a
  // tenth of it of food.
  double compost_g = 0.0, food_g = 0.0;
  for (const CompostLoad& load : setup.composts) compost_g += load.mass_g;
  for (const FoodDose& dose : setup.foods) food_g += dose.mass_g;
  constexpr double g_per_l = 1000.0;
  if (setup.volume_l > 0.0 && compost_g > 0.5 * g_per_l * setup.volume_l)
    within(compost_g, 0.0, 0.5 * g_per_l * setup.volume_l, "compost", Dimension::mass);
  if (setup.volume_l > 0.0 && food_g > 0.1 * g_per_l * setup.volume_l)
    within(food_g, 0.0, 0.1 * g_per_l * setup.volume_l, "food", Dimension::mass);
  if (setup.composts.empty()) findings.refuse({.code = "brew.setup.no_compost", .field = "compost"});

  const auto doubt_outside = [&](double value, double least, double most, const char* code, const char* field,
                                 Dimension dimension) {
    if (value < least || value > most)
      findings.doubt({.code = code,
                      .field = field,
                      .facts = {{"given", Quantity{value, dimension}},
                                {"least", Quantity{least, dimension}},
                                {"most", Quantity{most, dimension}}}});
  };
  doubt_outside(setup.water_temperature_c, 8.0, 30.0, "brew.setup.temperature_untried", "water.temperature",
                Dimension::temperature);
  doubt_outside(setup.volume_l, 4.0, 2000.0, "brew.setup.volume_untried", "water.volume", Dimension::volume);
}

double horizon_of_h(const Setup& setup) {
  if (setup.horizon_h > 0.0) return std::min(longest_h, std::max(setup.horizon_h, setup.length_h));
  return std::min(longest_h, std::max(36.0, setup.length_h + 12.0));
}

Forecast forecast_of(const Setup& setup, Members members, const EnsembleOptions& options) {
  const double horizon_h = horizon_of_h(setup);
  Forecast f;
  if (options.instruments != nullptr)
    f.next_reading = next_reading(members, *options.instruments, options.heard_until_h, setup.length_h, options.seed);
  f.members_count = members.count;
  Lowest lowest;
  Stretch room;
  const auto hear = [&](double from_h, double to_h, bool with_first, bool brewing) {
    const std::vector<double> at_h = hours(from_h, to_h, options.output_step_h, with_first);
    run_in_windows(room, members, from_h, {}, at_h, options, [&](const Stretch& stretch) {
      append_stretch(f, members, stretch);
      if (brewing) lowest.hear(stretch);
    });
  };
  hear(0.0, setup.length_h, true, true);
  if (options.instruments != nullptr) f.drivers = drivers_of(members, lowest.oxygen_mg_per_l);
  judge_oxygen(f, std::move(lowest));
  f.low_hour_h = low_hour_h(f, setup.length_h);
  f.minutes_to_2_after_air_off = minutes_to_low(room, members, setup.length_h, options);
  if (horizon_h > setup.length_h) hear(setup.length_h, horizon_h, false, false);
  f.failed_members_count = given_up_count(members);
  f.ready = ready_window(f, setup.aim);
  return f;
}

Answer<Forecast> forecast(const Setup& setup, const Priors& priors, const EnsembleOptions& options) {
  Findings findings;
  check(setup, options, findings);
  if (findings.refused()) return std::move(findings).refusal<Forecast>();
  const Unknowns unknowns(setup, priors);
  return std::move(findings).answer(
      forecast_of(setup, draw_members(setup, priors, unknowns, options.members_count, options.seed), options));
}

}  // namespace barm::brew
