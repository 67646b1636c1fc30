#include "cards/ink.h"

#include <pango/pangocairo.h>

#include <algorithm>

#include "quantity/expects.h"

namespace barm::cards {
namespace {

// Keeps a figure with its unit, and a unit in one piece: no line ends inside "6 mg/L".
void keep_units_whole(std::string_view text, PangoAttrList* attributes) {
  const auto is_digit = [](char c) { return c >= '0' && c <= '9'; };
  for (std::size_t i = 1; i + 1 < text.size(); ++i) {
    const bool before_unit = text[i] == ' ' && is_digit(text[i - 1]) && !is_digit(text[i + 1]);
    const bool inside_unit = text[i] == '/' && text[i - 1] != ' ' && text[i + 1] != ' ';
    if (!before_unit && !inside_unit) continue;
    PangoAttribute* together = pango_attr_allow_breaks_new(FALSE);
    together->start_index = static_cast<guint>(i - 1);
    together->end_index = static_cast<guint>(i + 2);
    pango_attr_list_insert(attributes, together);
  }
}

Extent extent_of(void* layout) {
  PangoRectangle logical;
  pango_layout_get_extents(static_cast<PangoLayout*>(layout), nullptr, &logical);
  return {static_cast<double>(logical.width) / PANGO_SCALE, static_cast<double>(logical.height) / PANGO_SCALE};
}

}  // namespace

void Sheet::Free::operator()(cairo_t* context) const {
  cairo_destroy(context);
}

void Sheet::Free::operator()(void* object) const {
  g_object_unref(object);
}

Sheet::Sheet(cairo_surface_t* surface) : cairo_(cairo_create(surface)) {
  expects(cairo_status(cairo_.get()) == CAIRO_STATUS_SUCCESS, "a sheet can be drawn on");
  pango_.reset(pango_cairo_create_context(cairo_.get()));
  auto* context = static_cast<PangoContext*>(pango_.get());
  pango_cairo_context_set_resolution(context, 72.0);  // a font's point is a point of the page
  cairo_font_options_t* options = cairo_font_options_create();
  cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);  // paper has no pixels to hint for
  cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
  pango_cairo_context_set_font_options(context, options);
  cairo_font_options_destroy(options);
}

std::unique_ptr<void, Sheet::Free> Sheet::layout(std::string_view text, const Type& type, double width,
                                                 Side side) const {
  std::unique_ptr<void, Free> object(pango_layout_new(static_cast<PangoContext*>(pango_.get())));
  auto* set = static_cast<PangoLayout*>(object.get());
  PangoFontDescription* font = pango_font_description_from_string("DejaVu Sans, sans-serif");
  pango_font_description_set_absolute_size(font, type.size * PANGO_SCALE);
  pango_font_description_set_weight(font, type.bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
  pango_layout_set_font_description(set, font);
  pango_font_description_free(font);
  PangoAttrList* attributes = pango_attr_list_new();
  pango_attr_list_insert(attributes,
                         pango_attr_font_features_new("liga=0, tnum=1"));  // text must come out as it went in
  keep_units_whole(text, attributes);
  pango_layout_set_attributes(set, attributes);
  pango_attr_list_unref(attributes);
  pango_layout_set_text(set, text.data(), static_cast<int>(text.size()));
  if (width > 0.0) {
    pango_layout_set_width(set, static_cast<int>(width * PANGO_SCALE));
    pango_layout_set_wrap(set, PANGO_WRAP_WORD_CHAR);
    pango_layout_set_alignment(set, side == Side::left     ? PANGO_ALIGN_LEFT
                                    : side == Side::centre ? PANGO_ALIGN_CENTER
                                                           : PANGO_ALIGN_RIGHT);
    if (type.lines > 0) {
      pango_layout_set_height(set, -type.lines);
      pango_layout_set_ellipsize(set, PANGO_ELLIPSIZE_END);
    }
  }
  return object;
}

Extent Sheet::measure(std::string_view text, const Type& type, double width) const {
  std::string key(text);
  for (const double part : {type.size, type.bold ? 1.0 : 0.0, static_cast<double>(type.lines), width})
    key.append(reinterpret_cast<const char*>(&part), sizeof part);
  const auto [known, is_new] = measured_.try_emplace(std::move(key));
  if (is_new) known->second = extent_of(layout(text, type, width, Side::left).get());
  return known->second;
}

Extent Sheet::write(double x, double y, std::string_view text, const Type& type, double width, Side side) const {
  const auto set = layout(text, type, width, side);
  const Extent size = extent_of(set.get());
  if (width <= 0.0 && side != Side::left) x -= side == Side::centre ? size.width / 2.0 : size.width;
  cairo_set_source_rgb(cairo_.get(), type.colour.red, type.colour.green, type.colour.blue);
  cairo_move_to(cairo_.get(), x, y);
  pango_cairo_show_layout(cairo_.get(), static_cast<PangoLayout*>(set.get()));
  cairo_new_path(cairo_.get());  // Pango leaves a current point behind
  return size;
}

void Sheet::fill(const Rect& rect, Colour with) const {
  cairo_set_source_rgb(cairo_.get(), with.red, with.green, with.blue);
  cairo_rectangle(cairo_.get(), rect.x, rect.y, rect.width, rect.height);
  cairo_fill(cairo_.get());
}

void Sheet::line(double x1, double y1, double x2, double y2, const Stroke& stroke) const {
  constexpr double dash[] = {3.0, 2.0};
  cairo_set_source_rgb(cairo_.get(), stroke.colour.red, stroke.colour.green, stroke.colour.blue);
  cairo_set_line_width(cairo_.get(), stroke.width);
  cairo_set_dash(cairo_.get(), dash, stroke.dashed ? 2 : 0, 0.0);
  cairo_move_to(cairo_.get(), x1, y1);
  cairo_line_to(cairo_.get(), x2, y2);
  cairo_stroke(cairo_.get());
  cairo_set_dash(cairo_.get(), nullptr, 0, 0.0);
}

}  // namespace barm::cards
