// Inside of reading: one amount, or a sum of amounts of one dimension, in folded text. Used by text.cpp only.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "quantity/text.h"
#include "quantity/units.h"

namespace barm {

/// What a reading is looked at for: one dimension, or mass or volume alike.
struct Wanted {
  std::string_view given;  // the whole text, to be shown back
  std::optional<Dimension> dimension;
  const Customs& customs;

  bool fits(Dimension found) const {
    if (dimension) return found == *dimension;
    return found == Dimension::mass || found == Dimension::volume;
  }
  std::string accepted() const {
    return std::string(dimension ? accepted_spellings(*dimension) : "g, oz, mL, cup, tbsp, tsp");
  }
};

struct Term {
  double inside = unset;
  Dimension dimension = Dimension::number;
  const Unit* unit = nullptr;  // none for a plain number
};

/// A remark about the whole text.
Remark remark(const Wanted& wanted, std::string_view code);

/// The text folded, or why it cannot be read at all.
Answer<std::string> prepared(const Wanted& wanted);

/// Reads "number unit [number unit ...]" from folded text, four terms at most ("1 d 2 h 30 min 15 s").
Answer<Term> read_terms(const Wanted& wanted, std::string_view text);

}  // namespace barm
