// Lengths and cells to dry mass, and fungi to bacteria with all that is uncertain in it. Equations:
// docs/count/hyphae.md
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "quantity/answer.h"
#include "quantity/figure.h"

namespace barm::count {

/// What turns a volume of cells into dry mass: factors that multiply, each with its published range.
struct BiomassFactors {
  std::string id{};
  std::vector<Figure> fungal{}, bacterial{};  // their product: g dry per cm3 of living volume
  std::string source{};
};
struct CellFigures {  // of cells nobody measured, and of how well they are measured
  Figure hyphal_diameter_um{}, bacterial_volume_um3{};
  Figure diameter_reading{}, size_reading{};  // a mean square, a volume: true over read
  Figure fungal_carbon{};                     // g C per g dry
  Figure bacterial_carbon_fg_per_um3{};
  std::string source{};
};

/// Volume of a rod with round ends [um3], no wider than long; as wide as long it is a sphere.
double rod_volume_um3(double width_um, double length_um);
/// Volume of a thread [um3].
double thread_volume_um3(double length_m, double diameter_um);
/// Its dry mass [ug]. Source: S66: volume x density x dry matter.
double dry_mass_ug(double volume_um3, const std::vector<Figure>& factors);

struct Counted {  // a number whose error is a t (0 degrees: normal) on the logarithm
  double value = unset;
  double ln_standard_error = 0.0;
  std::int64_t degrees_of_freedom = 0;
  double none_seen_high_95 = unset;  // of a value of 0: its exact Poisson limit
};

struct Biomass {
  Counted hyphae_m_per_ml{};
  std::vector<double> diameter_um{};                     // as measured; empty: nobody did
  Counted bacteria_per_ml{};                             // value unset: not counted
  double cell_width_um = unset, cell_length_um = unset;  // both or neither
};

struct Band {
  double middle = unset, low_95 = unset, high_95 = unset;
};
struct BiomassTold {
  Band fungi_ug_per_ml{}, bacteria_ug_per_ml{};  // dry
  Band fungi_to_bacteria{};                      // of dry mass
  Band fungi_to_bacteria_carbon{};
  double mean_diameter_um = unset;  // root of the mean square, as the mass asks
  double conversion_share = unset;  // of the variance of ln F:B (of fungi, where no bacteria): what counting cannot
                                    // mend; unset: no thread, or a length without error
};

/// Dry mass of both and their ratio. `middle` is worked out with the usual factors; the 95 % limits are those of the
/// whole: counting errors as t on the logarithm (nothing seen: what an exact Poisson limit leaves), every factor
/// triangular over its range, joined by 2,048 evenly spread draws, the same each time. Range: threads 0 to 1e6 m/mL of
/// 0.5 to 50 um, cells 0 to 1e13/mL of 0.1 to 20 um. Left out: whether threads and cells are alive, and that sources
/// disagree beyond their own ranges (compare the sets). Doubts: a diameter or cells nobody measured, threads that
/// fill the sample. Refuses: what is outside its range, one of width and length alone, a cell wider than long. Fields
/// of the remarks: "diameters[i]", "bacteria", "cell_width", "cell_length".
Answer<BiomassTold> biomass_of(const Biomass& in, const BiomassFactors& factors, const CellFigures& cells);

}  // namespace barm::count
