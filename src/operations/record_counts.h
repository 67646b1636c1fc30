// What the counts kept of a brew or a lot of compost say, up to an instant: to the forecast and to the verdict.
#pragma once

#include <map>
#include <optional>
#include <string>

#include "count/estimate.h"
#include "operations/record_fields.h"

namespace barm::operations {

/// What was seen under the microscope at one instant, per mL. Unset: not looked for.
struct SeenCounts {
  count::Estimate bacteria{}, flagellates{}, amoebae{}, ciliates{};
  /// Flagellates and amoebae, which one slide tells as one number; its error is unset where that of a part is.
  count::Estimate protozoa() const;
  /// Whether a forecast learns from it.
  bool learns() const;
};

struct BrewCounts {
  std::map<std::int64_t, SeenCounts> seen{};  // by instant
  std::int64_t learned_count = 0;             // entries a forecast learns from
  std::int64_t left_out_count = 0;            // and others
  double e_coli_per_ml = unset;               // the highest found
  bool germ_found = false;                    // Salmonella or Listeria
};

struct LotCounts {
  double bacteria_per_g = unset, bacteria_ln_error = unset;  // the newest seen under the microscope
  std::int64_t counts_count = 0, grown_count = 0;            // in all; of bacteria, by what grows
};

/// Natural logarithm's standard error of a count between 95 % limits; unset without both, or with a lower one of none.
double ln_error_of(double low_95, double high_95);

/// The model counts cells: plates and tubes show only those that grow, so a forecast leaves them out.
BrewCounts counts_of_brew(records::Store& store, const std::string& brew_id, std::optional<std::int64_t> until,
                          Findings& findings);
LotCounts counts_of_lot(records::Store& store, const std::string& lot_id, std::optional<std::int64_t> until,
                        Findings& findings);

}  // namespace barm::operations
