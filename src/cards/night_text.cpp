#include "cards/night_text.h"

#include <algorithm>
#include <cmath>

#include "cards/columns.h"
#include "quantity/expects.h"

namespace barm::cards {
namespace {

constexpr int axis_columns = 5;  // "  10 " and the axis itself

// One line of characters, each cell one column wide.
class Line {
 public:
  explicit Line(int columns) : cells_(static_cast<std::size_t>(columns), " ") {}
  int columns() const { return static_cast<int>(cells_.size()); }
  void set(int column, std::string_view glyph) {
    if (column >= 0 && column < columns()) cells_[static_cast<std::size_t>(column)] = glyph;
  }
  bool is_free(int from, int to) const {
    for (int c = std::max(0, from); c < std::min(to, columns()); ++c)
      if (cells_[static_cast<std::size_t>(c)] != " ") return false;
    return true;
  }
  // Writes text glyph by glyph; the part beyond the line is lost, so callers place it first.
  void write(int column, std::string_view text) {
    for (std::size_t at = 0; at < text.size();) {
      std::size_t end = at + 1;
      while (end < text.size() && (static_cast<unsigned char>(text[end]) & 0xC0U) == 0x80U) ++end;
      set(column++, text.substr(at, end - at));
      at = end;
    }
  }
  std::string text() const {
    std::string all;
    for (const std::string& cell : cells_) all += cell;
    all.erase(all.find_last_not_of(' ') + 1);
    return all;
  }

 private:
  std::vector<std::string> cells_;
};

// How the hours fall on columns.
struct Scale {
  Stretch shown;
  int columns = 0;
  double hour(int column) const { return shown.from_h + (column + 0.5) * (shown.to_h - shown.from_h) / columns; }
  int column(double at_h) const {
    const double share = (at_h - shown.from_h) / (shown.to_h - shown.from_h);
    return std::clamp(static_cast<int>(share * columns), 0, columns - 1);
  }
};

// Ticks with their words above the plot, in as many rows as it takes for no word to touch another.
std::vector<std::string> act_lines(const NightPicture& picture, const Scale& scale, int columns) {
  constexpr std::size_t most_rows = 4;
  std::vector<Line> lines;
  for (const Act& act : picture.acts) {
    const int tick = axis_columns + scale.column(act.at_h);
    const int width = columns_of(act.word) + 1;
    const bool leftward = tick + width > columns;
    const int from = leftward ? std::max(0, tick - width + 1) : tick;
    std::size_t row = 0;
    while (row < lines.size() && !lines[row].is_free(from - 1, from + width + 1)) ++row;
    if (row == most_rows) continue;  // told by the steps
    if (row == lines.size()) lines.emplace_back(columns);
    lines[row].write(from, leftward ? act.word + "▾" : "▾" + act.word);
  }
  std::vector<std::string> text;
  for (auto line = lines.rbegin(); line != lines.rend(); ++line) text.push_back(line->text());
  return text;
}

std::string night_line(const NightPicture& picture, const Scale& scale, int columns) {
  Line line(columns);
  const int word = columns_of(picture.night);
  for (const Stretch& night : picture.nights) {
    const int from = axis_columns + scale.column(night.from_h);
    const int to = axis_columns + scale.column(night.to_h);
    for (int c = from; c <= to; ++c) line.set(c, "▁");
    if (to - from + 1 >= word + 4) line.write((from + to + 1 - word) / 2 - 1, " " + picture.night + " ");
  }
  return line.text();
}

int row_of(double mg_per_l) {
  return static_cast<int>(std::lround(std::max(0.0, mg_per_l)));
}

// The middle line through one column, joined to the one before so that a steep fall stays one line.
void draw_middle(std::vector<Line>& rows, int column, int before, int here) {
  const auto put = [&](int row, std::string_view glyph) {
    if (row >= 0 && row < static_cast<int>(rows.size())) rows[static_cast<std::size_t>(row)].set(column, glyph);
  };
  if (before == here) return put(here, "━");
  put(before, before > here ? "┓" : "┛");
  put(here, before > here ? "┗" : "┏");
  for (int row = std::min(before, here) + 1; row < std::max(before, here); ++row) put(row, "┃");
}

std::vector<Line> plot(const NightPicture& picture, const Scale& scale) {
  const int top = static_cast<int>(picture.top_mg_per_l);
  std::vector<Line> rows(static_cast<std::size_t>(top) + 1, Line(scale.columns));
  std::optional<int> before;
  for (int c = 0; c < scale.columns; ++c) {
    const double hour = scale.hour(c);
    for (const double line : {stay_above_mg_per_l, flat_below_mg_per_l})
      rows[static_cast<std::size_t>(line)].set(c, "┄");
    if (const auto full = picture.saturation_at(hour)) {
      const int row = row_of(*full);
      if (row <= top) rows[static_cast<std::size_t>(row)].set(c, "─");
    }
    const auto here = picture.oxygen_at(hour);
    if (!here) {
      before.reset();
      continue;
    }
    for (int row = 0; row <= top; ++row) {
      const bool inner = row >= here->p25 && row <= here->p75;
      const bool outer = row >= here->p05 - 0.5 && row <= here->p95 + 0.5;
      if (inner || outer) rows[static_cast<std::size_t>(row)].set(c, inner ? "▒" : "░");
    }
    const int middle = row_of(here->p50);
    draw_middle(rows, c, before.value_or(middle), middle);
    before = middle;
  }
  for (const Dot& dot : picture.readings) {
    const int row = row_of(dot.mg_per_l);
    if (row <= top) rows[static_cast<std::size_t>(row)].set(scale.column(dot.at_h), dot.doubted ? "⊗" : "●");
  }
  return rows;
}

std::string axis_line(const NightPicture& picture, const Scale& scale, int columns) {
  Line line(columns);
  line.write(axis_columns - 1, "└");
  for (int c = 0; c < scale.columns; ++c) line.set(axis_columns + c, "─");
  for (const ClockMark& mark : picture.clock)
    line.set(axis_columns + scale.column(mark.at_h), mark.is_midnight ? "╋" : "┬");
  if (picture.next_h) line.set(axis_columns + scale.column(*picture.next_h), "◌");
  return line.text();
}

// Hours under their ticks, every third or, where they would touch, every sixth; the day under midnight.
void clock_lines(const NightPicture& picture, const Scale& scale, int columns, std::vector<std::string>& lines) {
  constexpr int label = 5;
  Line hours(columns);
  Line days(columns);
  const double per_mark = 3.0 * scale.columns / (scale.shown.to_h - scale.shown.from_h);
  const int every = per_mark >= label + 1 ? 3 : per_mark * 2 >= label + 1 ? 6 : 12;
  for (const ClockMark& mark : picture.clock) {
    if (std::stoi(mark.hour) % every != 0) continue;
    const int at = std::min(axis_columns + scale.column(mark.at_h) - label / 2, columns - label);
    if (!hours.is_free(at - 1, at + label + 1)) continue;
    hours.write(at, mark.hour);
    if (mark.is_midnight) days.write(at + 1, mark.day);
  }
  if (!picture.clock.empty()) {
    const std::string& day = picture.clock.front().day;
    if (days.is_free(axis_columns, axis_columns + columns_of(day) + 1)) days.write(axis_columns, day);
  }
  lines.push_back(hours.text());
  lines.push_back(days.text());
}

std::vector<std::string> ready_lines(const NightPicture& picture, const Scale& scale, int columns) {
  if (!picture.ready) return {};
  const int from = axis_columns + scale.column(picture.ready->when.from_h);
  const int to = std::max(from + 1, axis_columns + scale.column(std::min(picture.ready->when.to_h, scale.shown.to_h)));
  Line bracket(columns);
  for (int c = from; c <= to; ++c) bracket.set(c, "━");
  bracket.set(from, "┗");
  bracket.set(to, "┛");
  const std::string words = picture.ready_word + " " + picture.ready->from + " – " + picture.ready->to;
  Line below(columns);
  const int width = columns_of(words);
  below.write(std::clamp((from + to + 1 - width) / 2, 0, std::max(0, columns - width)), words);
  return {bracket.text(), below.text()};
}

}  // namespace

std::vector<std::string> night_text(const NightPicture& picture, int columns) {
  expects(columns >= 60 && columns <= 120, "a card is 60 to 120 columns wide");
  if (picture.empty()) return {};
  int words = 0;
  for (const std::string* word : {&picture.stay_above, &picture.flat_below, &picture.water_full})
    words = std::max(words, columns_of(*word));
  const Scale scale{picture.shown, columns - axis_columns - words - 3};

  std::vector<std::string> lines = act_lines(picture, scale, columns);
  if (!picture.nights.empty()) lines.push_back(night_line(picture, scale, columns));
  const std::vector<Line> rows = plot(picture, scale);
  const auto full = picture.saturation_at(scale.hour(scale.columns - 1));
  for (int row = static_cast<int>(rows.size()) - 1; row >= 0; --row) {
    std::string line = row % 2 == 0 ? pad_left(std::to_string(row), axis_columns - 2) + " ┤" : "    │";
    line += pad_right(rows[static_cast<std::size_t>(row)].text(), scale.columns);
    if (row == static_cast<int>(stay_above_mg_per_l))
      line += " " + picture.stay_above + " 6";
    else if (row == static_cast<int>(flat_below_mg_per_l))
      line += " " + picture.flat_below + " 2";
    else if (full && row == row_of(*full))
      line += " " + picture.water_full;
    line.erase(line.find_last_not_of(' ') + 1);
    lines.push_back(line);
  }
  lines.push_back(axis_line(picture, scale, columns));
  clock_lines(picture, scale, columns, lines);
  for (std::string& line : ready_lines(picture, scale, columns)) lines.push_back(std::move(line));
  return lines;
}

}  // namespace barm::cards
