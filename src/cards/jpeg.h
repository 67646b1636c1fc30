// What a page needs to know of a JPEG file, and the file without what it need not know.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace barm::cards {

/// How the picture lies in the file: what is to be done to it so that it stands upright. Exif 2.32, 4.6.4 A,
/// Orientation (from memory); its figures.
enum class Lie : std::uint8_t {
  upright = 1,
  mirrored = 2,
  upside_down = 3,
  flipped = 4,
  transposed = 5,
  on_its_left = 6,
  transversed = 7,
  on_its_right = 8
};

struct Jpeg {
  unsigned width = 0, height = 0;  // points, as they lie in the file
  Lie lie = Lie::upright;
  std::string bare{};  // the file without where and with what it was taken, comments, and what follows its end
};

/// Nothing when the bytes are no JPEG in grey or colours of eight bits (baseline, extended or progressive) that is
/// whole: with a frame, a scan, and its end.
std::optional<Jpeg> read_jpeg(std::string_view bytes);

}  // namespace barm::cards
