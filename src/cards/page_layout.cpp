#include "cards/page_layout.h"

#include <algorithm>
#include <array>

#include "cards/night_drawing.h"

namespace barm::cards {
namespace {

constexpr double margin = 30.0;  // points, about 10 mm; home printers stop some 6 mm from the edge (memory)
constexpr double tallest_picture = 260.0;

// Lays pieces down from the top of a column; without a place to keep boxes it only measures.
class Column {
 public:
  Column(const Sheet& sheet, const Rect& where, const Fit& fit, std::vector<Box>* boxes)
      : sheet_(&sheet), where_(where), fit_(&fit), boxes_(boxes), y_(where.y) {}

  const Sheet& sheet() const { return *sheet_; }
  const Fit& fit() const { return *fit_; }
  bool writes() const { return boxes_ != nullptr; }
  double x() const { return where_.x; }
  double width() const { return where_.width; }
  double y() const { return y_; }
  double used() const { return y_ - where_.y; }
  void skip(double height) { y_ += height; }
  Type type(double scale = 1.0) const { return {.size = fit_->body_size * scale, .lines = fit_->lines}; }

  // Text at an offset from the column's left, in a width, at the present height; gives its height.
  double at(double offset, double width, const char* piece, const std::string& text, const Type& type,
            Side side = Side::left) {
    if (text.empty()) return 0.0;
    if (!writes()) return sheet_->measure(text, type, width).height;
    const Extent size = sheet_->write(where_.x + offset, y_, text, type, width, side);
    const double slack = std::max(0.0, width - size.width);
    const double shift = side == Side::right ? slack : side == Side::centre ? slack / 2.0 : 0.0;
    boxes_->push_back({piece, {where_.x + offset + shift, y_, size.width, size.height}});
    return size.height;
  }
  void paragraph(const char* piece, const std::string& text, const Type& type, double offset = 0.0) {
    y_ += at(offset, width() - offset, piece, text, type);
  }
  void title(const std::string& text) {
    if (writes()) sheet_->line(x(), y_, x() + width(), y_, {0.6, palette::quiet});
    y_ += fit_->body_size * 0.3;
    Type bold = type(1.05);
    bold.bold = true;
    paragraph("title", text, bold);
    y_ += fit_->body_size * 0.22;
  }
  void gap(double lines = 1.0) { y_ += fit_->body_size * lines; }
  // A square to tick with a pencil; no text.
  void tick_box() const {
    if (!writes()) return;
    const double side = fit_->body_size * 0.72;
    const double top = y_ + fit_->body_size * 0.24;
    for (const auto& [x1, y1, x2, y2] :
         std::array<std::array<double, 4>, 4>{{{0, 0, 1, 0}, {1, 0, 1, 1}, {1, 1, 0, 1}, {0, 1, 0, 0}}})
      sheet_->line(x() + x1 * side, top + y1 * side, x() + x2 * side, top + y2 * side, {0.6, palette::quiet});
  }

 private:
  const Sheet* sheet_;
  Rect where_;
  const Fit* fit_;
  std::vector<Box>* boxes_;
  double y_;
};

template <class Row>
std::size_t rows_of(const std::vector<Row>& rows, const Fit& fit) {
  return fit.rows > 0 ? std::min(rows.size(), fit.rows) : rows.size();
}

Type bold_of(Type type) {
  type.bold = true;
  return type;
}
Type quiet_of(Type type) {
  type.colour = palette::quiet;
  return type;
}

void section(Column& column, const char* piece, const Section& part) {
  if (part.lines.empty()) return;
  column.title(part.title);
  for (std::size_t i = 0; i < rows_of(part.lines, column.fit()); ++i) {
    column.paragraph(piece, part.lines[i], column.type());
    column.gap(0.22);
  }
  column.gap(0.55);
}

// Cautions keep every word: a card may leave out how, never where it can hurt someone.
void caution_lines(Column& column, const std::vector<std::string>& lines) {
  Type whole = column.type();
  whole.lines = 0;
  for (const std::string& line : lines) {
    column.paragraph("cautions", line, whole);
    column.gap(0.22);
  }
  column.gap(0.55);
}

void cautions(Column& column, const BrewCard& card) {
  if (card.cautions.lines.empty()) return;
  column.title(card.cautions.title);
  caution_lines(column, card.cautions.lines);
}

// Of the ways to clear the water, a short card keeps what is in it, the first choice, and the test strip.
Section clearing(const BrewCard& card, const Fit& fit) {
  Section kept = card.clearing;
  if (!fit.with_lesser && kept.lines.size() > 3) kept.lines.erase(kept.lines.begin() + 2, kept.lines.end() - 1);
  return kept;
}

Section air(const BrewCard& card, const Fit& fit) {
  Section kept = card.air;
  if (!fit.with_lesser && kept.lines.size() > 1) kept.lines.resize(1);
  return kept;
}

void amounts(Column& column, const BrewCard& card) {
  if (card.amounts.empty()) return;
  column.title(card.amounts_title);
  const Type plain = column.type();
  const double space = plain.size * 0.8;
  const double indent = plain.size * 1.25;
  double kitchen = 0.0;
  double beside = 0.0;
  double rounding = 0.0;
  for (const AmountRow& row : card.amounts) {
    kitchen = std::max(kitchen, column.sheet().measure(row.kitchen, bold_of(plain)).width);
    beside = std::max(beside, column.sheet().measure(row.beside, plain).width);
    rounding = std::max(rounding, column.sheet().measure(row.rounding, plain).width);
  }
  constexpr double hair = 0.5;  // so that rounding in Pango's units never breaks a text that just fits
  const double figures = kitchen + beside + rounding + 3.0 * (hair + space);
  const double name = column.width() - indent - figures;
  const bool is_side_by_side = name >= 0.3 * column.width();
  for (std::size_t i = 0; i < rows_of(card.amounts, column.fit()); ++i) {
    const AmountRow& row = card.amounts[i];
    column.tick_box();
    Type named = plain;
    if (named.lines > 0) named.lines = std::max(named.lines, 2);  // two foods must stay two foods
    double height = column.at(indent, is_side_by_side ? name : column.width() - indent, "amounts", row.name, named);
    double left = indent + name + space;
    if (!is_side_by_side) {
      column.skip(height);
      left = indent;
      height = 0.0;
    }
    const double share = is_side_by_side ? 1.0 : std::min(1.0, (column.width() - indent) / figures);
    height = std::max(height, column.at(left, share * (kitchen + hair), "amounts", row.kitchen, bold_of(plain)));
    left += share * (kitchen + hair + space);
    height = std::max(height, column.at(left, share * (beside + hair), "amounts", row.beside, plain, Side::right));
    left += share * (beside + hair + space);
    height = std::max(
        height, column.at(left, share * (rounding + hair), "amounts", row.rounding, quiet_of(plain), Side::right));
    column.skip(height);
    column.gap(0.18);
  }
  column.gap(0.55);
}

void steps(Column& column, const BrewCard& card) {
  if (card.steps.empty()) return;
  column.title(card.steps_title);
  const Type plain = column.type();
  const double indent = plain.size * 1.25;
  double clock = 0.0;
  for (const StepRow& row : card.steps)
    clock = std::max(clock, column.sheet().measure(row.clock, bold_of(plain)).width);
  clock = std::min(clock + 0.5, 0.35 * column.width());
  const double left = indent + clock + plain.size * 0.8;
  Type says = plain;
  if (says.lines > 0) says.lines = std::max(says.lines, 2);
  for (std::size_t i = 0; i < rows_of(card.steps, column.fit()); ++i) {
    const StepRow& row = card.steps[i];
    column.tick_box();
    const std::string text = row.from_start.empty() ? row.text : row.text + " (" + row.from_start + ")";
    const double height = column.at(left, column.width() - left, "steps", text, says);
    column.skip(std::max(height, column.at(indent, clock, "steps", row.clock, bold_of(plain))));
    column.gap(0.25);
  }
  column.gap(0.55);
}

// A coloured bar stands beside what must be read first; its title says in words what it is.
void barred(Column& column, const std::string& title, Colour colour, const char* piece,
            const std::vector<std::string>& texts) {
  if (texts.empty()) return;
  const double top = column.y();
  const double indent = 9.0;
  Type bold = bold_of(column.type(1.05));
  bold.colour = colour;
  column.paragraph("title", title, bold, indent);
  Type says = column.type();
  if (says.lines > 0) says.lines = 3;  // what fails comes first, so it is cut last
  for (std::size_t i = 0; i < rows_of(texts, column.fit()); ++i) {
    column.gap(0.2);
    column.paragraph(piece, texts[i], says, indent);
  }
  if (column.writes()) column.sheet().fill({column.x(), top, 3.0, column.y() - top}, colour);
}

// Two columns side by side from one height; gives how far down the longer one reaches.
template <class Left, class Right>
double beside(const Sheet& sheet, const Rect& where, double share, const Fit& fit, std::vector<Box>* boxes, Left&& left,
              Right&& right) {
  constexpr double gutter = 16.0;
  const double width = share * (where.width - gutter);
  Column first(sheet, {where.x, where.y, width, 0.0}, fit, boxes);
  Column second(sheet, {where.x + width + gutter, where.y, where.width - gutter - width, 0.0}, fit, boxes);
  left(first);
  right(second);
  return std::max(first.used(), second.used());
}

double warnings_and_mends(const Sheet& sheet, const BrewCard& card, const Rect& where, const Fit& fit,
                          std::vector<Box>* boxes) {
  std::vector<std::string> warnings;
  for (const Said& said : card.warnings)
    warnings.push_back(said.next.empty() ? said.text : said.text + " " + said.next);
  const auto first = [&](Column& c) { barred(c, card.warnings_title, palette::unfit, "warnings", warnings); };
  const auto second = [&](Column& c) { barred(c, card.mends_title, palette::fit, "mends", card.mends); };
  if (warnings.empty() && card.mends.empty()) return 0.0;
  if (!warnings.empty() && !card.mends.empty()) return beside(sheet, where, 0.5, fit, boxes, first, second);
  Column whole(sheet, where, fit, boxes);
  first(whole);
  second(whole);
  return whole.used();
}

void sentences(Column& column, const BrewCard& card) {
  for (const std::string& sentence : card.picture_says) {
    column.paragraph("picture_says", sentence, column.type());
    column.gap(0.15);
  }
}

void table(Column& column, const BrewCard& card) {
  const Type small = column.type(0.92);
  double head = 0.0;
  for (const std::string* text : {&card.table_low, &card.table_middle, &card.table_high})
    head = std::max(head, column.sheet().measure(*text, small).width + 1.0);
  const double widest = column.sheet().measure("00:00", small).width + small.size * 0.7;
  head = std::min(head, 0.5 * column.width());
  const auto fits = static_cast<std::size_t>(std::max(1.0, (column.width() - head) / widest));
  const std::size_t every = std::max<std::size_t>(1, (card.table.size() + fits - 1) / fits);
  const auto row = [&](const std::string& name, auto figure, const Type& type) {
    double height = column.at(0.0, head, "table", name, type);
    double left = head;
    for (std::size_t i = 0; i < card.table.size(); i += every) {
      height = std::max(height, column.at(left, widest, "table", figure(card.table[i]), type, Side::right));
      left += widest;
    }
    column.skip(height);
  };
  column.paragraph("table", card.table_title, quiet_of(small));
  row(
      "", [](const TableRow& r) { return r.day; }, quiet_of(small));
  row(
      "", [](const TableRow& r) { return r.hour; }, quiet_of(small));
  row(
      card.table_high, [](const TableRow& r) { return r.high; }, small);
  row(
      card.table_middle, [](const TableRow& r) { return r.middle; }, small);
  row(
      card.table_low, [](const TableRow& r) { return r.low; }, small);
}

// What will live in it, under the figures of the same picture.
void life(Column& column, const BrewCard& card) {
  for (const std::string& line : card.life.lines) {
    column.paragraph("life", line, column.type());
    column.gap(0.15);
  }
}

double under_picture(const Sheet& sheet, const BrewCard& card, const Rect& where, const Fit& fit,
                     std::vector<Box>* boxes) {
  const bool with_table = fit.with_table && !card.table.empty();
  const auto figures = [&](Column& c) {
    if (with_table) table(c, card);
    if (with_table && fit.with_lesser) c.gap(0.5);
    if (fit.with_lesser) life(c, card);
  };
  if (with_table || fit.with_lesser)
    return beside(
        sheet, where, 0.47, fit, boxes, [&](Column& c) { sentences(c, card); }, figures);
  Column whole(sheet, where, fit, boxes);
  sentences(whole, card);
  return whole.used();
}

// How the lower part is shared out between its two columns.
enum class Place : std::uint8_t { left, right, below };
struct Shares {
  double left = 0.5;              // of the width
  Place cautions = Place::right;  // under the amounts, under the steps, or under both across the page
};

// Cautions across the page, in two columns that hold half of the lines each.
double cautions_below(const Sheet& sheet, const BrewCard& card, const Rect& where, const Fit& fit,
                      std::vector<Box>* boxes) {
  if (card.cautions.lines.empty()) return 0.0;
  Column head(sheet, where, fit, boxes);
  head.title(card.cautions.title);
  const auto middle = card.cautions.lines.begin() + static_cast<std::ptrdiff_t>((card.cautions.lines.size() + 1) / 2);
  const std::vector<std::string> first(card.cautions.lines.begin(), middle);
  const std::vector<std::string> second(middle, card.cautions.lines.end());
  const Rect lines{where.x, head.y(), where.width, 0.0};
  return head.used() + beside(
                           sheet, lines, 0.5, fit, boxes, [&](Column& c) { caution_lines(c, first); },
                           [&](Column& c) { caution_lines(c, second); });
}

double lower_part(const Sheet& sheet, const BrewCard& card, const Rect& where, const Fit& fit, const Shares& shares,
                  std::vector<Box>* boxes) {
  const double height = beside(
      sheet, where, shares.left, fit, boxes,
      [&](Column& c) {
        amounts(c, card);
        section(c, "clearing", clearing(card, fit));
        section(c, "air", air(card, fit));
        if (shares.cautions == Place::left) cautions(c, card);
      },
      [&](Column& c) {
        steps(c, card);
        if (shares.cautions == Place::right) cautions(c, card);
      });
  if (shares.cautions != Place::below) return height;
  return height + cautions_below(sheet, card, {where.x, where.y + height, where.width, 0.0}, fit, boxes);
}

// The shares that make the lower part shortest.
Shares best_shares(const Sheet& sheet, const BrewCard& card, const Rect& where, const Fit& fit) {
  Shares best;
  double least = lower_part(sheet, card, where, fit, best, nullptr);
  for (const double left : {0.38, 0.44, 0.5, 0.56})
    for (const Place place : {Place::left, Place::right, Place::below}) {
      const Shares shares{left, place};
      const double height = lower_part(sheet, card, where, fit, shares, nullptr);
      if (height >= least) continue;
      least = height;
      best = shares;
    }
  return best;
}

void foot(Column& column, const BrewCard& card, const Fit& fit) {
  std::string text = fit.is_shortened() ? card.shortened : std::string();
  for (const std::string& line : card.sources.lines) text += (text.empty() ? "" : " ") + line;
  Type small = quiet_of(column.type(0.84));
  if (fit.rows > 0) small.lines = 3;
  column.paragraph("sources", text, small);
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
  top.skip(lower_part(sheet, card, lower, fit, best_shares(sheet, card, lower, fit), boxes));

  Column measured(sheet, body, fit, nullptr);
  foot(measured, card, fit);
  if (boxes != nullptr) {
    Column last(sheet, {body.x, body.bottom() - measured.used(), body.width, 0.0}, fit, boxes);
    foot(last, card, fit);
  }
  return body.bottom() - measured.used() - top.y();
}

}  // namespace

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
