#include "brew/member.h"

#include <algorithm>
#include <array>
#include <boost/math/distributions/normal.hpp>
#include <cmath>
#include <numbers>
#include <string>
#include <string_view>

#include "brew/polynomial.h"
#include "quantity/expects.h"
#include "water/oxygen.h"

namespace barm::brew {
namespace {

/// What is drawn for each compost, in this order.
enum OfCompost : std::size_t {
  of_nitrogen,
  of_cells,
  of_carbon,
  of_uptake,
  of_dry_matter,
  of_volatile,
  of_fungi,
  of_protozoa,
  of_compost_count
};

constexpr double heat_capacity_kj_per_l_k = 4.18;  // of water near 20 degC (memory)
constexpr double air_kg_per_m3 = 1.2;              // near 20 degC at sea level (memory)
using tea::coldest_c, tea::warmest_c;
constexpr double kla_to_heat = 3.6;    // W/K to kJ/(h K), exact
constexpr double loose_release = 2.0;  // loose compost gives up twice as much (judged)

/// Water vapour in saturated air [kg/kg dry]. Tetens' formula (memory; S49 gives the same constants).
double saturated_moisture(double temperature_c, double pressure_kpa) {
  const double vapour_kpa = 0.61078 * std::exp(17.27 * temperature_c / (temperature_c + 237.3));
  return 0.622 * vapour_kpa / (pressure_kpa - vapour_kpa);
}

/// Symbols of data/model.toml that a member is built from.
constexpr std::array known_symbols = std::to_array<std::string_view>({"K_C",         "K_N",
                                                                      "K_O",         "K_OC",
                                                                      "K_OF",        "K_OP",
                                                                      "K_P",         "K_S",
                                                                      "K_SE",        "K_SF",
                                                                      "K_X",         "U_wall",
                                                                      "X_Bmin",      "Y_B",
                                                                      "Y_C",         "Y_F",
                                                                      "Y_P",         "Y_an",
                                                                      "Y_st",        "alpha",
                                                                      "alpha_plain", "b_B",
                                                                      "b_E",         "b_F",
                                                                      "b_P",         "beta",
                                                                      "ciliate_cod", "ciliate_share",
                                                                      "dT_air",      "eff_B",
                                                                      "eff_F",       "eff_P",
                                                                      "eta_E",       "eta_h",
                                                                      "f_I",         "f_c",
                                                                      "f_egest",     "flagellate_cod",
                                                                      "fungal_cod",  "h_surf",
                                                                      "humic_cod",   "i_NB",
                                                                      "i_NF",        "i_NP",
                                                                      "i_NX",        "k_am",
                                                                      "k_ext",       "k_h",
                                                                      "k_surface",   "lag_B",
                                                                      "lag_F",       "mu_B",
                                                                      "mu_C",        "mu_E",
                                                                      "mu_F",        "mu_P",
                                                                      "pcod",        "q_fe",
                                                                      "q_met",       "q_st",
                                                                      "room_off",    "soluble_share",
                                                                      "theta_B",     "theta_F",
                                                                      "theta_K",     "theta_P",
                                                                      "theta_d",     "theta_h"});

/// Place of a symbol in the list above, found when the program is built; a misspelt one does not compile.
consteval std::size_t known(std::string_view symbol) {
  for (std::size_t i = 0; i < known_symbols.size(); ++i)
    if (known_symbols[i] == symbol) return i;
  throw "not a symbol of the model";
}

/// Place of a coefficient in tea::coefficients; -1 when it is always zero.
constexpr auto coefficient_places = [] {
  std::array<std::array<int, tea::state_count>, tea::process_count> places{};
  for (auto& row : places) row.fill(-1);
  for (std::size_t i = 0; i < tea::coefficients.size(); ++i)
    places[static_cast<std::size_t>(tea::coefficients[i].row)][static_cast<std::size_t>(tea::coefficients[i].column)] =
        static_cast<int>(i);
  return places;
}();

Prior spread(std::string symbol, Shape shape, const compost::Kind::Spread& from, const std::string& source) {
  return {.symbol = std::move(symbol),
          .meaning = {},
          .unit = {},
          .shape = shape,
          .middle = from.middle,
          .low = from.low,
          .high = from.high,
          .source = source};
}

}  // namespace

Unknowns::Unknowns(const Setup& setup, const Priors& priors) {
  list_.push_back({.symbol = "kla",
                   .meaning = {},
                   .unit = "1/h",
                   .shape = Shape::log_normal,
                   .middle = setup.kla20_per_h,
                   .low = unset,
                   .high = setup.kla20_spread_ln,
                   .source = "docs/air/transfer.md"});
  for (std::size_t i = 0; i < setup.composts.size(); ++i) {
    const compost::Kind& kind = setup.composts[i].kind;
    const std::string lot = "compost" + std::to_string(i + 1) + ".";
    // In the order of OfCompost.
    list_.push_back(spread(lot + "nitrogen", Shape::log_uniform, kind.nitrogen_mg_per_g, kind.source));
    list_.push_back(spread(lot + "cells", Shape::log_uniform, kind.bacteria_per_g, kind.source));
    list_.push_back(spread(lot + "carbon", Shape::log_uniform, kind.carbon_mg_cod_per_g, kind.source));
    list_.push_back(spread(lot + "uptake", Shape::log_triangular, kind.uptake_mg_per_g_vs_h, kind.source));
    list_.push_back(spread(lot + "dry_matter", Shape::triangular, kind.dry_matter_share, kind.source));
    list_.push_back(spread(lot + "volatile", Shape::triangular, kind.volatile_share, kind.source));
    list_.push_back(spread(lot + "fungi", Shape::log_uniform, kind.fungi_ug_per_g, kind.source));
    list_.push_back(spread(lot + "protozoa", Shape::log_uniform, kind.protozoa_per_g, kind.source));
  }
  for (std::size_t i = 0; i < setup.foods.size(); ++i) {
    const food::Food& food = setup.foods[i].food;
    list_.push_back({.symbol = "food" + std::to_string(i + 1) + ".cod",
                     .meaning = {},
                     .unit = "g/g",
                     .shape = Shape::triangular,
                     .middle = food.cod_g_per_g,
                     .low = food.cod_low_g_per_g,
                     .high = food.cod_high_g_per_g,
                     .source = food.source});
  }
  for (const Prior& prior : priors.all()) {
    const bool other_water = prior.symbol == (setup.foods.empty() ? "alpha" : "alpha_plain");
    const bool is_used = std::find(known_symbols.begin(), known_symbols.end(), prior.symbol) != known_symbols.end();
    if (prior.shape != Shape::fixed && is_used && !other_water) list_.push_back(prior);
  }
  for (const Correlation& c : priors.correlations()) {
    const int first = place_of(c.first), second = place_of(c.second);
    if (first >= 0 && second >= 0) ties_.push_back({first, second, c.rho});
  }
}

std::vector<double> Unknowns::values(std::span<const double> point) const {
  expects(point.size() == list_.size(), "a coordinate for each unknown");
  std::vector<double> u(point.begin(), point.end());
  const boost::math::normal normal;
  for (const Tie& tie : ties_) {
    double& second = u[static_cast<std::size_t>(tie.second)];
    const double score = tie.rho * boost::math::quantile(normal, u[static_cast<std::size_t>(tie.first)]) +
                         std::sqrt(1.0 - tie.rho * tie.rho) * boost::math::quantile(normal, second);
    second = boost::math::cdf(normal, score);
  }
  for (std::size_t i = 0; i < u.size(); ++i) u[i] = list_[i].at(u[i]);
  return u;
}

std::vector<double> Unknowns::values_of_scores(std::span<const double> scores) const {
  expects(scores.size() == list_.size(), "a score for each unknown");
  std::vector<double> values(scores.begin(), scores.end());
  for (const Tie& tie : ties_) {
    double& second = values[static_cast<std::size_t>(tie.second)];
    second = tie.rho * values[static_cast<std::size_t>(tie.first)] + std::sqrt(1.0 - tie.rho * tie.rho) * second;
  }
  constexpr double outermost = 1e-12;  // of the cube; beyond it a quantile may be infinite
  const boost::math::normal normal;
  for (std::size_t i = 0; i < values.size(); ++i)
    values[i] = list_[i].at(std::clamp(boost::math::cdf(normal, values[i]), outermost, 1.0 - outermost));
  return values;
}

std::vector<double> Unknowns::middles() const {
  std::vector<double> middles;
  for (const Prior& prior : list_) middles.push_back(prior.middle);
  return middles;
}

int Unknowns::place_of(std::string_view symbol) const {
  for (std::size_t i = 0; i < list_.size(); ++i)
    if (list_[i].symbol == symbol) return static_cast<int>(i);
  return -1;
}

MemberBuilder::MemberBuilder(const Setup& setup, const Priors& priors, const Unknowns& unknowns)
    : setup_(setup), first_compost_(1), first_food_(first_compost_ + setup.composts.size() * of_compost_count) {
  for (const std::string_view symbol : known_symbols) {
    places_.push_back(unknowns.place_of(symbol));
    fixed_.push_back(priors.of(symbol).middle);
  }
  const auto saturation = [&](double temperature_c) {
    return water::saturation_mg_per_l({.temperature_c = temperature_c, .pressure_kpa = setup.pressure_kpa}).value();
  };
  const auto moisture = [&](double temperature_c) { return saturated_moisture(temperature_c, setup.pressure_kpa); };
  const auto s = quartic_through(saturation, coldest_c, warmest_c), m = quartic_through(moisture, coldest_c, warmest_c);
  saturation_.assign(s.begin(), s.end());
  moisture_.assign(m.begin(), m.end());
  moisture_in_ = setup.room_humidity_share * saturated_moisture(setup.room_temperature_c, setup.pressure_kpa);
}

std::array<double, tea::System::shifted.size()> MemberBuilder::room_shift(double temperature_c) const {
  const double by_c = temperature_c - setup_.room_temperature_c;
  const double holds_most = saturated_moisture(temperature_c, setup_.pressure_kpa);
  return {by_c, by_c, std::min(0.0, holds_most - moisture_in_)};
}

void MemberBuilder::add_food(const FoodDose& dose, double cod_g_per_g, std::span<double> states) const {
  const food::Food& food = dose.food;
  const double g_per_l = dose.mass_g / setup_.volume_l;
  const double cod_mg_per_l = g_per_l * cod_g_per_g * 1000.0;
  states[tea::S_S] += cod_mg_per_l * food.readily_share;
  states[tea::X_S] += cod_mg_per_l * food.slowly_share;
  states[tea::S_I] += cod_mg_per_l * food.inert_share;
  const double nitrogen_mg_per_l = g_per_l * food.nitrogen_share * 1000.0;
  states[tea::S_N] += nitrogen_mg_per_l * food.nitrogen_mineral_share;
  states[food.nitrogen_is_soluble ? tea::S_ND : tea::X_ND] += nitrogen_mg_per_l * (1.0 - food.nitrogen_mineral_share);
}

std::vector<double> MemberBuilder::addition(std::size_t index, std::span<const double> values) const {
  std::vector<double> states(tea::state_count, 0.0);
  add_food(setup_.foods[index], values[first_food_ + index], states);
  return states;
}

MemberBuilder::Member MemberBuilder::build(std::span<const double> values) const {
  using namespace tea;
  const auto v = [&](std::size_t symbol) {
    const int place = places_[symbol];
    return place >= 0 ? values[static_cast<std::size_t>(place)] : fixed_[symbol];
  };
  Member member;
  member.parameters.assign(parameter_count, 0.0);
  member.coefficients.assign(tea::coefficients.size(), 0.0);
  member.start.assign(state_count, 0.0);
  std::vector<double>& p = member.parameters;
  const double litres = setup_.volume_l;
  const double area_m2 = std::numbers::pi / 4.0 * setup_.diameter_m * setup_.diameter_m;
  const double depth_m = litres / 1000.0 / area_m2;

  p[mu_B] = v(known("mu_B"));
  p[K_S] = v(known("K_S"));
  p[K_O] = v(known("K_O"));
  p[K_N] = v(known("K_N"));
  p[q_st] = v(known("q_st"));
  p[q_fe] = v(known("q_fe"));
  p[b_B] = v(known("b_B"));
  p[mu_F] = v(known("mu_F"));
  p[K_SF] = v(known("K_SF"));
  p[K_OF] = v(known("K_OF"));
  p[b_F] = v(known("b_F"));
  p[k_h] = v(known("k_h"));
  p[K_X] = v(known("K_X"));
  p[eta_h] = v(known("eta_h"));
  p[k_am] = v(known("k_am"));
  p[mu_P] = v(known("mu_P"));
  p[K_P] = v(known("K_P"));
  p[K_OP] = v(known("K_OP"));
  p[X_Bmin] = v(known("X_Bmin"));
  p[mu_C] = v(known("mu_C"));
  p[K_C] = v(known("K_C"));
  p[K_OC] = v(known("K_OC"));
  p[b_P] = v(known("b_P"));
  p[mu_E] = v(known("mu_E")) * v(known("f_c"));
  p[K_SE] = v(known("K_SE"));
  p[eta_E] = v(known("eta_E"));
  p[b_E] = v(known("b_E"));
  p[graze_P] = 1.0 / v(known("Y_P"));
  p[graze_C] = 1.0 / v(known("Y_C"));
  p[k_ext] = v(known("k_ext"));
  p[ln_theta_B] = std::log(v(known("theta_B")));
  p[ln_theta_F] = std::log(v(known("theta_F")));
  p[ln_theta_P] = std::log(v(known("theta_P")));
  p[ln_theta_h] = std::log(v(known("theta_h")));
  p[ln_theta_d] = std::log(v(known("theta_d")));
  p[ln_theta_K] = std::log(v(known("theta_K")));

  double alpha = setup_.foods.empty() ? v(known("alpha_plain")) : v(known("alpha"));
  for (const FoodDose& dose : setup_.foods) alpha = std::min(alpha, alpha * dose.food.alpha_factor);
  p[kla_air] = alpha * values[0];
  p[kla_surface] = v(known("k_surface")) / depth_m;
  constexpr double weight_kpa_per_m = 9.79;                                        // of water at 20 degC (memory)
  p[depth_factor] = 1.0 + 0.5 * depth_m * weight_kpa_per_m / setup_.pressure_kpa;  // mid-depth pressure (S15)
  const double beta = v(known("beta"));
  for (std::size_t i = 0; i < 5; ++i) {
    p[saturation_0 + i] = beta * saturation_[i];
    p[moisture_0 + i] = moisture_[i];
  }
  const double heat_kj_per_k = heat_capacity_kj_per_l_k * litres;
  const double wall_m2 = std::numbers::pi * setup_.diameter_m * depth_m + area_m2;
  p[wall_per_h] = v(known("U_wall")) * wall_m2 * kla_to_heat / heat_kj_per_k;
  p[room_c] = setup_.room_temperature_c + v(known("room_off"));
  p[bubble_air_c] = p[room_c] + v(known("dT_air"));
  p[bubble_heat_per_h] = setup_.air_flow_l_per_h / 1000.0 * air_kg_per_m3 / heat_kj_per_k;
  p[surface_heat_per_h] = area_m2 * v(known("h_surf")) * kla_to_heat / heat_kj_per_k;
  p[moisture_in] = moisture_in_;

  // Composts: what they hold per litre, and what they breathe while they are in.
  std::vector<double> held(state_count, 0.0);
  for (std::size_t i = 0; i < setup_.composts.size(); ++i) {
    const CompostLoad& load = setup_.composts[i];
    const std::span<const double> lot = values.subspan(first_compost_ + i * of_compost_count, of_compost_count);
    const double dry_g_per_l = load.mass_g * lot[of_dry_matter] / litres;
    const double release = load.in_bag ? 1.0 : loose_release;
    const double extractable = lot[of_carbon] * dry_g_per_l;
    held[S_S] += v(known("soluble_share")) * extractable;
    held[X_S] += (1.0 - v(known("soluble_share"))) * extractable;
    held[S_I] += v(known("humic_cod")) * dry_g_per_l;
    held[X_B] += dry_g_per_l * lot[of_cells] * std::min(1.0, release * v(known("eff_B"))) * v(known("pcod")) * 1e-9;
    held[X_F] += dry_g_per_l * lot[of_fungi] * std::min(1.0, release * v(known("eff_F"))) * v(known("fungal_cod"));
    const double protozoa = dry_g_per_l * lot[of_protozoa] * v(known("eff_P")) * 1e-9;
    held[X_P] += protozoa * v(known("flagellate_cod"));
    held[X_C] += protozoa * v(known("ciliate_share")) * v(known("ciliate_cod"));
    held[S_N] += dry_g_per_l * lot[of_nitrogen];
    p[bag_uptake] += lot[of_uptake] * lot[of_volatile] * dry_g_per_l;
  }
  member.cell_pg_cod = v(known("pcod"));

  // Coefficients: a row keeps COD with oxygen as -1, and nitrogen through S_N; heat follows the oxygen used.
  const double y_b = v(known("Y_B")), y_f = v(known("Y_F")), y_st = v(known("Y_st")), y_an = v(known("Y_an")),
               f_i = v(known("f_I"));
  const double n_b = v(known("i_NB")), n_f = v(known("i_NF")), n_p = v(known("i_NP")), n_x = v(known("i_NX")),
               egest = v(known("f_egest"));
  const double warmth = v(known("q_met")) / (1000.0 * heat_capacity_kj_per_l_k);  // degC per mg/L of oxygen used
  const auto set = [&](Process process, State state, double nu) {
    const int place = coefficient_places[static_cast<std::size_t>(process)][static_cast<std::size_t>(state)];
    expects(place >= 0, "a coefficient that is set stands in tea::coefficients");
    member.coefficients[static_cast<std::size_t>(place)] = nu;
  };
  const auto breathe = [&](Process process, double oxygen) {
    set(process, S_O, -oxygen);
    set(process, T, oxygen * warmth);
  };
  const auto grow = [&](Process process, State food, State life, double yield, double nitrogen) {
    set(process, food, -1.0 / yield);
    set(process, life, 1.0);
    set(process, S_N, -nitrogen);
    breathe(process, (1.0 - yield) / yield);
  };
  grow(growth_on_soluble, S_S, X_B, y_b, n_b);
  grow(growth_on_acids, S_A, X_B, y_b, n_b);
  grow(fungi_on_soluble, S_S, X_F, y_f, n_f);
  grow(fungi_on_solids, X_S, X_F, y_f, n_f);
  set(starved_storage, S_S, -1.0);
  set(starved_storage, X_S, y_st);
  breathe(starved_storage, 1.0 - y_st);
  set(fermentation, S_S, -1.0);
  set(fermentation, S_A, 1.0 - y_an);
  set(fermentation, X_B, y_an);
  set(fermentation, S_N, -n_b * y_an);
  set(fermentation_starved, S_S, -1.0);
  set(fermentation_starved, S_A, 1.0);
  set(hydrolysis, X_S, -1.0);
  set(hydrolysis, S_S, 1.0);
  set(hydrolysis_of_nitrogen, X_ND, -1.0);
  set(hydrolysis_of_nitrogen, S_ND, 1.0);
  set(ammonification, S_ND, -1.0);
  set(ammonification, S_N, 1.0);
  const auto decay = [&](Process process, State life, double nitrogen) {
    const double solids = 0.5 * (1.0 - f_i);
    set(process, life, -1.0);
    set(process, X_S, solids);
    set(process, S_I, f_i);
    set(process, X_ND, n_x * solids);
    set(process, S_N, nitrogen - n_x * solids);
    breathe(process, solids);
  };
  decay(decay_bacteria, X_B, n_b);
  decay(decay_fungi, X_F, n_f);
  decay(death_flagellates, X_P, n_p);
  decay(death_ciliates, X_C, n_p);
  const auto graze = [&](Process process, State life, double yield) {
    const double lost = (1.0 - yield) / yield, solids = egest * lost;
    set(process, X_B, -1.0 / yield);
    set(process, life, 1.0);
    set(process, X_S, solids);
    set(process, X_ND, n_x * solids);
    set(process, S_N, n_b / yield - n_p - n_x * solids);
    breathe(process, lost - solids);
  };
  graze(grazing_flagellates, X_P, v(known("Y_P")));
  graze(grazing_ciliates, X_C, v(known("Y_C")));
  breathe(bag_respiration, 1.0);
  for (const State pool : {S_S, X_S, S_I, X_B, X_F, X_P, X_C, S_N}) set(extraction, pool, held[pool]);
  set(extraction, h, -1.0);
  set(aeration, S_O, 1.0);
  set(heat_exchange, T, 1.0);
  set(adaptation_bacteria, a_B, 1.0);
  set(adaptation_fungi, a_F, 1.0);
  set(indicator_growth, E, 1.0);

  // Start.
  std::vector<double>& start = member.start;
  for (std::size_t i = 0; i < setup_.foods.size(); ++i)
    if (setup_.foods[i].at_h <= 0.0) add_food(setup_.foods[i], values[first_food_ + i], start);
  start[T] = setup_.water_temperature_c;
  double full = saturation_[4];
  for (int i = 3; i >= 0; --i) full = full * setup_.water_temperature_c + saturation_[static_cast<std::size_t>(i)];
  constexpr double bubbled_share = 0.95;  // of saturation in water that has been bubbled (judged)
  start[S_O] = std::isfinite(setup_.oxygen_start_mg_per_l) ? setup_.oxygen_start_mg_per_l : bubbled_share * full;
  start[h] = 1.0;
  start[a_B] = std::exp(-p[mu_B] * v(known("lag_B")));
  start[a_F] = std::exp(-p[mu_F] * v(known("lag_F")));
  start[E] = 1.0;
  return member;
}

}  // namespace barm::brew
