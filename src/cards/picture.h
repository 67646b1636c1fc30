// A photo on paper, from the bytes of its file.
#pragma once

#include <memory>
#include <optional>
#include <string_view>

#include "cards/ink.h"

namespace barm::cards {

class Picture {
 public:
  /// A PNG, or a JPEG in grey or colours of eight bits; nothing when the bytes are none that can be shown, or of more
  /// than 24 million points. A JPEG goes onto the page as it is, byte for byte.
  static std::optional<Picture> read(std::string_view bytes);

  /// As large as fits, its proportions kept.
  Extent fitted(const Extent& room) const;
  void draw(const Sheet& sheet, const Rect& where) const;

 private:
  explicit Picture(std::shared_ptr<cairo_surface_t> surface) : surface_(std::move(surface)) {}
  std::shared_ptr<cairo_surface_t> surface_;
};

}  // namespace barm::cards
