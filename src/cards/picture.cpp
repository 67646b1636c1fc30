#include "cards/picture.h"

#include <cairo.h>

#include <algorithm>
#include <cstring>
#include <string>

namespace barm::cards {
namespace {

using namespace std::string_view_literals;

struct Points {
  int width = 0, height = 0;
};
/// judged: a phone's largest pictures; four bytes a point are held while the page is written.
constexpr std::int64_t points_most = 24'000'000;

unsigned byte_at(std::string_view bytes, std::size_t at) {
  return static_cast<unsigned char>(bytes[at]);
}
unsigned two_at(std::string_view bytes, std::size_t at) {
  return byte_at(bytes, at) << 8U | byte_at(bytes, at + 1);
}

std::optional<Points> points_of(std::uint64_t width, std::uint64_t height) {
  if (width == 0 || height == 0 || width > 32'767 || height > 32'767) return std::nullopt;  // what Cairo can hold
  if (width * height > points_most) return std::nullopt;
  return Points{static_cast<int>(width), static_cast<int>(height)};
}

/// The frame header of a JPEG. ITU-T T.81, B.1.1.4 (segments), B.2.2 (frame header), table B.1 (markers).
std::optional<Points> jpeg_points(std::string_view bytes) {
  if (!bytes.starts_with("\xFF\xD8"sv)) return std::nullopt;
  for (std::size_t at = 2; at + 4 <= bytes.size();) {
    if (byte_at(bytes, at) != 0xFF) return std::nullopt;
    const unsigned marker = byte_at(bytes, at + 1);
    if (marker == 0xFF) {  // a fill byte
      ++at;
      continue;
    }
    const unsigned length = two_at(bytes, at + 2);
    const bool is_frame = marker >= 0xC0 && marker <= 0xC2;  // baseline, extended, progressive
    if (is_frame) {
      constexpr std::size_t header = 10;  // marker, length, precision, height, width, components
      if (at + header > bytes.size() || byte_at(bytes, at + 4) != 8) return std::nullopt;
      const unsigned components = byte_at(bytes, at + 9);
      if (components != 1 && components != 3) return std::nullopt;  // four are inks of a press
      return points_of(two_at(bytes, at + 7), two_at(bytes, at + 5));
    }
    const bool ends = marker == 0xDA || marker == 0xD9;  // the picture without a frame, or nothing
    if (ends || length < 2) return std::nullopt;
    at += 2 + length;
  }
  return std::nullopt;
}

/// The header chunk of a PNG. W3C PNG, 11.2.2.
std::optional<Points> png_points(std::string_view bytes) {
  constexpr std::size_t header = 24;  // signature, length, "IHDR", width, height
  if (bytes.size() < header || !bytes.starts_with("\x89PNG\r\n\x1A\n"sv) || bytes.substr(12, 4) != "IHDR"sv)
    return std::nullopt;
  const auto four_at = [&](std::size_t at) {
    return std::uint64_t{two_at(bytes, at)} << 16U | std::uint64_t{two_at(bytes, at + 2)};
  };
  return points_of(four_at(16), four_at(20));
}

using Surface = std::shared_ptr<cairo_surface_t>;

Surface owned(cairo_surface_t* surface) {
  return {surface, [](cairo_surface_t* one) { cairo_surface_destroy(one); }};
}

cairo_status_t read_on(void* from, unsigned char* to, unsigned int length) {
  auto* left = static_cast<std::string_view*>(from);
  if (left->size() < length) return CAIRO_STATUS_READ_ERROR;
  std::memcpy(to, left->data(), length);
  left->remove_prefix(length);
  return CAIRO_STATUS_SUCCESS;
}

/// An empty picture of the right size, which a PDF shows by the file that belongs to it.
Surface of_jpeg(std::string_view bytes, const Points& points) {
  auto surface = owned(cairo_image_surface_create(CAIRO_FORMAT_RGB24, points.width, points.height));
  auto kept = std::make_unique<std::string>(bytes);
  const auto* data = reinterpret_cast<const unsigned char*>(kept->data());
  const auto free = [](void* file) { delete static_cast<std::string*>(file); };
  const auto status =
      cairo_surface_set_mime_data(surface.get(), CAIRO_MIME_TYPE_JPEG, data, kept->size(), free, kept.get());
  if (status == CAIRO_STATUS_SUCCESS) static_cast<void>(kept.release());  // the surface frees it
  return surface;
}

}  // namespace

std::optional<Picture> Picture::read(std::string_view bytes) {
  Surface surface;
  if (const auto points = jpeg_points(bytes)) surface = of_jpeg(bytes, *points);
  if (png_points(bytes)) {
    std::string_view left = bytes;
    surface = owned(cairo_image_surface_create_from_png_stream(read_on, &left));
  }
  if (!surface || cairo_surface_status(surface.get()) != CAIRO_STATUS_SUCCESS) return std::nullopt;
  return Picture(std::move(surface));
}

Extent Picture::fitted(const Extent& room) const {
  const double width = cairo_image_surface_get_width(surface_.get());
  const double height = cairo_image_surface_get_height(surface_.get());
  const double scale = std::min(room.width / width, room.height / height);
  return {width * scale, height * scale};
}

void Picture::draw(const Sheet& sheet, const Rect& where) const {
  cairo_t* cairo = sheet.cairo();
  cairo_save(cairo);
  cairo_translate(cairo, where.x, where.y);
  cairo_scale(cairo, where.width / cairo_image_surface_get_width(surface_.get()),
              where.height / cairo_image_surface_get_height(surface_.get()));
  cairo_set_source_surface(cairo, surface_.get(), 0.0, 0.0);
  cairo_paint(cairo);
  cairo_restore(cairo);
}

}  // namespace barm::cards
