// A report of several pages: a heading, then sections of rows, for whoever reads it at a desk with a pen.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "cards/brew_card.h"

namespace barm::cards {

struct ReportRow {
  std::string lead{};     // when or which, at the left; may be empty
  std::string text{};     // what
  std::string detail{};   // under it, quieter; may be empty
  std::string picture{};  // bytes of a photo's file, shown small under both where it can be (picture.h); may be empty
  bool warns = false;     // set off by a bar and bold type
};
struct ReportSection {
  std::string title{}, intro{};
  std::vector<ReportRow> rows{};
};
struct Report {
  std::string title{}, about{};
  std::vector<ReportSection> sections{};
  std::string foot{};        // of every page, before its number
  std::int64_t made_at = 0;  // ms UTC; the file's date
};

/// The same report gives the same bytes. A row stays on one page unless it is longer than one; a title stays with the
/// row after it. Text is cut nowhere.
std::vector<std::uint8_t> report_pdf(const Report& report, Paper paper);

}  // namespace barm::cards
