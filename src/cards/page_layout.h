// How a brew card stands on a page: the pieces, measured and then written, at a size and with what is left out.
#pragma once

#include <string>
#include <vector>

#include "cards/brew_card.h"
#include "cards/brew_card_pdf.h"
#include "cards/ink.h"

namespace barm::cards {

struct Fit {                     // how far a card is squeezed
  double body_size = 9.4;        // points
  double least_picture = 165.0;  // height [pt]
  bool with_lesser = true;       // life, the other ways to clear the water, how the air was worked out
  bool with_table = true;
  int lines = 0;         // of a text; 0: all
  std::size_t rows = 0;  // of a list; 0: all
  bool is_shortened() const { return !with_lesser || !with_table || lines > 0 || rows > 0; }
};

/// What is left between the pieces for the picture [pt]; negative when the pieces alone overflow.
double room_for_picture(const Sheet& sheet, const BrewCard& card, const Rect& page, const Fit& fit);

/// Writes the card and tells where everything stands.
std::vector<Box> write_page(const Sheet& sheet, const BrewCard& card, const Rect& page, const Fit& fit);

}  // namespace barm::cards
