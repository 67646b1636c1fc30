#include "cards/picture.h"

#include <cairo.h>

#include <algorithm>
#include <cstring>
#include <string>

#include "cards/jpeg.h"

namespace barm::cards {
namespace {

using namespace std::string_view_literals;

struct Points {
  int width = 0, height = 0;
};
/// judged: a phone's largest pictures; four bytes a point are held while the page is written.
constexpr std::int64_t points_most = 24'000'000;

std::uint64_t four_at(std::string_view bytes, std::size_t at) {
  std::uint64_t value = 0;
  for (std::size_t i = at; i < at + 4; ++i) value = value << 8U | static_cast<unsigned char>(bytes[i]);
  return value;
}

std::optional<Points> points_of(std::uint64_t width, std::uint64_t height) {
  if (width == 0 || height == 0 || width > 32'767 || height > 32'767) return std::nullopt;  // what Cairo can hold
  if (width * height > points_most) return std::nullopt;
  return Points{static_cast<int>(width), static_cast<int>(height)};
}

/// The header chunk of a PNG. W3C PNG, 11.2.2.
std::optional<Points> png_points(std::string_view bytes) {
  constexpr std::size_t header = 24;  // signature, length, "IHDR", width, height
  if (bytes.size() < header || !bytes.starts_with("\x89PNG\r\n\x1A\n"sv) || bytes.substr(12, 4) != "IHDR"sv)
    return std::nullopt;
  return points_of(four_at(bytes, 16), four_at(bytes, 20));
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
Surface of_jpeg(std::string file, const Points& points) {
  auto surface = owned(cairo_image_surface_create(CAIRO_FORMAT_RGB24, points.width, points.height));
  auto kept = std::make_unique<std::string>(std::move(file));
  const auto* data = reinterpret_cast<const unsigned char*>(kept->data());
  const auto free = [](void* bytes) { delete static_cast<std::string*>(bytes); };
  const auto status =
      cairo_surface_set_mime_data(surface.get(), CAIRO_MIME_TYPE_JPEG, data, kept->size(), free, kept.get());
  if (status == CAIRO_STATUS_SUCCESS) static_cast<void>(kept.release());  // the surface frees it
  return surface;
}

bool lies_on_its_side(Lie lie) {
  return lie >= Lie::transposed;
}

/// From points as they lie in the file to points of the picture upright, of that width and height.
cairo_matrix_t uprighted(Lie lie, double width, double height) {
  switch (lie) {
    case Lie::mirrored:
      return {-1.0, 0.0, 0.0, 1.0, width, 0.0};
    case Lie::upside_down:
      return {-1.0, 0.0, 0.0, -1.0, width, height};
    case Lie::flipped:
      return {1.0, 0.0, 0.0, -1.0, 0.0, height};
    case Lie::transposed:
      return {0.0, 1.0, 1.0, 0.0, 0.0, 0.0};
    case Lie::on_its_left:
      return {0.0, 1.0, -1.0, 0.0, width, 0.0};
    case Lie::transversed:
      return {0.0, -1.0, -1.0, 0.0, width, height};
    case Lie::on_its_right:
      return {0.0, -1.0, 1.0, 0.0, 0.0, height};
    case Lie::upright:
      break;
  }
  return {1.0, 0.0, 0.0, 1.0, 0.0, 0.0};
}

}  // namespace

std::optional<Picture> Picture::read(std::string_view bytes) {
  Surface surface;
  Lie lie = Lie::upright;
  if (auto jpeg = read_jpeg(bytes)) {
    lie = jpeg->lie;
    if (const auto points = points_of(jpeg->width, jpeg->height)) surface = of_jpeg(std::move(jpeg->bare), *points);
  }
  if (png_points(bytes)) {
    std::string_view left = bytes;
    surface = owned(cairo_image_surface_create_from_png_stream(read_on, &left));
  }
  if (!surface || cairo_surface_status(surface.get()) != CAIRO_STATUS_SUCCESS) return std::nullopt;
  return Picture(std::move(surface), lie);
}

Extent Picture::extent() const {
  const double width = cairo_image_surface_get_width(surface_.get());
  const double height = cairo_image_surface_get_height(surface_.get());
  return lies_on_its_side(lie_) ? Extent{height, width} : Extent{width, height};
}

Extent Picture::fitted(const Extent& room) const {
  const auto [width, height] = extent();
  const double scale = std::min(room.width / width, room.height / height);
  return {width * scale, height * scale};
}

void Picture::draw(const Sheet& sheet, const Rect& where) const {
  const auto [width, height] = extent();
  const cairo_matrix_t upright = uprighted(lie_, width, height);
  cairo_t* cairo = sheet.cairo();
  cairo_save(cairo);
  cairo_translate(cairo, where.x, where.y);
  cairo_scale(cairo, where.width / width, where.height / height);
  cairo_transform(cairo, &upright);
  cairo_set_source_surface(cairo, surface_.get(), 0.0, 0.0);
  cairo_paint(cairo);
  cairo_restore(cairo);
}

}  // namespace barm::cards
