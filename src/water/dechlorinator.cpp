#include "water/dechlorinator.h"

#include <array>

namespace barm::water {

double stoichiometric_mg_per_mg(const Dechlorinator& chemical) {
  return chemical.molar_mass_g_per_mol * chemical.moles_per_mole_chlorine / chlorine_g_per_mol;
}

std::span<const Dechlorinator> dechlorinators() {
  // Molar masses from memory, each giving the dose of S23 to its printed digits.
  static constexpr std::array all{
      ascorbic_acid,
      sodium_ascorbate,
      thiosulfate_to_sulfate,
      thiosulfate_to_tetrathionate,
      sodium_thiosulfate,
      Dechlorinator{"sodium_thiosulfate_anhydrous_to_sulfate", 158.11, 0.25, unset},
      Dechlorinator{"sodium_thiosulfate_anhydrous_to_tetrathionate", 158.11, 2.0, unset},
      Dechlorinator{"sodium_bisulfite", 104.06, 1.0, 1.61},
      Dechlorinator{"sodium_metabisulfite", 190.11, 0.5, 1.47},
      Dechlorinator{"sodium_sulfite", 126.04, 1.0, 1.96},
      Dechlorinator{"potassium_metabisulfite", 222.32, 0.5, unset},
      Dechlorinator{"calcium_thiosulfate", unset, unset, 1.22},
  };
  return all;
}

}  // namespace barm::water
