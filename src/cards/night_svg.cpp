#include "cards/night_svg.h"

#include <cairo-svg.h>

#include "cards/night_drawing.h"
#include "quantity/expects.h"

namespace barm::cards {
namespace {

cairo_status_t append(void* text, const unsigned char* data, unsigned int length) {
  static_cast<std::string*>(text)->append(reinterpret_cast<const char*>(data), length);
  return CAIRO_STATUS_SUCCESS;
}

std::string escaped(std::string_view text) {
  std::string out;
  for (const char c : text) {
    if (c == '&')
      out += "&amp;";
    else if (c == '<')
      out += "&lt;";
    else if (c == '>')
      out += "&gt;";
    else
      out += c;
  }
  return out;
}

// Cairo numbers its surfaces through the life of the process; the same picture must give the same bytes.
void settle_surface_names(std::string& svg) {
  for (std::size_t at = svg.find("id=\"surface"); at != std::string::npos; at = svg.find("id=\"surface", at + 1)) {
    const std::size_t from = at + 11;
    const std::size_t to = svg.find('"', from);
    svg.erase(from, to - from);
  }
}

}  // namespace

std::string night_svg(const recipe::BrewPlan& plan, const CardOptions& options, const Catalogue& catalogue) {
  const BrewCard card = brew_card(plan, options, catalogue);
  constexpr Rect page{0.0, 0.0, 720.0, 330.0};
  constexpr double margin = 16.0;
  std::string svg;
  cairo_surface_t* surface = cairo_svg_surface_create_for_stream(append, &svg, page.width, page.height);
  {
    const Sheet sheet(surface);
    sheet.fill(page, palette::ground);
    const double width = page.width - 2.0 * margin;
    const Type headline{.size = 16.0, .bold = true, .lines = 2};
    const double used = sheet.write(margin, margin, card.headline, headline, width).height + 8.0;
    const Type key{.size = 9.5, .colour = palette::quiet, .lines = 1};
    const double below = sheet.measure(card.picture.band_key, key, width).height + 6.0;
    draw_night(sheet, card.picture, {margin, margin + used, width, page.height - 2.0 * margin - used - below}, 10.5);
    sheet.write(margin, page.bottom() - margin - below + 6.0, card.picture.band_key, key, width);
  }
  cairo_surface_finish(surface);
  expects(cairo_surface_status(surface) == CAIRO_STATUS_SUCCESS, "the picture was drawn");
  cairo_surface_destroy(surface);
  settle_surface_names(svg);
  std::string says;
  for (const std::string& sentence : card.picture_says) says += (says.empty() ? "" : " ") + sentence;
  const std::size_t open = svg.find('>', svg.find("<svg"));
  expects(open != std::string::npos, "Cairo writes an svg element");
  svg.insert(open + 1, "\n<title>" + escaped(card.headline) + "</title>\n<desc>" + escaped(says) + "</desc>");
  return svg;
}

}  // namespace barm::cards
