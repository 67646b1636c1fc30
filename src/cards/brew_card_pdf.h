// The brew card on one sheet of A4 or letter paper: the same content as on the terminal. Layout:
// docs/cards/brew_card.md
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "cards/brew_card.h"
#include "cards/rect.h"

namespace barm::cards {

struct Box {          // where a piece stands on the page [pt]
  std::string piece;  // "headline", "steps", ...
  Rect where;
};

struct PrintedCard {
  std::vector<std::uint8_t> bytes;
  Rect page;
  double body_size = 0.0;     // of the running text [pt]
  bool is_shortened = false;  // something was left out to fit, and the card says so
  std::vector<Box> boxes;     // of every text written and of the picture
};

/// One page whatever the plan holds: text shrinks to 7.2 pt, then the lesser sections go, then texts are cut to their
/// first lines, and the card says that it was shortened. Same plan, same bytes: the file's date is the brew's start.
PrintedCard print_brew_card(const recipe::BrewPlan& plan, const CardOptions& options, const Catalogue& catalogue);

std::vector<std::uint8_t> brew_card_pdf(const recipe::BrewPlan& plan, const CardOptions& options,
                                        const Catalogue& catalogue);

}  // namespace barm::cards
