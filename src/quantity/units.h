// The units people write, each with its factor to the unit inside the program. Table with sources:
// docs/quantity/units.md
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "quantity/dimension.h"
#include "quantity/text.h"

namespace barm {

/// One unit of one dimension. What a reading says inside: (reading - zero) * factor.
struct Unit {
  std::string_view spelling;  // as we print it
  std::string_view others;    // other accepted spellings, in the plain form of `plain_unit`, parted by '|'
  Dimension dimension;
  double factor;            // units inside per unit; exact where the definition is, else to the last bit of its source
  std::string_view source;  // key of docs/sources.md
  double zero = 0.0;        // reading at which the quantity inside is 0; only temperatures differ from 0
};

/// All units, grouped by dimension.
std::span<const Unit> units();

constexpr double to_inside(const Unit& unit, double reading) {
  return (reading - unit.zero) * unit.factor;
}
constexpr double from_inside(const Unit& unit, double inside) {
  return inside / unit.factor + unit.zero;
}

/// The unit whose printed spelling this is. Broken promise when the table has none.
const Unit& unit_spelled(std::string_view spelling, Dimension dimension);

/// A few spellings accepted for a dimension, "L, mL, US gal, cup"; empty for a plain number.
std::string_view accepted_spellings(Dimension dimension);

/// A spelling brought to plain form: one space between words, no full stops or brackets, "per" as "/", "L-1" as "/L".
std::string plain_unit(std::string_view folded_text);

/// What a spelling may mean. One meaning: `unit` is set. Several: only `readings` is filled. None: both are empty.
struct Meaning {
  const Unit* unit = nullptr;
  std::vector<const Unit*> readings;
};

/// Looks a unit up, first as written, then without regard to capitals where only one unit fits and no prefix changes
/// ("ML" is not "mL"). Prefers the wanted dimension, but also finds units of others, for the caller to judge.
/// `text` is folded (fold.h). A bare "gal" has one meaning only when `gallon` says which.
Meaning find_unit(std::string_view text, std::optional<Dimension> wanted, std::optional<Gallon> gallon);

/// The printed spelling nearest to a misspelt unit among those of a dimension; empty when none is near.
std::string likely_unit(std::string_view text, Dimension wanted);

}  // namespace barm
