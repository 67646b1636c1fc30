#include "cards/brew_card_text.h"

#include <algorithm>

#include "cards/columns.h"
#include "cards/night_text.h"
#include "quantity/expects.h"

namespace barm::cards {
namespace {

enum class Weight : std::uint8_t { plain, strong, quiet };

class Screen {
 public:
  Screen(int columns, bool styled) : columns_(columns), styled_(styled) {}

  void line(std::string_view text = {}, Weight weight = Weight::plain) {
    const bool dressed = styled_ && weight != Weight::plain && !text.empty();
    if (dressed) text_ += weight == Weight::strong ? "\x1b[1m" : "\x1b[2m";
    text_ += text;
    if (dressed) text_ += "\x1b[0m";
    text_ += '\n';
  }
  // A paragraph behind a lead ("1  ", "- "), its later lines standing under the first.
  void paragraph(std::string_view lead, std::string_view text, Weight weight = Weight::plain) {
    const int indent = columns_of(lead);
    bool first = true;
    for (const std::string& part : wrap(text, columns_ - indent)) {
      line((first ? std::string(lead) : std::string(static_cast<std::size_t>(indent), ' ')) + part, weight);
      first = false;
    }
  }
  void title(std::string_view text) {
    line();
    const int rule = columns_ - columns_of(text) - 1;
    std::string dressed(text);
    dressed += ' ';
    for (int i = 0; i < rule; ++i) dressed += "─";
    line(dressed, Weight::strong);
  }
  int columns() const { return columns_; }
  std::string take() { return std::move(text_); }

 private:
  int columns_;
  bool styled_;
  std::string text_;
};

void section(Screen& screen, const Section& part) {
  if (part.lines.empty()) return;
  screen.title(part.title);
  for (const std::string& line : part.lines) screen.paragraph("- ", line);
}

void warnings(Screen& screen, const BrewCard& card) {
  if (!card.warnings.empty()) screen.title(card.warnings_title);
  for (const Said& warning : card.warnings) {
    screen.paragraph("! ", warning.text);
    if (!warning.next.empty()) screen.paragraph("  → ", warning.next);
  }
  if (!card.mends.empty()) screen.title(card.mends_title);
  for (const std::string& mend : card.mends) screen.paragraph("→ ", mend);
}

// Moments across, the three figures down; as many moments as fit.
void table(Screen& screen, const BrewCard& card) {
  if (card.table.empty()) return;
  int head = 0;
  for (const std::string* text : {&card.table_low, &card.table_middle, &card.table_high})
    head = std::max(head, columns_of(*text));
  int cell = 1;
  for (const TableRow& row : card.table) cell = std::max({cell, columns_of(row.hour) + 2, columns_of(row.day) + 2});
  const auto fits = static_cast<std::size_t>(std::max(1, (screen.columns() - head) / cell));
  const std::size_t every = (card.table.size() + fits - 1) / fits;
  const auto row = [&](std::string_view name, auto figure, Weight weight) {
    std::string line = pad_right(name, head);
    for (std::size_t i = 0; i < card.table.size(); i += every) line += pad_left(figure(card.table[i]), cell);
    screen.line(line, weight);
  };
  screen.line();
  screen.line(card.table_title, Weight::quiet);
  row(
      "", [](const TableRow& r) { return r.day; }, Weight::quiet);
  row(
      "", [](const TableRow& r) { return r.hour; }, Weight::quiet);
  row(
      card.table_high, [](const TableRow& r) { return r.high; }, Weight::plain);
  row(
      card.table_middle, [](const TableRow& r) { return r.middle; }, Weight::plain);
  row(
      card.table_low, [](const TableRow& r) { return r.low; }, Weight::plain);
}

void picture(Screen& screen, const BrewCard& card) {
  screen.title(card.picture_title);
  for (const std::string& line : night_text(card.picture, screen.columns())) screen.line(line);
  if (!card.picture.empty()) screen.paragraph("", card.picture.band_key, Weight::quiet);
  screen.line();
  for (const std::string& sentence : card.picture_says) screen.paragraph("- ", sentence);
  table(screen, card);
}

void amounts(Screen& screen, const BrewCard& card) {
  if (card.amounts.empty()) return;
  screen.title(card.amounts_title);
  int kitchen = 0;
  int beside = 0;
  int rounding = 0;
  for (const AmountRow& row : card.amounts) {
    kitchen = std::max(kitchen, columns_of(row.kitchen));
    beside = std::max(beside, columns_of(row.beside));
    rounding = std::max(rounding, columns_of(row.rounding));
  }
  constexpr int between = 2;
  constexpr int least_name = 12;
  const int name = std::max(least_name, std::min(30, screen.columns() - kitchen - beside - rounding - 3 * between));
  for (const AmountRow& row : card.amounts) {
    const std::string figures = pad_right(row.kitchen, kitchen + between) + pad_left(row.beside, beside) +
                                std::string(between, ' ') + pad_left(row.rounding, rounding);
    const std::vector<std::string> names = wrap(row.name, name);
    if (name + between + columns_of(figures) > screen.columns()) {  // a text no card foresaw: give it lines of its own
      screen.paragraph("", row.name + ": " + row.kitchen + ", " + row.beside + ", " + row.rounding);
      continue;
    }
    screen.line(pad_right(names.front(), name + between) + figures);
    for (std::size_t i = 1; i < names.size(); ++i) screen.line("  " + names[i]);
  }
}

void steps(Screen& screen, const BrewCard& card) {
  if (card.steps.empty()) return;
  screen.title(card.steps_title);
  int clock = 0;
  int from_start = 0;
  for (const StepRow& row : card.steps) {
    clock = std::max(clock, columns_of(row.clock));
    from_start = std::max(from_start, columns_of(row.from_start));
  }
  for (const StepRow& row : card.steps)
    screen.paragraph(pad_right(row.clock, clock + 2) + pad_left(row.from_start, from_start) + "  ", row.text);
}

}  // namespace

std::string brew_card_text(const recipe::BrewPlan& plan, const CardOptions& options, const Catalogue& catalogue) {
  expects(options.columns >= 60 && options.columns <= 120, "a card is 60 to 120 columns wide");
  const BrewCard card = brew_card(plan, options, catalogue);
  Screen screen(options.columns, options.styled);
  screen.paragraph("", card.headline, Weight::strong);
  screen.paragraph("", card.about, Weight::quiet);
  warnings(screen, card);
  picture(screen, card);
  amounts(screen, card);
  steps(screen, card);
  section(screen, card.clearing);
  section(screen, card.air);
  section(screen, card.life);
  section(screen, card.cautions);
  section(screen, card.notes);
  section(screen, card.sources);
  return screen.take();
}

}  // namespace barm::cards
