#include "cards/night_drawing.h"

#include <cairo.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

#include "quantity/expects.h"

namespace barm::cards {
namespace {

struct Plot {  // the field the band is drawn in, and how figures fall on it
  Rect field;
  Stretch shown;
  double top_mg_per_l = 10.0;
  double x(double at_h) const {
    const double share = (at_h - shown.from_h) / (shown.to_h - shown.from_h);
    return field.x + std::clamp(share, 0.0, 1.0) * field.width;
  }
  double y(double mg_per_l) const {
    return field.bottom() - std::clamp(mg_per_l / top_mg_per_l, 0.0, 1.0) * field.height;
  }
};

struct Moment {
  double at_h = unset;
  Oxygen oxygen;
};

// The samples in runs without a gap.
std::vector<std::vector<Moment>> runs(const NightPicture& picture) {
  std::vector<std::vector<Moment>> found(1);
  for (const double at_h : picture.time_h) {
    if (const auto here = picture.oxygen_at(at_h)) {
      found.back().push_back({at_h, *here});
    } else if (!found.back().empty()) {
      found.emplace_back();
    }
  }
  if (found.back().empty()) found.pop_back();
  return found;
}

void draw_area(const Sheet& sheet, const Plot& plot, const std::vector<Moment>& run, double Oxygen::*low,
               double Oxygen::*high, Colour colour, double opacity) {
  cairo_t* cr = sheet.cairo();
  for (const Moment& m : run) cairo_line_to(cr, plot.x(m.at_h), plot.y(m.oxygen.*high));
  for (auto m = run.rbegin(); m != run.rend(); ++m) cairo_line_to(cr, plot.x(m->at_h), plot.y(m->oxygen.*low));
  cairo_close_path(cr);
  cairo_set_source_rgba(cr, colour.red, colour.green, colour.blue, opacity);
  cairo_fill(cr);
}

void draw_band(const Sheet& sheet, const Plot& plot, const NightPicture& picture) {
  cairo_t* cr = sheet.cairo();
  for (const auto& run : runs(picture)) {
    draw_area(sheet, plot, run, &Oxygen::p05, &Oxygen::p95, palette::oxygen, 0.20);
    draw_area(sheet, plot, run, &Oxygen::p25, &Oxygen::p75, palette::oxygen, 0.38);
    for (const Moment& m : run) cairo_line_to(cr, plot.x(m.at_h), plot.y(m.oxygen.p50));
    cairo_set_source_rgb(cr, palette::oxygen.red, palette::oxygen.green, palette::oxygen.blue);
    cairo_set_line_width(cr, 1.4);
    cairo_set_line_join(cr, CAIRO_LINE_JOIN_ROUND);
    cairo_stroke(cr);
  }
}

void draw_saturation(const Sheet& sheet, const Plot& plot, const NightPicture& picture) {
  cairo_t* cr = sheet.cairo();
  bool drawing = false;
  for (const double at_h : picture.time_h) {
    const auto full = picture.saturation_at(at_h);
    if (!full)
      drawing = false;
    else if (drawing)
      cairo_line_to(cr, plot.x(at_h), plot.y(*full));
    else
      cairo_move_to(cr, plot.x(at_h), plot.y(*full)), drawing = true;
  }
  cairo_set_source_rgb(cr, palette::oxygen.red, palette::oxygen.green, palette::oxygen.blue);
  cairo_set_line_width(cr, 0.6);
  cairo_stroke(cr);
}

void draw_nights(const Sheet& sheet, const Plot& plot, const NightPicture& picture, const Type& type) {
  for (const Stretch& night : picture.nights) {
    const double from = plot.x(night.from_h);
    const double to = plot.x(night.to_h);
    sheet.fill({from, plot.field.y, to - from, plot.field.height}, palette::night);
    constexpr double inside = 4.0;
    if (sheet.measure(picture.night, type).width + 2.0 * inside < to - from)
      sheet.write(from + inside, plot.field.bottom() - type.size * 1.5, picture.night, type);
  }
}

// Words at the right edge, pushed apart where their lines lie close.
void draw_line_words(const Sheet& sheet, const Plot& plot, const NightPicture& picture, const Type& type) {
  struct Word {
    double y;
    std::string text;
    Colour colour;
  };
  std::vector<Word> words;
  for (auto at = picture.time_h.rbegin(); at != picture.time_h.rend(); ++at) {
    const auto full = picture.saturation_at(*at);
    if (!full) continue;
    words.push_back({plot.y(*full), picture.water_full, palette::oxygen});
    break;
  }
  words.push_back({plot.y(stay_above_mg_per_l), picture.stay_above + " 6", palette::caution});
  words.push_back({plot.y(flat_below_mg_per_l), picture.flat_below + " 2", palette::unfit});
  double free_from = plot.field.y - type.size;
  for (const Word& word : words) {
    Type dressed = type;
    dressed.colour = word.colour;
    const double y = std::max(word.y - type.size * 0.62, free_from);
    sheet.write(plot.field.right() + 4.0, y, word.text, dressed);
    free_from = y + type.size * 1.2;
  }
}

void draw_scale(const Sheet& sheet, const Plot& plot, const NightPicture& picture, const Type& type) {
  for (double level = 0.0; level <= plot.top_mg_per_l; level += 2.0)
    sheet.write(plot.field.x - 4.0, plot.y(level) - type.size * 0.62, std::to_string(std::lround(level)), type, 0.0,
                Side::right);
  sheet.write(plot.field.x - 4.0, plot.field.y - type.size * 2.0, picture.unit, type, 0.0, Side::right);
}

void draw_clock(const Sheet& sheet, const Plot& plot, const NightPicture& picture, const Type& type) {
  const double y = plot.field.bottom();
  sheet.line(plot.field.x, y, plot.field.right(), y, {0.8, palette::ink});
  const double label = sheet.measure("00:00", type).width;
  double free_from = plot.field.x - label;
  std::string last_day;
  for (const ClockMark& mark : picture.clock) {
    const double x = plot.x(mark.at_h);
    if (mark.is_midnight)
      sheet.line(x, plot.field.y, x, y + 5.0, {0.6, palette::quiet});
    else
      sheet.line(x, y, x, y + 3.0, {0.6, palette::quiet});
    if (x - label / 2.0 < free_from) continue;
    const bool new_day = mark.day != last_day;
    Type dressed = type;
    dressed.bold = mark.is_midnight;
    sheet.write(x, y + 4.5, mark.hour, dressed, 0.0, Side::centre);
    if (new_day) sheet.write(x, y + 4.5 + type.size * 1.15, mark.day, dressed, 0.0, Side::centre);
    last_day = mark.day;
    free_from = x + label / 2.0 + 3.0;
  }
}

void draw_ready(const Sheet& sheet, const Plot& plot, const NightPicture& picture, double y, const Type& type) {
  if (!picture.ready) return;
  const double from = plot.x(picture.ready->when.from_h);
  const double to = std::max(from + 2.0, plot.x(picture.ready->when.to_h));
  const Sheet::Stroke stroke{1.6, palette::fit};
  sheet.line(from, y - 4.0, from, y, stroke);
  sheet.line(from, y, to, y, stroke);
  sheet.line(to, y, to, y - 4.0, stroke);
  Type dressed = type;
  dressed.bold = true;
  dressed.colour = palette::fit;
  const std::string words = picture.ready_word + " " + picture.ready->from + " – " + picture.ready->to;
  const double half = sheet.measure(words, dressed).width / 2.0;
  const double centre =
      std::clamp((from + to) / 2.0, plot.field.x + half, std::max(plot.field.x + half, plot.field.right() - half));
  sheet.write(centre, y + 1.5, words, dressed, 0.0, Side::centre);
}

// A dot with its meter's error as a bar; a doubted one is hollow and crossed.
void draw_readings(const Sheet& sheet, const Plot& plot, const NightPicture& picture) {
  constexpr double radius = 2.2;
  cairo_t* cr = sheet.cairo();
  for (const Dot& dot : picture.readings) {
    const double x = plot.x(dot.at_h), y = plot.y(dot.mg_per_l);
    const double low = plot.y(std::max(0.0, dot.mg_per_l - dot.error_mg_per_l));
    const double high = plot.y(std::min(plot.top_mg_per_l, dot.mg_per_l + dot.error_mg_per_l));
    sheet.line(x, low, x, high, {0.8, palette::ink});
    cairo_new_path(cr);
    cairo_arc(cr, x, y, radius, 0.0, 2.0 * std::numbers::pi);
    const Colour& inside = dot.doubted ? palette::ground : palette::ink;
    cairo_set_source_rgb(cr, inside.red, inside.green, inside.blue);
    cairo_fill_preserve(cr);
    cairo_set_source_rgb(cr, palette::ink.red, palette::ink.green, palette::ink.blue);
    cairo_set_line_width(cr, 0.8);
    cairo_stroke(cr);
    if (dot.doubted) {
      sheet.line(x - radius, y - radius, x + radius, y + radius, {0.8, palette::ink});
      sheet.line(x - radius, y + radius, x + radius, y - radius, {0.8, palette::ink});
    }
  }
}

// A dashed ring on the clock where a reading would tell most.
void draw_next(const Sheet& sheet, const Plot& plot, const NightPicture& picture) {
  if (!picture.next_h) return;
  constexpr double radius = 4.0, dash[] = {1.6, 1.2};
  cairo_t* cr = sheet.cairo();
  cairo_new_path(cr);
  cairo_arc(cr, plot.x(*picture.next_h), plot.field.bottom(), radius, 0.0, 2.0 * std::numbers::pi);
  cairo_set_source_rgb(cr, palette::ground.red, palette::ground.green, palette::ground.blue);
  cairo_fill_preserve(cr);
  cairo_set_source_rgb(cr, palette::oxygen.red, palette::oxygen.green, palette::oxygen.blue);
  cairo_set_line_width(cr, 1.1);
  cairo_set_dash(cr, dash, 2, 0.0);
  cairo_stroke(cr);
  cairo_set_dash(cr, nullptr, 0, 0.0);
}

struct PlacedAct {
  double x = 0.0;     // of the tick
  double left = 0.0;  // of the word
  std::size_t row = 0;
  std::string word;
};

// Each word beside its tick, in the lowest row where it touches no other word and no other tick crosses it.
std::vector<PlacedAct> place_acts(const Sheet& sheet, const Plot& plot, const NightPicture& picture, const Type& type) {
  std::vector<PlacedAct> placed;
  constexpr std::size_t most_rows = 3;
  std::vector<double> free_until;  // a row is free left of here, going from right to left
  for (auto act = picture.acts.rbegin(); act != picture.acts.rend(); ++act) {
    const double x = plot.x(act->at_h);
    const double width = sheet.measure(act->word, type).width + 5.0;
    const double left = std::min(x, plot.field.right() + 60.0 - width);
    std::size_t row = 0;
    while (row < free_until.size() && left + width > free_until[row]) ++row;
    if (row == most_rows) {  // no room left: a tick without its word, which the steps tell
      placed.push_back({x, left, 0, {}});
      continue;
    }
    if (row == free_until.size()) free_until.push_back(0.0);
    for (std::size_t lower = 0; lower <= row; ++lower) free_until[lower] = std::min(left, x) - 2.0;
    placed.push_back({x, left, row, act->word});
  }
  return placed;
}

void draw_acts(const Sheet& sheet, const Plot& plot, const std::vector<PlacedAct>& acts, const Type& type) {
  for (const PlacedAct& act : acts) {
    const double rows = act.word.empty() ? 0.5 : static_cast<double>(act.row) + 1.0;
    const double y = plot.field.y - rows * type.size * 1.3;
    sheet.line(act.x, y + 1.0, act.x, plot.field.y + 4.0, {0.9, palette::ink});
    if (!act.word.empty()) sheet.write(act.left + 3.0, y, act.word, type);
  }
}

}  // namespace

void draw_night(const Sheet& sheet, const NightPicture& picture, const Rect& where, double text_size) {
  if (picture.empty()) return;
  const Type type{text_size};
  Type quiet = type;
  quiet.colour = palette::quiet;
  double words = 0.0;
  for (const std::string& word : {picture.water_full, picture.stay_above + " 6", picture.flat_below + " 2"})
    words = std::max(words, sheet.measure(word, type).width);
  const double scale = sheet.measure("mg/L", type).width + 6.0;
  const double under = text_size * 4.6 + 8.0;  // clock, day, bracket and its words

  Plot plot{{where.x + scale, where.y, where.width - scale - words - 6.0, where.height - under},
            picture.shown,
            picture.top_mg_per_l};
  const std::vector<PlacedAct> acts = place_acts(sheet, plot, picture, type);
  std::size_t rows = 1;
  for (const PlacedAct& act : acts) rows = std::max(rows, act.row + 1);
  const double over = static_cast<double>(rows) * text_size * 1.3 + 2.0;
  plot.field.y += over;
  plot.field.height -= over;
  expects(plot.field.width > 0.0 && plot.field.height > 0.0, "the picture has room");

  sheet.fill(plot.field, palette::ground);
  draw_nights(sheet, plot, picture, quiet);
  draw_band(sheet, plot, picture);
  draw_saturation(sheet, plot, picture);
  sheet.line(plot.field.x, plot.y(stay_above_mg_per_l), plot.field.right(), plot.y(stay_above_mg_per_l),
             {0.9, palette::caution, true});
  sheet.line(plot.field.x, plot.y(flat_below_mg_per_l), plot.field.right(), plot.y(flat_below_mg_per_l),
             {0.9, palette::unfit, true});
  draw_line_words(sheet, plot, picture, type);
  draw_scale(sheet, plot, picture, quiet);
  draw_clock(sheet, plot, picture, quiet);
  draw_next(sheet, plot, picture);
  draw_acts(sheet, plot, acts, type);
  draw_readings(sheet, plot, picture);
  draw_ready(sheet, plot, picture, plot.field.bottom() + text_size * 2.6 + 8.0, type);
}

}  // namespace barm::cards
