// The night picture as an SVG image, for a page or a hand-out.
#pragma once

#include <string>

#include "cards/brew_card.h"

namespace barm::cards {

/// The picture alone as an SVG image, with the headline over it and its sentences as its description.
std::string night_svg(const recipe::BrewPlan& plan, const CardOptions& options, const Catalogue& catalogue);

}  // namespace barm::cards
