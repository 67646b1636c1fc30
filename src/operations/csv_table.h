// Any table a logger or a spreadsheet saves as text, row by row. Form: docs/operations/readings.md
#pragma once

#include <cstddef>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "quantity/answer.h"

namespace barm::operations {

/// What a table is for, to say in refusals.
struct CsvWanted {
  std::string field{};   // the input the file came through
  std::string sample{};  // a good first line, "time_s,oxygen_mg_per_l"
  std::size_t rows_most = 1'000'000;
};

/// Reads the first line as names of columns, then a row at a time. Cells are parted by commas, semicolons or tabs,
/// whichever the first line uses; a decimal comma is taken only where cells are not parted by commas. A byte-order
/// mark, either line ending, empty lines and lines beginning with '#' are allowed; cells may stand in quotes, a quote
/// inside them doubled. Says what is wrong with line and column (operations.readings.*), up to ten at once. Left out:
/// line breaks inside a cell, which are refused. The text must outlive the table.
class CsvTable {
 public:
  using Facts = std::map<std::string, Remark::Fact>;

  /// Refuses a text without a first line of names, and a first line of numbers.
  CsvTable(std::string_view text, CsvWanted wanted, Findings& findings);

  const std::vector<std::string>& columns() const { return columns_; }
  /// The column of this name; refuses when it is missing (offering the likely spelling) or there twice.
  std::optional<std::size_t> column(const std::string& name);
  /// The column of this name if there is one; refuses when it is there twice.
  std::optional<std::size_t> column_if_any(const std::string& name);
  /// Doubts each column that was not asked for by name or through `use`.
  void doubt_unused();
  void use(std::size_t column) { used_[column] = true; }

  /// Goes to the next row; false at the end, after ten refusals, or when something was refused before the first row.
  /// Passes over, after refusing it, a row with too few or too many cells.
  bool next();
  int line() const { return line_number_; }
  std::size_t rows_count() const { return rows_count_; }

  /// The cell without blanks and quotes around it.
  std::string_view text(std::size_t column) const { return cells_[column]; }
  /// The cell as a finite number; nothing after refusing it.
  std::optional<double> number(std::size_t column);
  /// The cell read as a number, whatever it is worth (infinite, nan); nothing when it is no number. Refuses nothing.
  std::optional<double> number_if_any(std::size_t column) const;

  /// Says what is wrong with the line (fact `line`) or, with a column, with one cell (facts `column` and `given`).
  void refuse(const char* code, Facts facts = {});
  void refuse(const char* code, std::size_t column, Facts facts = {});

 private:
  bool next_line(std::string_view& line);
  void part(std::string_view line);
  std::string_view unquoted(std::string_view cell);
  std::string likely_column(const std::string& name) const;

  CsvWanted wanted_;
  Findings* findings_;
  std::string_view left_;
  std::vector<std::string> columns_;
  std::vector<bool> used_;
  std::vector<std::string_view> cells_;
  std::vector<std::string> rewritten_;  // cells with doubled quotes, as they read without
  std::size_t rows_count_ = 0, refused_count_ = 0;
  int line_number_ = 0;
  char separator_ = ',';
  bool is_table_ = false, started_ = false, quote_left_open_ = false;
};

}  // namespace barm::operations
