// Drawing on paper: a thin hand over Cairo and Pango. Lengths are points (1/72 inch), colours are those of the light
// screens.
#pragma once

#include <cstdint>
#include <map>
#include <memory>
#include <string>
#include <string_view>

#include "cards/rect.h"

// Cairo by name only, so that whoever includes this needs none of it.
typedef struct _cairo cairo_t;                  // NOLINT: the name is theirs
typedef struct _cairo_surface cairo_surface_t;  // NOLINT

namespace barm::cards {

struct Colour {
  double red = 0.0, green = 0.0, blue = 0.0;
};
/// "#17211c" as Cairo wants it.
constexpr Colour colour(unsigned rgb) {
  return {static_cast<double>((rgb >> 16U) & 0xFFU) / 255.0, static_cast<double>((rgb >> 8U) & 0xFFU) / 255.0,
          static_cast<double>(rgb & 0xFFU) / 255.0};
}
/// `share` of `over`, the rest `ground`.
constexpr Colour mix(Colour over, Colour ground, double share) {
  return {share * over.red + (1.0 - share) * ground.red, share * over.green + (1.0 - share) * ground.green,
          share * over.blue + (1.0 - share) * ground.blue};
}

namespace palette {  // all at least 7:1 on the ground; a word or shape always goes with a colour
inline constexpr Colour ground = colour(0xfaf8f2);
inline constexpr Colour night = colour(0xe6ebf1);  // the ground made bluer
inline constexpr Colour ink = colour(0x17211c);
inline constexpr Colour quiet = colour(0x4a554e);
inline constexpr Colour oxygen = colour(0x0b4f6c);
inline constexpr Colour caution = colour(0x7a4a00);
inline constexpr Colour unfit = colour(0x8c1c13);
inline constexpr Colour fit = colour(0x1f5a35);
}  // namespace palette

struct Type {
  double size = 9.0;  // points
  bool bold = false;
  Colour colour = palette::ink;
  int lines = 0;  // at most so many, ending in an ellipsis; 0: as many as it takes
};

inline Type bold_of(Type type) {
  type.bold = true;
  return type;
}
inline Type quiet_of(Type type) {
  type.colour = palette::quiet;
  return type;
}

struct Extent {
  double width = 0.0, height = 0.0;
};

enum class Side : std::uint8_t { left, centre, right };

/// A Cairo context one can write on. Text is set in DejaVu Sans or, without it, the system's sans-serif.
class Sheet {
 public:
  /// `surface` is not owned.
  explicit Sheet(cairo_surface_t* surface);
  cairo_t* cairo() const { return cairo_.get(); }

  /// Size of a text set in a width (0: one line, however long).
  Extent measure(std::string_view text, const Type& type, double width = 0.0) const;
  /// Writes it with its top left at (x, y) and gives its size. With a width, `side` says how lines stand in it;
  /// without, on which side of x the text begins.
  Extent write(double x, double y, std::string_view text, const Type& type, double width = 0.0,
               Side side = Side::left) const;

  void fill(const Rect& rect, Colour colour) const;
  struct Stroke {
    double width = 0.6;
    Colour colour = palette::quiet;
    bool dashed = false;
  };
  void line(double x1, double y1, double x2, double y2, const Stroke& stroke) const;

 private:
  struct Free {
    void operator()(cairo_t* context) const;
    void operator()(void* object) const;
  };
  std::unique_ptr<void, Free> layout(std::string_view text, const Type& type, double width, Side side) const;

  std::unique_ptr<cairo_t, Free> cairo_;
  std::unique_ptr<void, Free> pango_;               // PangoContext
  mutable std::map<std::string, Extent> measured_;  // a page is tried at many sizes, and most texts are met again
};

}  // namespace barm::cards
