// Chemicals that take chlorine away: how much of each a milligram of chlorine needs. Sources: docs/water/chlorine.md
#pragma once

#include <span>
#include <string_view>

#include "quantity/answer.h"

namespace barm::water {

/// The gram molecule of chlorine, Cl2, in which doses are counted [g/mol]. Source: S23.
inline constexpr double chlorine_g_per_mol = 70.906;

struct Dechlorinator {
  std::string_view name;           // as in the published rows
  double molar_mass_g_per_mol;     // S23; unset when only the field dose is known
  double moles_per_mole_chlorine;  // S23; unset as above
  double field_mg_per_mg;          // S24, field results at pH 7; unset when only the stoichiometric dose is known
};

/// Dose by stoichiometry [mg per mg of chlorine as Cl2]: the least that can do. Source: S23.
double stoichiometric_mg_per_mg(const Dechlorinator& chemical);

inline constexpr Dechlorinator ascorbic_acid{"ascorbic_acid", 176.124, 1.0, 2.5};
inline constexpr Dechlorinator sodium_ascorbate{"sodium_ascorbate", 198.106, 1.0, 2.8};
// With its five waters, as sold for ponds and pools. How far chlorine takes it depends on the water treated.
inline constexpr Dechlorinator thiosulfate_to_sulfate{"sodium_thiosulfate_pentahydrate_to_sulfate", 248.18, 0.25,
                                                      unset};
inline constexpr Dechlorinator thiosulfate_to_tetrathionate{"sodium_thiosulfate_pentahydrate_to_tetrathionate", 248.18,
                                                            2.0, unset};
inline constexpr Dechlorinator sodium_thiosulfate{"sodium_thiosulfate", unset, unset, 1.9};

/// All known ones, with those this program does not advise for a brew (the sulfites take its oxygen as well).
std::span<const Dechlorinator> dechlorinators();

}  // namespace barm::water
