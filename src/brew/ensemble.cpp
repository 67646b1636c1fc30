#include "brew/ensemble.h"

#include <algorithm>
#include <cmath>
#include <string>

#include "brew/cells.h"
#include "brew/drivers.h"
#include "brew/low_hour.h"
#include "brew/next_reading.h"
#include "brew/quantiles.h"
#include "brew/ready.h"

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
  const int columns = static_cast<int>(stretch.at_h.size());
  const auto spreads = [&](tea::Observed what, auto shown) {
    return spreads_of_columns(members.count, columns, [&](int at, std::span<double> into) {
      for (int m = 0; m < members.count; ++m)
        into[static_cast<std::size_t>(m)] =
            shown(stretch.of(m, static_cast<std::size_t>(at), what), static_cast<std::size_t>(m));
    });
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

std::vector<double> lowest_of(const Stretch& stretch) {
  std::vector<double> lowest;
  for (std::size_t i = 0; i < stretch.lowest.size(); i += 2) lowest.push_back(stretch.lowest[i]);
  return lowest;
}

/// Lowest oxygen of each member while the brew is meant to run, and the odds that hang on it.
void judge_oxygen(Forecast& f, const Stretch& brewing) {
  std::vector<double> lowest, lowest_at;
  int above = 0, below = 0;
  for (std::size_t m = 0; m * 2 < brewing.lowest.size(); ++m) {
    const double value = brewing.lowest[2 * m];
    lowest.push_back(value);
    lowest_at.push_back(brewing.lowest[2 * m + 1]);
    above += value >= above_line_mg_per_l ? 1 : 0;
    below += value < low_line_mg_per_l ? 1 : 0;
  }
  const auto members = static_cast<double>(lowest.size());
  f.probability_oxygen_stays_above_6 = above / members;
  f.probability_oxygen_below_2 = below / members;
  f.oxygen_minimum_mg_per_l = spread_of(lowest);
  f.oxygen_minimum_at_h = spread_of(lowest_at);
}

/// Minutes until each member falls under 2 mg/L once the air has stopped and the bag is out; members that never do
/// count as the whole stretch.
Spread minutes_to_low(Members at_end, double from_h, const Parallel& parallel, BatchReport& report) {
  std::vector<double> at;
  for (double minute = 0.0; minute < air_off_h * 60.0; minute = std::max(minute + 0.5, minute * 1.06))
    at.push_back(from_h + minute / 60.0);
  const Stretch falling =
      run(at_end, from_h, from_h + air_off_h, {.air_is_on = false, .bag_is_in = false}, at, parallel);
  report.failed_member_count += falling.report.failed_member_count;
  std::vector<double> minutes;
  for (int m = 0; m < at_end.count; ++m) {
    double found = air_off_h * 60.0;
    for (std::size_t i = 0; i < at.size(); ++i) {
      const double now = falling.of(m, i, tea::oxygen);
      if (!(now < low_line_mg_per_l)) continue;
      const double before = i == 0 ? now : falling.of(m, i - 1, tea::oxygen);
      const double share = i == 0 ? 0.0 : (before - low_line_mg_per_l) / (before - now);
      found = i == 0 ? 0.0 : (at[i - 1] + share * (at[i] - at[i - 1]) - from_h) * 60.0;
      break;
    }
    minutes.push_back(found);
  }
  return spread_of(minutes);
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
  within(setup.room_temperature_c, -10.0, 45.0, "room.temperature", Dimension::temperature);
  within(setup.room_humidity_share, 0.0, 1.0, "room.humidity", Dimension::share);
  within(setup.pressure_kpa, 50.0, 110.0, "pressure", Dimension::pressure);
  within(setup.length_h, 0.5, 72.0, "length", Dimension::duration);
  within(options.members_count, 16.0, 65536.0, "members", Dimension::number);
  within(options.output_step_h, 0.01, 6.0, "output_step", Dimension::duration);
  for (std::size_t i = 0; i < setup.composts.size(); ++i)
    positive(setup.composts[i].mass_g, ("compost[" + std::to_string(i + 1) + "].mass").c_str(), Dimension::mass);
  for (std::size_t i = 0; i < setup.foods.size(); ++i)
    positive(setup.foods[i].mass_g, ("food[" + std::to_string(i + 1) + "].amount").c_str(), Dimension::mass);
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
  const Stretch brewing =
      run(members, 0.0, setup.length_h, {}, hours(0.0, setup.length_h, options.output_step_h, true), options.parallel);
  BatchReport report = brewing.report;
  append_stretch(f, members, brewing);
  judge_oxygen(f, brewing);
  if (options.instruments != nullptr) f.drivers = drivers_of(members, lowest_of(brewing));
  f.low_hour_h = low_hour_h(f, setup.length_h);
  f.minutes_to_2_after_air_off = minutes_to_low(members, setup.length_h, options.parallel, report);
  if (horizon_h > setup.length_h) {
    const Stretch beyond = run(members, setup.length_h, horizon_h, {},
                               hours(setup.length_h, horizon_h, options.output_step_h, false), options.parallel);
    report.failed_member_count += beyond.report.failed_member_count;
    append_stretch(f, members, beyond);
  }
  f.failed_members_count = static_cast<int>(report.failed_member_count);
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
