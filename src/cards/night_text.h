// The night picture in characters, for a terminal or a plain-text message. Needs no colour.
#pragma once

#include <string>
#include <vector>

#include "cards/night_picture.h"

namespace barm::cards {

/// Lines of at most `columns` (60 to 120): acts, night, the band (░ 90 of 100, ▒ half, line the middle), the clock and
/// the ready bracket. A row is 1 mg/L. Nothing when the picture is empty.
std::vector<std::string> night_text(const NightPicture& picture, int columns);

}  // namespace barm::cards
