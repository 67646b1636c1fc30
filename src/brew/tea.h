// The tea model's components, processes and parameters: what turns into what in a brew. Equations, units, sources and
// what is left out: docs/brew/model.md. All concentrations in mg/L of liquid, organic matter as COD, time in hours.
#pragma once

#include <array>

#include "brew/process_matrix.h"

namespace barm::brew::tea {

/// Where what hangs on the temperature alone (saturation, moisture of air) is fitted [degC]; level outside.
inline constexpr double coldest_c = 0.0, warmest_c = 45.0;

/// Components, in the order that keeps elimination cheap (fewest fill-ins; found by search over the pattern below).
enum State : int {
  S_I,   // inert COD, mg COD/L
  E,     // indicator bacterium, relative to 1 per mL at the start; a tracer outside the balances
  h,     // share of extractable matter still in the compost, 1 to 0
  S_ND,  // soluble organic nitrogen, mg N/L
  a_F,   // adaptation of fungi, 0 to 1
  X_ND,  // particulate organic nitrogen, mg N/L
  a_B,   // adaptation of bacteria, 0 to 1
  X_P,   // flagellates and amoebae, mg COD/L
  X_C,   // ciliates, mg COD/L
  S_A,   // fermentation acids, mg COD/L
  X_B,   // suspended bacteria, mg COD/L
  S_O,   // dissolved oxygen, mg O2/L
  S_S,   // readily biodegradable COD, mg COD/L
  X_S,   // slowly biodegradable COD, mg COD/L
  S_N,   // mineral nitrogen, mg N/L
  X_F,   // suspended fungi, mg COD/L
  T,     // liquid temperature, degC
  state_count
};

enum Process : int {
  growth_on_soluble,     // bacteria on S_S
  growth_on_acids,       // bacteria on S_A
  fungi_on_soluble,      // fungi on S_S
  fungi_on_solids,       // fungi on X_S, own enzymes
  starved_storage,       // nitrogen-starved uptake to slime
  fermentation,          // low oxygen, with nitrogen to grow on
  fermentation_starved,  // the same without nitrogen: all of it becomes acid
  hydrolysis,
  hydrolysis_of_nitrogen,
  ammonification,
  decay_bacteria,
  decay_fungi,
  grazing_flagellates,
  grazing_ciliates,
  death_flagellates,
  death_ciliates,
  bag_respiration,  // draws on the compost, not on the liquid
  extraction,
  aeration,       // bubbles and surface
  heat_exchange,  // wall, bubbles, surface
  adaptation_bacteria,
  adaptation_fungi,
  indicator_growth,
  process_count
};

/// Stoichiometric coefficients that are not zero. Their values: coefficients_of (member.h).
inline constexpr std::array coefficients = {Cell{growth_on_soluble, S_O},
                                            Cell{growth_on_soluble, S_S},
                                            Cell{growth_on_soluble, X_B},
                                            Cell{growth_on_soluble, S_N},
                                            Cell{growth_on_soluble, T},
                                            Cell{growth_on_acids, S_O},
                                            Cell{growth_on_acids, S_A},
                                            Cell{growth_on_acids, X_B},
                                            Cell{growth_on_acids, S_N},
                                            Cell{growth_on_acids, T},
                                            Cell{fungi_on_soluble, S_O},
                                            Cell{fungi_on_soluble, S_S},
                                            Cell{fungi_on_soluble, X_F},
                                            Cell{fungi_on_soluble, S_N},
                                            Cell{fungi_on_soluble, T},
                                            Cell{fungi_on_solids, S_O},
                                            Cell{fungi_on_solids, X_S},
                                            Cell{fungi_on_solids, X_F},
                                            Cell{fungi_on_solids, S_N},
                                            Cell{fungi_on_solids, T},
                                            Cell{starved_storage, S_O},
                                            Cell{starved_storage, S_S},
                                            Cell{starved_storage, X_S},
                                            Cell{starved_storage, T},
                                            Cell{fermentation, S_S},
                                            Cell{fermentation, S_A},
                                            Cell{fermentation, X_B},
                                            Cell{fermentation, S_N},
                                            Cell{fermentation_starved, S_S},
                                            Cell{fermentation_starved, S_A},
                                            Cell{hydrolysis, X_S},
                                            Cell{hydrolysis, S_S},
                                            Cell{hydrolysis_of_nitrogen, X_ND},
                                            Cell{hydrolysis_of_nitrogen, S_ND},
                                            Cell{ammonification, S_ND},
                                            Cell{ammonification, S_N},
                                            Cell{decay_bacteria, S_O},
                                            Cell{decay_bacteria, X_S},
                                            Cell{decay_bacteria, S_I},
                                            Cell{decay_bacteria, X_B},
                                            Cell{decay_bacteria, S_N},
                                            Cell{decay_bacteria, X_ND},
                                            Cell{decay_bacteria, T},
                                            Cell{decay_fungi, S_O},
                                            Cell{decay_fungi, X_S},
                                            Cell{decay_fungi, S_I},
                                            Cell{decay_fungi, X_F},
                                            Cell{decay_fungi, S_N},
                                            Cell{decay_fungi, X_ND},
                                            Cell{decay_fungi, T},
                                            Cell{grazing_flagellates, S_O},
                                            Cell{grazing_flagellates, X_S},
                                            Cell{grazing_flagellates, X_B},
                                            Cell{grazing_flagellates, X_P},
                                            Cell{grazing_flagellates, S_N},
                                            Cell{grazing_flagellates, X_ND},
                                            Cell{grazing_flagellates, T},
                                            Cell{grazing_ciliates, S_O},
                                            Cell{grazing_ciliates, X_S},
                                            Cell{grazing_ciliates, X_B},
                                            Cell{grazing_ciliates, X_C},
                                            Cell{grazing_ciliates, S_N},
                                            Cell{grazing_ciliates, X_ND},
                                            Cell{grazing_ciliates, T},
                                            Cell{death_flagellates, S_O},
                                            Cell{death_flagellates, X_S},
                                            Cell{death_flagellates, S_I},
                                            Cell{death_flagellates, X_P},
                                            Cell{death_flagellates, S_N},
                                            Cell{death_flagellates, X_ND},
                                            Cell{death_flagellates, T},
                                            Cell{death_ciliates, S_O},
                                            Cell{death_ciliates, X_S},
                                            Cell{death_ciliates, S_I},
                                            Cell{death_ciliates, X_C},
                                            Cell{death_ciliates, S_N},
                                            Cell{death_ciliates, X_ND},
                                            Cell{death_ciliates, T},
                                            Cell{bag_respiration, S_O},
                                            Cell{bag_respiration, T},
                                            Cell{extraction, S_S},
                                            Cell{extraction, X_S},
                                            Cell{extraction, S_I},
                                            Cell{extraction, X_B},
                                            Cell{extraction, X_F},
                                            Cell{extraction, X_P},
                                            Cell{extraction, X_C},
                                            Cell{extraction, S_N},
                                            Cell{extraction, h},
                                            Cell{aeration, S_O},
                                            Cell{heat_exchange, T},
                                            Cell{adaptation_bacteria, a_B},
                                            Cell{adaptation_fungi, a_F},
                                            Cell{indicator_growth, E}};

/// Which components each rate depends on.
inline constexpr std::array slopes = {Cell{growth_on_soluble, S_O},
                                      Cell{growth_on_soluble, S_S},
                                      Cell{growth_on_soluble, S_A},
                                      Cell{growth_on_soluble, S_N},
                                      Cell{growth_on_soluble, X_B},
                                      Cell{growth_on_soluble, a_B},
                                      Cell{growth_on_soluble, T},
                                      Cell{growth_on_acids, S_O},
                                      Cell{growth_on_acids, S_S},
                                      Cell{growth_on_acids, S_A},
                                      Cell{growth_on_acids, S_N},
                                      Cell{growth_on_acids, X_B},
                                      Cell{growth_on_acids, a_B},
                                      Cell{growth_on_acids, T},
                                      Cell{fungi_on_soluble, S_O},
                                      Cell{fungi_on_soluble, S_S},
                                      Cell{fungi_on_soluble, S_N},
                                      Cell{fungi_on_soluble, X_F},
                                      Cell{fungi_on_soluble, a_F},
                                      Cell{fungi_on_soluble, T},
                                      Cell{fungi_on_solids, S_O},
                                      Cell{fungi_on_solids, X_S},
                                      Cell{fungi_on_solids, S_N},
                                      Cell{fungi_on_solids, X_F},
                                      Cell{fungi_on_solids, a_F},
                                      Cell{fungi_on_solids, T},
                                      Cell{starved_storage, S_O},
                                      Cell{starved_storage, S_S},
                                      Cell{starved_storage, S_N},
                                      Cell{starved_storage, X_B},
                                      Cell{starved_storage, a_B},
                                      Cell{starved_storage, T},
                                      Cell{fermentation, S_O},
                                      Cell{fermentation, S_S},
                                      Cell{fermentation, S_N},
                                      Cell{fermentation, X_B},
                                      Cell{fermentation, a_B},
                                      Cell{fermentation, T},
                                      Cell{fermentation_starved, S_O},
                                      Cell{fermentation_starved, S_S},
                                      Cell{fermentation_starved, S_N},
                                      Cell{fermentation_starved, X_B},
                                      Cell{fermentation_starved, a_B},
                                      Cell{fermentation_starved, T},
                                      Cell{hydrolysis, S_O},
                                      Cell{hydrolysis, X_S},
                                      Cell{hydrolysis, X_B},
                                      Cell{hydrolysis, X_F},
                                      Cell{hydrolysis, T},
                                      Cell{hydrolysis_of_nitrogen, S_O},
                                      Cell{hydrolysis_of_nitrogen, X_S},
                                      Cell{hydrolysis_of_nitrogen, X_ND},
                                      Cell{hydrolysis_of_nitrogen, X_B},
                                      Cell{hydrolysis_of_nitrogen, X_F},
                                      Cell{hydrolysis_of_nitrogen, T},
                                      Cell{ammonification, S_ND},
                                      Cell{ammonification, X_B},
                                      Cell{ammonification, X_F},
                                      Cell{ammonification, T},
                                      Cell{decay_bacteria, S_O},
                                      Cell{decay_bacteria, X_B},
                                      Cell{decay_bacteria, T},
                                      Cell{decay_fungi, S_O},
                                      Cell{decay_fungi, X_F},
                                      Cell{decay_fungi, T},
                                      Cell{grazing_flagellates, S_O},
                                      Cell{grazing_flagellates, X_B},
                                      Cell{grazing_flagellates, X_P},
                                      Cell{grazing_flagellates, T},
                                      Cell{grazing_ciliates, S_O},
                                      Cell{grazing_ciliates, X_B},
                                      Cell{grazing_ciliates, X_C},
                                      Cell{grazing_ciliates, T},
                                      Cell{death_flagellates, S_O},
                                      Cell{death_flagellates, X_P},
                                      Cell{death_flagellates, T},
                                      Cell{death_ciliates, S_O},
                                      Cell{death_ciliates, X_C},
                                      Cell{death_ciliates, T},
                                      Cell{bag_respiration, S_O},
                                      Cell{bag_respiration, T},
                                      Cell{extraction, h},
                                      Cell{aeration, S_O},
                                      Cell{aeration, T},
                                      Cell{heat_exchange, T},
                                      Cell{adaptation_bacteria, a_B},
                                      Cell{adaptation_bacteria, T},
                                      Cell{adaptation_fungi, a_F},
                                      Cell{adaptation_fungi, T},
                                      Cell{indicator_growth, E},
                                      Cell{indicator_growth, S_S},
                                      Cell{indicator_growth, S_O},
                                      Cell{indicator_growth, T},
                                      Cell{indicator_growth, X_B},
                                      Cell{indicator_growth, X_P},
                                      Cell{indicator_growth, X_C}};

/// What the rates need to know of one member. Symbols as in data/model.toml; rates at 20 degC.
enum Parameter : int {
  mu_B,
  K_S,
  K_O,
  K_N,
  q_st,
  q_fe,
  b_B,
  mu_F,
  K_SF,
  K_OF,
  b_F,
  k_h,
  K_X,
  eta_h,
  k_am,
  mu_P,
  K_P,
  K_OP,
  X_Bmin,
  mu_C,
  K_C,
  K_OC,
  b_P,
  mu_E,  // at 20 degC, times the competition factor f_c
  K_SE,
  eta_E,
  b_E,
  graze_P,
  graze_C,  // 1/Y_P, 1/Y_C: bacteria eaten per grazer grown
  ln_theta_B,
  ln_theta_F,
  ln_theta_P,
  ln_theta_h,
  ln_theta_d,
  ln_theta_K,
  bag_uptake,  // mg O2/(L h): SOUR20 x volatile solids per litre
  k_ext,
  kla_air,
  kla_surface,   // 1/h: alpha x KLa20 of the bubbles; exchange without them
  depth_factor,  // mean pressure on the bubbles over that at the surface
  saturation_0,
  saturation_1,
  saturation_2,
  saturation_3,
  saturation_4,  // polynomial in degC: mg/L at the site, times beta
  wall_per_h,    // heat through wall and floor
  room_c,
  bubble_air_c,       // of the room; of the air the pump blows
  bubble_heat_per_h,  // dry air through the liquid [kg/h] over its heat capacity [kJ/K] x 1 kJ/K
  surface_heat_per_h,
  moisture_in,  // kg water per kg dry air in the room
  moisture_0,
  moisture_1,
  moisture_2,
  moisture_3,
  moisture_4,  // saturated, polynomial in degC
  parameter_count
};

/// What is kept of a member at each output time.
enum Observed : int {
  oxygen,
  temperature,
  bacteria,
  fungi,
  flagellates,
  ciliates,
  indicator,
  uptake,
  readily,
  acids,
  nitrogen,
  saturation,
  observed_count
};

/// The lists above under the names the solver asks for.
struct System {
  static constexpr int state_count = tea::state_count;
  static constexpr int process_count = tea::process_count;
  static constexpr int parameter_count = tea::parameter_count;
  static constexpr int observed_count = tea::observed_count;
  static constexpr const auto& coefficients = tea::coefficients;
  static constexpr const auto& slopes = tea::slopes;
  static constexpr bool forced = false;  // rates do not depend on the time itself
  static constexpr int watched = S_O;    // the state whose lowest value is kept
  /// Parameters that may change on the way, the same for every member: what the room's warmth decides.
  static constexpr std::array shifted = {room_c, bubble_air_c, moisture_in};
  /// Absolute tolerance of each state, in its own unit.
  static constexpr std::array<double, state_count> absolute = {1.0,  1e-3, 1e-5, 1e-3, 1e-5, 1e-3, 1e-5, 1e-6, 1e-6,
                                                               1e-2, 1e-2, 1e-3, 1e-1, 1e-1, 1e-3, 1e-4, 1e-2};
  /// Below this a state counts as impossible and the step is taken again, shorter; T may be anything. Oxygen has more
  /// room (shown as none): decay draws a little even where there is none, until the Monod terms balance it above their
  /// pole.
  static constexpr std::array<double, state_count> floor = {-1e-2, -1e-2, -1e-3, -1e-2, -1e-3, -1e-2,
                                                            -1e-3, -1e-2, -1e-2, -1e-2, -1e-2, -8e-2,
                                                            -1e-2, -1e-2, -1e-2, -1e-2, -1e9};
};

}  // namespace barm::brew::tea
