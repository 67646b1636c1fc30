#include "cards/brew_card_pdf.h"

#include <cairo-pdf.h>

#include <algorithm>
#include <map>
#include <utility>

#include "cards/local_time.h"
#include "cards/page_layout.h"
#include "quantity/expects.h"

namespace barm::cards {
namespace {

constexpr Rect a4{0.0, 0.0, 595.276, 841.890};  // ISO 216, 210 x 297 mm [pt]
constexpr Rect letter{0.0, 0.0, 612.0, 792.0};  // ANSI A, 8.5 x 11 in [pt]

cairo_status_t append(void* bytes, const unsigned char* data, unsigned int length) {
  auto* to = static_cast<std::vector<std::uint8_t>*>(bytes);
  to->insert(to->end(), data, data + length);
  return CAIRO_STATUS_SUCCESS;
}

// From roomy to tight. Sizes under 7.2 pt only when texts are cut already: small print is no good to wet hands.
std::vector<Fit> ways_to_fit() {
  std::vector<Fit> ways;
  for (const double size : {9.6, 9.3, 9.0, 8.7, 8.4, 8.1, 7.8, 7.5, 7.2})
    ways.push_back({.body_size = size, .least_picture = 150.0});
  for (const double size : {8.0, 7.6, 7.2})
    ways.push_back({.body_size = size, .least_picture = 140.0, .with_lesser = false});
  for (const double size : {7.6, 7.3, 7.0})
    ways.push_back({.body_size = size, .least_picture = 125.0, .with_lesser = false, .with_table = false});
  Fit tight{.body_size = 6.8, .least_picture = 115.0, .with_lesser = false, .with_table = false};
  for (const int lines : {3, 2, 1}) {
    tight.lines = lines;
    ways.push_back(tight);
  }
  tight.least_picture = 90.0;
  for (const double size : {6.6, 6.3, 6.0}) {
    tight.body_size = size;
    ways.push_back(tight);
  }
  for (const std::size_t rows : {16U, 12U, 9U, 6U, 4U, 2U, 1U}) {
    tight.rows = rows;
    ways.push_back(tight);
  }
  return ways;
}

}  // namespace

PrintedCard print_brew_card(const recipe::BrewPlan& plan, const CardOptions& options, const Catalogue& catalogue) {
  const BrewCard card = brew_card(plan, options, catalogue);
  PrintedCard printed;
  printed.page = options.paper == Paper::letter ? letter : a4;
  cairo_surface_t* surface =
      cairo_pdf_surface_create_for_stream(append, &printed.bytes, printed.page.width, printed.page.height);
  const std::string made_at = iso_text(plan.ask.start_at, "UTC");
  cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, made_at.c_str());
  cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATOR, "barm card");
  cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_TITLE, card.about.c_str());
  {
    const Sheet sheet(surface);
    const std::vector<Fit> ways = ways_to_fit();
    std::map<std::pair<bool, bool>, Shares> settled;  // they hardly depend on the size: found once for what is left out
    const auto shared_out = [&](Fit way) {
      const auto [at, is_new] = settled.try_emplace({way.with_lesser, way.lines > 0});
      if (is_new) at->second = best_shares(sheet, card, printed.page, way);
      way.shares = at->second;
      return way;
    };
    const auto overflows = [&](const Fit& way) {
      const double room = room_for_picture(sheet, card, printed.page, shared_out(way));
      return room < (card.picture.empty() ? 0.0 : way.least_picture);
    };
    // Each way is tighter than the one before.
    const auto way = std::partition_point(ways.begin(), ways.end(), overflows);
    expects(way != ways.end(), "a card of single rows fits a page");
    printed.boxes = write_page(sheet, card, printed.page, shared_out(*way));
    printed.body_size = way->body_size;
    printed.is_shortened = way->is_shortened();
  }
  cairo_surface_finish(surface);
  expects(cairo_surface_status(surface) == CAIRO_STATUS_SUCCESS, "the card was drawn");
  cairo_surface_destroy(surface);
  return printed;
}

std::vector<std::uint8_t> brew_card_pdf(const recipe::BrewPlan& plan, const CardOptions& options,
                                        const Catalogue& catalogue) {
  return print_brew_card(plan, options, catalogue).bytes;
}

}  // namespace barm::cards
