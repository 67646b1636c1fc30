#include "compost/heap.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <tuple>

#include "quantity/data_entry.h"
#include "quantity/even_draws.h"
#include "quantity/triangular.h"

namespace barm::compost {
namespace {

constexpr double water_kj_per_kg_k = 4.18, air_kj_per_kg_k = 1.005, latent_kj_per_kg = 2400.0;  // memory, at 40 degC
constexpr double oxygen_of_air_share = 0.2314;                                                  // S19, by mass
constexpr double step_d = 1.0 / 96.0;
constexpr int draws_count = 100;
constexpr int steps_told = 24;  // 6 h
constexpr double s_per_d = 86'400.0;
constexpr double hot_c = 55.0;
constexpr double small_m3 = 0.2;          // judged: below it the usual run is far hotter than what S94 tells of bins
constexpr double food_left_share = 0.15;  // judged: less is not worth a turn

/// Water in saturated air [kg/kg]. Vapour pressure by the psychrometer form of S49.
double saturated_kg_per_kg(double temperature_c) {
  const double vapour_kpa = 0.6108 * std::exp(17.27 * temperature_c / (temperature_c + 237.3));
  return 0.622 * vapour_kpa / std::max(1.0, 101.325 - vapour_kpa);
}

struct Case {  // one set of figures
  double decay_per_d, degradable, heat, conductance, oxygen_used, settling_d, turn_cools, volatile_share;
};

struct Run {
  std::vector<double> temperature_c{}, turns_d{};
  double peak_c = -273.0, above_55_d = 0.0, degraded = 0.0, imbalance = 0.0;
};

struct Rates {
  double rots_kg_per_d, lost_kj_per_d;
};

Run run(const HeapAsk& ask, const HeapFigures& figures, const Case& with) {
  const double mass_kg = ask.volume_m3 * ask.bulk_density_kg_per_m3, dry_kg = mass_kg * (1.0 - ask.moisture_share);
  const double heat_kj_per_k = dry_kg * figures.solids_kj_per_kg_k + (mass_kg - dry_kg) * water_kj_per_kg_k;
  const double start_kg = dry_kg * with.volatile_share * with.degradable;
  // A half ball of the volume: V = 2/3 pi r^3, curved surface 2 pi r^2.
  const double radius_m = std::cbrt(3.0 * ask.volume_m3 / (2.0 * std::numbers::pi));
  const double surface_m2 = 2.0 * std::numbers::pi * radius_m * radius_m;
  const double shell_kj_per_d_k = with.conductance * surface_m2 * s_per_d / 1000.0;
  const double air_kg_per_kg = figures.oxygen_g_per_g / (oxygen_of_air_share * with.oxygen_used);
  const double water_in = 0.5 * saturated_kg_per_kg(ask.air_c);  // half saturated, judged

  Run out;
  double temperature_c = std::isnan(ask.start_c) ? ask.air_c : ask.start_c;
  double food_kg = start_kg, since_turn_d = 0.0, turned_d = -1e9, made_kj = 0.0, lost_kj = 0.0, turns_kj = 0.0;
  const double began_c = temperature_c;
  bool was_hot = false;
  const int steps = static_cast<int>(std::lround(ask.length_d / step_d));
  for (int i = 0; i <= steps; ++i) {
    const double now_d = i * step_d;
    if (i % steps_told == 0) out.temperature_c.push_back(temperature_c);
    out.peak_c = std::max(out.peak_c, temperature_c);
    if (i == steps) break;
    if (temperature_c >= hot_c) out.above_55_d += step_d;
    was_hot |= temperature_c > std::max(ask.turn_below_c, 45.0);
    const bool wants_turn = temperature_c > ask.turn_at_c || (was_hot && temperature_c < ask.turn_below_c);
    if (wants_turn && now_d - turned_d >= ask.turn_rest_d && food_kg > food_left_share * start_kg) {
      const double drop = with.turn_cools * (temperature_c - ask.air_c);
      turns_kj += heat_kj_per_k * drop;
      temperature_c -= drop;
      turned_d = now_d, since_turn_d = 0.0, was_hot = false;
      out.turns_d.push_back(now_d);
    }
    // Runge and Kutta's classical rule of fourth order. The pile settles on the way: air_share at the stage's own time.
    const auto rates = [&](double later_d, double c, double kg) {
      const double air_share = std::max(1.0 / 3.0, 1.0 - (2.0 / 3.0) * (since_turn_d + later_d) / with.settling_d);
      const double rots_kg_per_d = with.decay_per_d * decay_over_20(c) * air_share * kg;
      const double carried = air_kg_per_kg * (air_kj_per_kg_k * (c - ask.air_c) +
                                              latent_kj_per_kg * std::max(0.0, saturated_kg_per_kg(c) - water_in));
      return Rates{rots_kg_per_d, shell_kj_per_d_k * (c - ask.air_c) + rots_kg_per_d * carried};
    };
    const auto from = [&](const Rates& before, double later_d) {
      const double warms_c_per_d = (before.rots_kg_per_d * with.heat - before.lost_kj_per_d) / heat_kj_per_k;
      return rates(later_d, temperature_c + later_d * warms_c_per_d, food_kg - later_d * before.rots_kg_per_d);
    };
    const Rates k1 = rates(0.0, temperature_c, food_kg), k2 = from(k1, 0.5 * step_d), k3 = from(k2, 0.5 * step_d),
                k4 = from(k3, step_d);
    const double rotted_kg =
        step_d / 6.0 * (k1.rots_kg_per_d + 2.0 * (k2.rots_kg_per_d + k3.rots_kg_per_d) + k4.rots_kg_per_d);
    const double lost_now_kj =
        step_d / 6.0 * (k1.lost_kj_per_d + 2.0 * (k2.lost_kj_per_d + k3.lost_kj_per_d) + k4.lost_kj_per_d);
    temperature_c += (rotted_kg * with.heat - lost_now_kj) / heat_kj_per_k;
    food_kg -= rotted_kg;
    made_kj += rotted_kg * with.heat;
    lost_kj += lost_now_kj;
    since_turn_d += step_d;
  }
  out.degraded = 1.0 - food_kg / start_kg;
  out.imbalance = (made_kj - lost_kj - turns_kj - heat_kj_per_k * (temperature_c - began_c)) / std::max(1.0, made_kj);
  return out;
}

/// Between which of a number nine in ten runs lie.
template <class Number>
std::pair<double, double> nine_in_ten(const std::vector<Run>& runs, Number number) {
  std::vector<double> all;
  for (const Run& each : runs) all.push_back(number(each));
  std::sort(all.begin(), all.end());
  const std::size_t out = all.size() / 20;
  return {all[out], all[all.size() - 1 - out]};
}

bool refuse_wrong(const HeapAsk& ask, Findings& findings) {
  const auto within = [&](const char* field, double given, double least, double most, Dimension dimension) {
    if (given >= least && given <= most) return;
    findings.refuse({.code = "compost.heap.outside",
                     .field = field,
                     .facts = {{"given", Quantity{given, dimension}},
                               {"least", Quantity{least, dimension}},
                               {"most", Quantity{most, dimension}}}});
  };
  constexpr double l_per_m3 = 1000.0, h_per_d = 24.0;
  within("volume", ask.volume_m3 * l_per_m3, 0.05 * l_per_m3, 500.0 * l_per_m3, Dimension::volume);
  within("bulk_density", ask.bulk_density_kg_per_m3, 100.0, 1100.0, Dimension::density);
  within("moisture", ask.moisture_share, 0.3, 0.8, Dimension::share);
  within("air_temperature", ask.air_c, -20.0, 45.0, Dimension::temperature);
  if (!std::isnan(ask.start_c)) within("start_temperature", ask.start_c, -5.0, 75.0, Dimension::temperature);
  within("length", ask.length_d * h_per_d, h_per_d, 180.0 * h_per_d, Dimension::duration);
  within("turn_at", ask.turn_at_c, 40.0, 90.0, Dimension::temperature);
  within("turn_below", ask.turn_below_c, 20.0, ask.turn_at_c, Dimension::temperature);
  within("turn_rest", ask.turn_rest_d * h_per_d, 6.0, 60.0 * h_per_d, Dimension::duration);
  return findings.refused();
}

}  // namespace

HeapFigures HeapFigures::read(std::string_view toml) {
  HeapFigures figures;
  whole_data_file(toml, "heap.toml", [&](const DataEntry& file) {
    DataEntry heap = file.inside("heap");
    figures = {.decay_per_d = heap.figure("decay", "1/d"),
               .degradable_share = heap.figure("degradable", "share"),
               .volatile_share = heap.figure("volatile_solids", "share"),
               .heat_kj_per_kg = heap.figure("heat", "kJ/kg"),
               .conductance_w_per_m2_k = heap.figure("conductance", "W/(m2 K)"),
               .oxygen_used_share = heap.figure("oxygen_used", "share"),
               .settling_d = heap.figure("settling", "d"),
               .turn_cools_share = heap.figure("turn_cools", "share"),
               .oxygen_g_per_g = heap.number("oxygen", "g/g"),
               .solids_kj_per_kg_k = heap.number("solids_heat", "kJ/(kg K)")};
  });
  return figures;
}

double decay_over_20(double temperature_c) {
  return std::max(0.0, std::pow(1.066, temperature_c - 20.0) - std::pow(1.21, temperature_c - 60.0));  // S92
}

Answer<HeapTold> foretell_heap(const HeapAsk& ask, const HeapFigures& of) {
  Findings findings;
  if (refuse_wrong(ask, findings)) return std::move(findings).refusal<HeapTold>();
  findings.doubt({.code = "compost.heap.indicative", .field = ""});
  const auto moisture = [&](const char* code) {
    findings.doubt(
        {.code = code, .field = "moisture", .facts = {{"given", Quantity{ask.moisture_share, Dimension::share}}}});
  };
  if (ask.moisture_share < 0.45) moisture("compost.heap.dry");
  if (ask.moisture_share > 0.65) moisture("compost.heap.wet");

  if (ask.volume_m3 < small_m3)
    findings.doubt({.code = "compost.heap.small",
                    .field = "volume",
                    .facts = {{"given", Quantity{ask.volume_m3 * 1000.0, Dimension::volume}},
                              {"least", Quantity{small_m3 * 1000.0, Dimension::volume}}}});

  const Case middle{
      of.decay_per_d.value,       of.degradable_share.value, of.heat_kj_per_kg.value,   of.conductance_w_per_m2_k.value,
      of.oxygen_used_share.value, of.settling_d.value,       of.turn_cools_share.value, of.volatile_share.value};
  const Run usual = run(ask, of, middle);
  HeapTold out{.low_c = usual.temperature_c, .middle_c = usual.temperature_c, .high_c = usual.temperature_c};
  for (std::size_t i = 0; i < usual.temperature_c.size(); ++i)
    out.time_d.push_back(static_cast<double>(i) * step_d * steps_told);
  out.turns_d = usual.turns_d;
  out.peak_c = usual.peak_c;
  out.above_55_d = usual.above_55_d;
  out.degraded_share = usual.degraded;
  out.imbalance_share = usual.imbalance;
  const Figure* ranges[] = {
      &of.decay_per_d,       &of.degradable_share, &of.heat_kj_per_kg,   &of.conductance_w_per_m2_k,
      &of.oxygen_used_share, &of.settling_d,       &of.turn_cools_share, &of.volatile_share};
  double Case::*members[] = {&Case::decay_per_d, &Case::degradable, &Case::heat,       &Case::conductance,
                             &Case::oxygen_used, &Case::settling_d, &Case::turn_cools, &Case::volatile_share};
  const EvenDraws draws(std::size(ranges));
  std::vector<Run> others;
  for (int draw = 0; draw < draws_count; ++draw) {
    Case with = middle;
    for (std::size_t k = 0; k < std::size(ranges); ++k)
      with.*members[k] = triangular_quantile(ranges[k]->low, ranges[k]->value, ranges[k]->high, draws.at(draw, k));
    others.push_back(run(ask, of, with));
  }
  for (std::size_t i = 0; i < out.low_c.size(); ++i)
    std::tie(out.low_c[i], out.high_c[i]) = nine_in_ten(others, [&](const Run& r) { return r.temperature_c[i]; });
  std::tie(out.peak_low_c, out.peak_high_c) = nine_in_ten(others, [](const Run& r) { return r.peak_c; });
  std::tie(out.above_55_low_d, out.above_55_high_d) = nine_in_ten(others, [](const Run& r) { return r.above_55_d; });
  return std::move(findings).answer(std::move(out));
}

}  // namespace barm::compost
