#include "operations/csv_table.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

#include "operations/reading.h"

namespace barm::operations {
namespace {

constexpr std::size_t told_most = 10;  // after ten wrong lines the file is another kind of file

std::string_view trimmed(std::string_view text) {
  const auto is_blank = [](char c) { return c == ' ' || c == '\t' || c == '\r'; };
  while (!text.empty() && is_blank(text.front())) text.remove_prefix(1);
  while (!text.empty() && is_blank(text.back())) text.remove_suffix(1);
  return text;
}

char separator_of(std::string_view first_line) {
  if (first_line.find(';') != std::string_view::npos) return ';';
  return first_line.find('\t') != std::string_view::npos ? '\t' : ',';
}

std::optional<double> number_in(std::string_view text, bool decimal_comma) {
  std::array<char, 64> point{};  // the same with a decimal point; a longer cell is no reading
  if (decimal_comma && text.find(',') != std::string_view::npos) {
    if (text.size() > point.size()) return std::nullopt;
    std::replace_copy(text.begin(), text.end(), point.begin(), ',', '.');
    text = {point.data(), text.size()};
  }
  if (text.starts_with('+')) text.remove_prefix(1);
  double value = 0.0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error == std::errc::invalid_argument || end != text.data() + text.size()) return std::nullopt;
  return error == std::errc::result_out_of_range ? HUGE_VAL : value;
}

}  // namespace

CsvTable::CsvTable(std::string_view text, CsvWanted wanted, Findings& findings)
    : wanted_(std::move(wanted)), findings_(&findings), left_(text) {
  if (left_.starts_with("\xEF\xBB\xBF")) left_.remove_prefix(3);
  std::string_view line;
  if (!next_line(line)) {
    refuse("operations.readings.empty", {{"allowed", wanted_.sample}});
    return;
  }
  separator_ = separator_of(line);
  part(line);
  columns_.assign(cells_.begin(), cells_.end());
  used_.assign(columns_.size(), false);
  if (quote_left_open_) {
    refuse("operations.readings.quote_open");
  } else if (std::all_of(columns_.begin(), columns_.end(), [](const auto& name) { return is_plain_number(name); })) {
    refuse("operations.readings.no_names", {{"given", std::string(trimmed(line))}, {"allowed", wanted_.sample}});
  } else {
    is_table_ = true;
  }
}

bool CsvTable::next_line(std::string_view& line) {
  while (!left_.empty()) {
    const auto end = left_.find('\n');
    line = left_.substr(0, end);
    left_ = end == std::string_view::npos ? std::string_view() : left_.substr(end + 1);
    ++line_number_;
    const auto content = trimmed(line);
    if (!content.empty() && content.front() != '#') return true;
  }
  return false;
}

void CsvTable::part(std::string_view line) {
  cells_.clear();
  rewritten_.clear();
  quote_left_open_ = false;
  if (line.find('"') == std::string_view::npos) {  // nearly every line of a long log
    for (std::size_t begin = 0;;) {
      const auto end = line.find(separator_, begin);
      cells_.push_back(trimmed(line.substr(begin, end - begin)));
      if (end == std::string_view::npos) return;
      begin = end + 1;
    }
  }
  rewritten_.reserve(line.size());  // no cell moves while others look at it
  std::size_t begin = 0;
  for (std::size_t i = 0; i <= line.size(); ++i) {
    if (i < line.size() && line[i] == '"') quote_left_open_ = !quote_left_open_;
    if (i < line.size() && (quote_left_open_ || line[i] != separator_)) continue;
    cells_.push_back(unquoted(trimmed(line.substr(begin, i - begin))));
    begin = i + 1;
  }
}

std::string_view CsvTable::unquoted(std::string_view cell) {
  if (cell.size() < 2 || cell.front() != '"' || cell.back() != '"') return cell;
  cell = cell.substr(1, cell.size() - 2);
  if (cell.find("\"\"") == std::string_view::npos) return trimmed(cell);
  std::string once;
  for (std::size_t i = 0; i < cell.size(); ++i) {
    once += cell[i];
    if (cell[i] == '"' && i + 1 < cell.size() && cell[i + 1] == '"') ++i;
  }
  return trimmed(rewritten_.emplace_back(std::move(once)));
}

std::string CsvTable::likely_column(const std::string& name) const {
  std::vector<std::string> others;
  for (std::size_t i = 0; i < columns_.size(); ++i) {
    if (!used_[i]) others.push_back(columns_[i]);
  }
  return likely(name, others);
}

std::optional<std::size_t> CsvTable::column_if_any(const std::string& name) {
  const auto found = std::find(columns_.begin(), columns_.end(), name);
  if (found == columns_.end()) return std::nullopt;
  if (std::count(found, columns_.end(), name) > 1) {
    refuse("operations.readings.column_repeated", {{"given", name}});
    return std::nullopt;
  }
  const auto index = static_cast<std::size_t>(found - columns_.begin());
  used_[index] = true;
  return index;
}

std::optional<std::size_t> CsvTable::column(const std::string& name) {
  if (std::find(columns_.begin(), columns_.end(), name) != columns_.end()) return column_if_any(name);
  if (!is_table_) return std::nullopt;  // said already
  Facts facts{{"given", name}};
  if (const auto near = likely_column(name); !near.empty()) facts.emplace("suggestion", near);
  refuse("operations.readings.column_missing", std::move(facts));
  return std::nullopt;
}

void CsvTable::doubt_unused() {
  for (std::size_t i = 0; i < columns_.size(); ++i) {
    if (used_[i]) continue;
    findings_->doubt({"operations.readings.column_not_used", wanted_.field, {{"given", columns_[i]}}});
  }
}

bool CsvTable::next() {
  if (!started_ && refused_count_ > 0) return false;  // without its columns no row can be read
  started_ = true;
  std::string_view line;
  while (refused_count_ < told_most && next_line(line)) {
    part(line);
    if (quote_left_open_) {
      refuse("operations.readings.quote_open");
    } else if (cells_.size() != columns_.size()) {
      refuse("operations.readings.cells",
             {{"given", std::to_string(cells_.size())}, {"allowed", std::to_string(columns_.size())}});
    } else if (rows_count_ == wanted_.rows_most) {
      refuse("operations.readings.too_many", {{"most", std::to_string(wanted_.rows_most)}});
      return false;
    } else {
      ++rows_count_;
      return true;
    }
  }
  if (rows_count_ == 0 && refused_count_ == 0) refuse("operations.readings.empty", {{"allowed", wanted_.sample}});
  return false;
}

std::optional<double> CsvTable::number_if_any(std::size_t column) const {
  return number_in(cells_[column], separator_ != ',');
}

std::optional<double> CsvTable::number(std::size_t column) {
  const auto value = number_if_any(column);
  if (value && std::isfinite(*value)) return value;
  refuse(value ? "operations.readings.not_finite" : "operations.readings.not_a_number", column);
  return std::nullopt;
}

void CsvTable::refuse(const char* code, Facts facts) {
  facts.emplace("line", std::to_string(line_number_));
  findings_->refuse({code, wanted_.field, std::move(facts)});
  ++refused_count_;
}

void CsvTable::refuse(const char* code, std::size_t column, Facts facts) {
  facts.emplace("given", std::string(cells_[column].substr(0, 40)));
  facts.emplace("column", columns_[column]);
  refuse(code, std::move(facts));
}

}  // namespace barm::operations
