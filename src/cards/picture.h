// A photo on paper, from the bytes of its file.
#pragma once

#include <memory>
#include <optional>
#include <string_view>

#include "cards/ink.h"
#include "cards/jpeg.h"

namespace barm::cards {

class Picture {
 public:
  /// A PNG, or a JPEG in grey or colours of eight bits; nothing when the bytes are none that can be shown, cut off, or
  /// of more than 24 million points. What a JPEG shows goes onto the page as it was kept, turned upright; where and
  /// with what it was taken stays in the record.
  static std::optional<Picture> read(std::string_view bytes);

  /// As large as fits, its proportions kept.
  Extent fitted(const Extent& room) const;
  void draw(const Sheet& sheet, const Rect& where) const;

 private:
  Picture(std::shared_ptr<cairo_surface_t> surface, Lie lie) : surface_(std::move(surface)), lie_(lie) {}
  Extent extent() const;  // upright, in points
  std::shared_ptr<cairo_surface_t> surface_;
  Lie lie_;
};

}  // namespace barm::cards
