#include "cards/page_layout.h"

#include <algorithm>
#include <limits>

#include "cards/night_drawing.h"
#include "cards/page_pieces.h"

namespace barm::cards {
namespace {

constexpr double margin = 30.0;  // points, about 10 mm; home printers stop some 6 mm from the edge (memory)
constexpr double tallest_picture = 260.0;

double lower_part(const Sheet& sheet, const BrewCard& card, const Rect& where, const Fit& fit,
                  std::vector<Box>* boxes) {
  const Shares& shares = fit.shares;
  const double height = beside(
      sheet, where, shares.left, fit, boxes,
      [&](Column& c) {
        amounts(c, card);
        clearing(c, card);
        air(c, card);
        if (shares.cautions == Place::left) cautions(c, card);
      },
      [&](Column& c) {
        steps(c, card);
        if (shares.cautions == Place::right) cautions(c, card);
      });
  if (shares.cautions != Place::below) return height;
  return height + cautions_below(sheet, card, {where.x, where.y + height, where.width, 0.0}, fit, boxes);
}

// Walks down the page once. With boxes it writes, giving the picture `picture_height`; without, it measures the rest.
double walk(const Sheet& sheet, const BrewCard& card, const Rect& page, const Fit& fit, double picture_height,
            std::vector<Box>* boxes) {
  Rect body{margin, margin, page.width - 2.0 * margin, page.height - 2.0 * margin};
  Column top(sheet, body, fit, boxes);
  Type headline = bold_of(top.type(1.65));
  headline.lines = fit.lines > 0 ? 3 : 0;
  top.paragraph("headline", card.headline, headline);
  top.gap(0.2);
  top.paragraph("about", card.about, quiet_of(top.type()));
  top.gap(0.8);
  const double warned = warnings_and_mends(sheet, card, {body.x, top.y(), body.width, 0.0}, fit, boxes);
  top.skip(warned);
  if (warned > 0.0) top.gap(0.9);

  if (!card.picture.empty()) {
    top.title(card.picture_title);
    if (boxes != nullptr) {
      const Rect where{body.x, top.y(), body.width, picture_height};
      draw_night(sheet, card.picture, where, std::max(6.5, fit.body_size * 0.88));
      boxes->push_back({"picture", where});
    }
    top.skip(picture_height);
    top.gap(0.2);
    top.paragraph("band_key", card.picture.band_key, quiet_of(top.type(0.88)));
    top.gap(0.4);
  }
  top.skip(under_picture(sheet, card, {body.x, top.y(), body.width, 0.0}, fit, boxes));
  top.gap(0.7);
  const Rect lower{body.x, top.y(), body.width, 0.0};
  top.skip(lower_part(sheet, card, lower, fit, boxes));

  Column measured(sheet, body, fit, nullptr);
  foot(measured, card);
  if (boxes != nullptr) {
    Column last(sheet, {body.x, body.bottom() - measured.used(), body.width, 0.0}, fit, boxes);
    foot(last, card);
  }
  return body.bottom() - measured.used() - top.y();
}

}  // namespace

Shares best_shares(const Sheet& sheet, const BrewCard& card, const Rect& page, const Fit& fit) {
  const Rect where{margin, margin, page.width - 2.0 * margin, 0.0};
  Shares best;
  double least = std::numeric_limits<double>::infinity();
  for (const double left : {0.38, 0.44, 0.5, 0.56})
    for (const Place place : {Place::left, Place::right, Place::below}) {
      Fit tried = fit;
      tried.shares = {left, place};
      const double height = lower_part(sheet, card, where, tried, nullptr);
      if (height >= least) continue;
      least = height;
      best = tried.shares;
    }
  return best;
}

double room_for_picture(const Sheet& sheet, const BrewCard& card, const Rect& page, const Fit& fit) {
  return walk(sheet, card, page, fit, 0.0, nullptr);
}

std::vector<Box> write_page(const Sheet& sheet, const BrewCard& card, const Rect& page, const Fit& fit) {
  const double room = room_for_picture(sheet, card, page, fit);
  std::vector<Box> boxes;
  walk(sheet, card, page, fit, std::min(room, tallest_picture), &boxes);
  return boxes;
}

}  // namespace barm::cards
