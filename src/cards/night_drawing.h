// The night picture drawn: the same hand for the printed card and the hand-out.
#pragma once

#include "cards/ink.h"
#include "cards/night_picture.h"

namespace barm::cards {

/// Draws the picture into a rectangle of the sheet; `text_size` [pt] is that of its words. Nothing when it is empty.
void draw_night(const Sheet& sheet, const NightPicture& picture, const Rect& where, double text_size);

}  // namespace barm::cards
