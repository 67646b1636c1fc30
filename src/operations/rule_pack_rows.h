// An inspector's pack in words: the same rows for the printed report, the table and the answer.
#pragma once

#include <string>
#include <vector>

#include "cards/report_pdf.h"
#include "operations/rule_pack_found.h"

namespace barm::operations {

struct PackRow {
  std::string section{};  // "applications", "rules", "tests", "cleaning", "photos", "people", "corrections", "record"
  std::string at{};       // instant or day; may be empty
  std::string thing{};    // which bed, lot, clause
  std::string text{};
  std::string status{}, verdict{}, facts{};  // of a rule
  bool warns = false;
  const PhotoFile* photo = nullptr;  // of the pack
};

/// Good as long as the pack.
std::vector<PackRow> pack_rows(const Pack& pack, const Voice& voice);
cards::Report pack_report(const Pack& pack, const Voice& voice, std::int64_t made_at);
/// RFC 4180, the first line naming the columns; a text that a spreadsheet would take for a formula gets an apostrophe.
std::string pack_csv(const Pack& pack, const Voice& voice);

}  // namespace barm::operations
