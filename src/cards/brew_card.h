// The brew card in words: what a plan has to tell, in the order it is told, before anybody lays it out. The terminal
// card and the printed one say the same because both are laid out from this. Order and reasons: docs/cards/brew_card.md
#pragma once

#include <string>
#include <vector>

#include "cards/night_picture.h"
#include "cards/voice.h"
#include "recipe/plan.h"

namespace barm::cards {

enum class Paper : std::uint8_t { a4, letter };

struct CardOptions {
  std::string zone = "UTC";  // IANA name of the garden's zone; the caller has made sure that it exists
  Language language = Language::english;
  int columns = 80;     // of the terminal, 60 to 120
  bool styled = false;  // with bold and dim for a terminal that shows them; nothing depends on it
  Paper paper = Paper::a4;
};

struct Said {
  std::string text;
  std::string next;  // what to do about it; empty when nothing
};
struct AmountRow {
  std::string name, kitchen, beside, rounding;
};
struct StepRow {  // clock and lead are empty when those of the row before hold
  std::string clock, from_start, text;
};
struct TableRow {  // the night picture in figures [mg/L]
  std::string day, hour, low, middle, high;
};
struct Section {  // a title and short paragraphs
  std::string title;
  std::vector<std::string> lines;
};

struct BrewCard {
  std::string headline;  // to say aloud across a yard
  std::string about;     // which brew, how much, from when until when
  std::string warnings_title;
  std::vector<Said> warnings;
  std::string mends_title;
  std::vector<std::string> mends;
  std::string picture_title;
  NightPicture picture;
  std::vector<std::string> picture_says;  // the picture in sentences
  std::string table_title, table_low, table_middle, table_high;
  std::vector<TableRow> table;
  std::string amounts_title;
  std::vector<AmountRow> amounts;
  std::string steps_title;
  std::vector<StepRow> steps;
  Section clearing, air, life, cautions, sources;
  Section notes;          // how far to trust it; on the terminal, where there is room
  std::string shortened;  // said when a page cannot hold everything
};

BrewCard brew_card(const recipe::BrewPlan& plan, const CardOptions& options, const Catalogue& catalogue);

}  // namespace barm::cards
