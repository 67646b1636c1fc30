#include "cards/page_pieces.h"

#include <algorithm>

namespace barm::cards {
namespace {

template <class Row>
std::size_t rows_of(const std::vector<Row>& rows, const Fit& fit) {
  return fit.rows > 0 ? std::min(rows.size(), fit.rows) : rows.size();
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

}  // namespace

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

// Of the ways to clear the water, a short card keeps what is in it, the first choice, and the test strip.
void clearing(Column& column, const BrewCard& card) {
  Section kept = card.clearing;
  if (!column.fit().with_lesser && kept.lines.size() > 3)
    kept.lines.erase(kept.lines.begin() + 2, kept.lines.end() - 1);
  section(column, "clearing", kept);
}

void air(Column& column, const BrewCard& card) {
  Section kept = card.air;
  if (!column.fit().with_lesser && kept.lines.size() > 1) kept.lines.resize(1);
  section(column, "air", kept);
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

void cautions(Column& column, const BrewCard& card) {
  if (card.cautions.lines.empty()) return;
  column.title(card.cautions.title);
  caution_lines(column, card.cautions.lines);
}

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

void foot(Column& column, const BrewCard& card) {
  const Fit& fit = column.fit();
  std::string text = fit.is_shortened() ? card.shortened : std::string();
  for (const std::string& line : card.sources.lines) text += (text.empty() ? "" : " ") + line;
  Type small = quiet_of(column.type(0.84));
  if (fit.rows > 0) small.lines = 3;
  column.paragraph("sources", text, small);
}

}  // namespace barm::cards
