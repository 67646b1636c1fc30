#include "cards/jpeg.h"

namespace barm::cards {
namespace {

using namespace std::string_view_literals;

// ITU-T T.81, table B.1
constexpr unsigned frame_first = 0xC0, frame_last = 0xC2;  // baseline, extended, progressive
constexpr unsigned restart_first = 0xD0, restart_last = 0xD7, end_of_image = 0xD9, start_of_scan = 0xDA;
constexpr unsigned application_1 = 0xE1, application_2 = 0xE2, application_3 = 0xE3, application_13 = 0xED,
                   comment = 0xFE;

unsigned byte_at(std::string_view bytes, std::size_t at) {
  return static_cast<unsigned char>(bytes[at]);
}
unsigned two_at(std::string_view bytes, std::size_t at) {
  return byte_at(bytes, at) << 8U | byte_at(bytes, at + 1);
}

/// Numbers of an Exif block, in the order of bytes it has; 0 past its end.
class Tiff {
 public:
  explicit Tiff(std::string_view bytes) : bytes_(bytes), is_little_(bytes.starts_with("II")) {}
  unsigned two(std::size_t at) const {
    if (at + 2 > bytes_.size()) return 0;
    return is_little_ ? byte_at(bytes_, at + 1) << 8U | byte_at(bytes_, at) : two_at(bytes_, at);
  }
  std::size_t four(std::size_t at) const {
    return is_little_ ? std::size_t{two(at + 2)} << 16U | two(at) : std::size_t{two(at)} << 16U | two(at + 2);
  }

 private:
  std::string_view bytes_;
  bool is_little_;
};

/// TIFF 6.0, section 2: header of eight bytes, then a directory of entries of twelve: tag, type, count, value.
Lie lie_of(std::string_view exif) {
  constexpr std::string_view signature = "Exif\0\0"sv;
  constexpr unsigned orientation = 0x0112, entry_bytes = 12;
  if (!exif.starts_with(signature)) return Lie::upright;
  const Tiff tiff(exif.substr(signature.size()));
  const std::size_t directory = tiff.four(4), count = tiff.two(directory);
  for (std::size_t i = 0; i < count; ++i) {
    const std::size_t entry = directory + 2 + i * entry_bytes;
    const unsigned value = tiff.two(entry + 8);
    if (tiff.two(entry) == orientation && value >= 1 && value <= 8) return static_cast<Lie>(value);
  }
  return Lie::upright;
}

/// Where the coded picture after a scan's header ends: at the next marker that is no restart.
std::size_t end_of_scan(std::string_view bytes, std::size_t at) {
  for (; at + 2 <= bytes.size(); ++at) {
    if (byte_at(bytes, at) != 0xFF) continue;
    const unsigned marker = byte_at(bytes, at + 1);
    const bool goes_on = marker == 0x00 || marker == 0xFF || (marker >= restart_first && marker <= restart_last);
    if (!goes_on) return at;
  }
  return bytes.size();
}

bool read_frame(std::string_view segment, Jpeg& jpeg) {
  constexpr std::size_t header = 8;  // length, precision, height, width, components
  if (segment.size() < header || byte_at(segment, 2) != 8) return false;
  const unsigned components = byte_at(segment, 7);
  jpeg.height = two_at(segment, 3);
  jpeg.width = two_at(segment, 5);
  return components == 1 || components == 3;  // four are inks of a press
}

/// What tells where, when and with what a picture was taken. Kept: how its numbers and colours are meant.
bool is_left_out(unsigned marker, std::string_view content) {
  const bool is_profile = content.starts_with("ICC_PROFILE\0"sv);
  return marker == application_1 || (marker >= application_3 && marker <= application_13) || marker == comment ||
         (marker == application_2 && !is_profile);
}

}  // namespace

std::optional<Jpeg> read_jpeg(std::string_view bytes) {
  if (!bytes.starts_with("\xFF\xD8"sv)) return std::nullopt;
  Jpeg jpeg{.bare = "\xFF\xD8"};
  bool has_frame = false, has_scan = false;
  for (std::size_t at = 2; at + 2 <= bytes.size();) {
    if (byte_at(bytes, at) != 0xFF) return std::nullopt;
    const unsigned marker = byte_at(bytes, at + 1);
    if (marker == 0xFF) {  // a fill byte
      ++at;
      continue;
    }
    if (marker == end_of_image) {
      if (!has_frame || !has_scan) return std::nullopt;
      jpeg.bare += bytes.substr(at, 2);
      return jpeg;
    }
    if (at + 4 > bytes.size()) return std::nullopt;
    std::size_t next = at + 2 + two_at(bytes, at + 2);
    if (next < at + 4 || next > bytes.size()) return std::nullopt;
    const std::string_view segment = bytes.substr(at + 2, next - at - 2);
    if (marker >= frame_first && marker <= frame_last) {
      if (has_frame || !read_frame(segment, jpeg)) return std::nullopt;
      has_frame = true;
    }
    if (marker == application_1 && jpeg.lie == Lie::upright) jpeg.lie = lie_of(segment.substr(2));
    if (marker == start_of_scan) {
      has_scan = has_frame;
      next = end_of_scan(bytes, next);
    }
    if (!is_left_out(marker, segment.substr(2))) jpeg.bare += bytes.substr(at, next - at);
    at = next;
  }
  return std::nullopt;
}

}  // namespace barm::cards
