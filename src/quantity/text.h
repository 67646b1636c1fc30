// Quantities as people write them, and back. The only door between text with units and numbers without.
// Spellings, factors and their sources: src/quantity/units.h and docs/quantity/units.md
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "quantity/answer.h"
#include "quantity/dimension.h"

namespace barm {

/// What a garden means by its words. A bare "gal", "qt" or "pint" differs by a fifth between the two customs, so it is
/// refused, with both readings offered, until the garden has said which.
enum class Gallon : std::uint8_t { us, imperial };
enum class Measures : std::uint8_t { us, metric };
struct Customs {
  std::optional<Gallon> gallon;
  Measures measures = Measures::metric;  // in which quantities are printed
};

/// A stretch from low to high; both equal for a single value.
struct Range {
  double low = unset;
  double high = unset;
};

/// Reads a quantity in the unit of `unit_inside(dimension)`. Takes decimals, fractions ("1 1/2 lb", "¼ tsp"), sums of
/// one dimension ("1 lb 8 oz", "1 h 30 min"). Refuses, naming what would be accepted: no number, no unit (where the
/// dimension has one), an unknown unit (with the likely spelling), a unit of another dimension, an unclear one ("gal",
/// "1,500 L"), a number that is not finite. Bounds are the caller's.
Answer<double> read_quantity(std::string_view text, Dimension dimension, const Customs& customs = {});

/// The same for "65–75 °F", "18 to 22 degC" or a single value.
Answer<Range> read_range(std::string_view text, Dimension dimension, const Customs& customs = {});

/// A microbe food or other stock as it was measured out: by mass or by volume.
struct Amount {
  Quantity measured;  // mass [g] or volume [L]
};
/// Reads a mass or a volume.
Answer<Amount> read_amount(std::string_view text, const Customs& customs = {});

/// Converts text to another unit ("4 tbsp" to "mL"). Refuses unknown units and different dimensions.
struct Converted {
  double value = unset;
  std::string unit;  // as our table spells it
  Dimension dimension = Dimension::number;
};
Answer<Converted> convert(std::string_view text, std::string_view unit, const Customs& customs = {});

/// Writes a quantity in the garden's measures, with no more digits than `significant` (default 3) deserve: "19 L",
/// "5 US gal", "21.5 °C". Never prints "nan": a number that is not finite is written "unknown".
std::string write(Quantity quantity, const Customs& customs = {}, int significant = 3);

}  // namespace barm
