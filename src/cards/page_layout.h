// How a brew card stands on a page: the pieces, measured and then written, at a size and with what is left out.
#pragma once

#include <cstdint>
#include <vector>

#include "cards/brew_card.h"
#include "cards/brew_card_pdf.h"
#include "cards/ink.h"

namespace barm::cards {

/// How the lower part of the page is shared out between its two columns.
enum class Place : std::uint8_t { left, right, below };
struct Shares {
  double left = 0.5;              // of the width
  Place cautions = Place::right;  // under the amounts, under the steps, or under both across the page
};

struct Fit {                     // how far a card is squeezed
  double body_size = 9.4;        // points
  double least_picture = 165.0;  // height [pt]
  bool with_lesser = true;       // life, the other ways to clear the water, how the air was worked out
  bool with_table = true;
  int lines = 0;         // of a text; 0: all
  std::size_t rows = 0;  // of a list; 0: all
  Shares shares = {};
  bool is_shortened() const { return !with_lesser || !with_table || lines > 0 || rows > 0; }
};

/// The shares that make the lower part shortest.
Shares best_shares(const Sheet& sheet, const BrewCard& card, const Rect& page, const Fit& fit);

/// What is left between the pieces for the picture [pt]; negative when the pieces alone overflow.
double room_for_picture(const Sheet& sheet, const BrewCard& card, const Rect& page, const Fit& fit);

/// Writes the card and tells where everything stands.
std::vector<Box> write_page(const Sheet& sheet, const BrewCard& card, const Rect& page, const Fit& fit);

}  // namespace barm::cards
