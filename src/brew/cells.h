// Biomass as it is counted: cells per mL from COD.
#pragma once

#include <algorithm>

namespace barm::brew {

inline constexpr double pg_per_ml = 1e6;           // pg/mL in 1 mg/L, exact
inline constexpr double flagellate_pg_cod = 14.0;  // COD of a flagellate (memory; data/model.toml starts from the same)
inline constexpr double fungal_ug_per_mg_cod = 700.0;  // dry mass (memory)

inline double bacteria_per_ml(double mg_cod_per_l, double cell_pg_cod) {
  return std::max(0.0, mg_cod_per_l) * pg_per_ml / cell_pg_cod;
}
inline double flagellates_per_ml(double mg_cod_per_l) {
  return std::max(0.0, mg_cod_per_l) * pg_per_ml / flagellate_pg_cod;
}
inline double fungi_ug_per_ml(double mg_cod_per_l) {
  return std::max(0.0, mg_cod_per_l) * fungal_ug_per_mg_cod / 1000.0;
}

}  // namespace barm::brew
