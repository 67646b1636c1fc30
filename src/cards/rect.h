// A place on a page [pt, 1/72 inch], measured from its top left corner.
#pragma once

namespace barm::cards {

struct Rect {
  double x = 0.0, y = 0.0, width = 0.0, height = 0.0;
  double right() const { return x + width; }
  double bottom() const { return y + height; }
};

}  // namespace barm::cards
