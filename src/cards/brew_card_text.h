// The brew card for a terminal: plain UTF-8, readable without colour. Order and reasons: docs/cards/brew_card.md
#pragma once

#include <string>

#include "cards/brew_card.h"

namespace barm::cards {

/// The card as lines of at most `options.columns`, ending with a newline.
std::string brew_card_text(const recipe::BrewPlan& plan, const CardOptions& options, const Catalogue& catalogue);

}  // namespace barm::cards
