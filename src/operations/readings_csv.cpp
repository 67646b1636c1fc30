#include "operations/readings_csv.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <optional>

#include "operations/reading.h"

namespace barm::operations {
namespace {

constexpr std::size_t rows_most = 1'000'000;  // judged: eleven days at a reading a second
constexpr std::size_t told_most = 10;         // after ten wrong lines the file is another kind of file

const std::vector<std::string> wanted = {"time_s", "oxygen_mg_per_l"};

std::string_view trimmed(std::string_view text) {
  const auto is_blank = [](char c) { return c == ' ' || c == '\t' || c == '\r'; };
  while (!text.empty() && is_blank(text.front())) text.remove_prefix(1);
  while (!text.empty() && is_blank(text.back())) text.remove_suffix(1);
  if (text.size() >= 2 && text.front() == '"' && text.back() == '"') return trimmed(text.substr(1, text.size() - 2));
  return text;
}

std::vector<std::string_view> cells_of(std::string_view line, char separator) {
  std::vector<std::string_view> cells;
  std::size_t begin = 0;
  bool quoted = false;
  for (std::size_t i = 0; i <= line.size(); ++i) {
    if (i < line.size() && line[i] == '"') quoted = !quoted;
    if (i < line.size() && (quoted || line[i] != separator)) continue;
    cells.push_back(trimmed(line.substr(begin, i - begin)));
    begin = i + 1;
  }
  return cells;
}

char separator_of(std::string_view first_line) {
  if (first_line.find(';') != std::string_view::npos) return ';';
  return first_line.find('\t') != std::string_view::npos ? '\t' : ',';
}

std::optional<double> number_in(std::string_view cell, bool decimal_comma) {
  std::string text(cell);
  if (decimal_comma) std::replace(text.begin(), text.end(), ',', '.');
  const char* begin = text.data() + (text.starts_with('+') ? 1 : 0);
  double value = 0.0;
  const auto [end, error] = std::from_chars(begin, text.data() + text.size(), value);
  if (error == std::errc::invalid_argument || end != text.data() + text.size()) return std::nullopt;
  return error == std::errc::result_out_of_range ? HUGE_VAL : value;
}

class Reader {
 public:
  explicit Reader(std::string field) : field_(std::move(field)) {}

  Answer<std::vector<air::OxygenReading>> read(std::string_view text) {
    if (text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3);
    while (!text.empty() && refused_ < told_most) {
      const auto end = text.find('\n');
      const auto line = text.substr(0, end);
      text = end == std::string_view::npos ? std::string_view() : text.substr(end + 1);
      ++line_number_;
      const auto content = trimmed(line);
      if (content.empty() || content.front() == '#') continue;
      if (columns_.empty()) {
        if (!read_columns(line)) break;
      } else {
        read_row(line);
      }
    }
    if (readings_.empty() && refused_ == 0) refuse("operations.readings.empty", {});
    return std::move(findings_).answer(std::move(readings_));
  }

 private:
  using Facts = std::map<std::string, Remark::Fact>;

  void refuse(const char* code, Facts facts) {
    facts.emplace("line", std::to_string(line_number_));
    findings_.refuse({code, field_, std::move(facts)});
    ++refused_;
  }

  bool read_columns(std::string_view line) {
    separator_ = separator_of(line);
    for (const auto cell : cells_of(line, separator_)) columns_.emplace_back(cell);
    if (std::all_of(columns_.begin(), columns_.end(), [](const auto& name) { return is_plain_number(name); })) {
      refuse("operations.readings.no_names",
             {{"given", std::string(trimmed(line))}, {"allowed", wanted[0] + ", " + wanted[1]}});
      return false;
    }
    for (const auto& name : wanted) place(name);
    for (const auto& name : columns_) {
      if (refused_ == 0 && std::find(wanted.begin(), wanted.end(), name) == wanted.end()) {
        findings_.doubt({"operations.readings.column_not_used", field_, {{"given", name}}});
      }
    }
    return refused_ == 0;
  }

  void place(const std::string& name) {
    const auto count = std::count(columns_.begin(), columns_.end(), name);
    if (count == 1) {
      const auto at = std::find(columns_.begin(), columns_.end(), name) - columns_.begin();
      (name == wanted[0] ? time_at_ : oxygen_at_) = static_cast<std::size_t>(at);
      return;
    }
    Facts facts{{"given", name}};
    if (count > 1) return refuse("operations.readings.column_repeated", std::move(facts));
    std::vector<std::string> others;
    for (const auto& column : columns_) {
      if (std::find(wanted.begin(), wanted.end(), column) == wanted.end()) others.push_back(column);
    }
    if (const auto near = likely(name, others); !near.empty()) facts.emplace("suggestion", near);
    refuse("operations.readings.column_missing", std::move(facts));
  }

  void read_row(std::string_view line) {
    const auto cells = cells_of(line, separator_);
    if (cells.size() != columns_.size()) {
      refuse("operations.readings.cells",
             {{"given", std::to_string(cells.size())}, {"allowed", std::to_string(columns_.size())}});
      return;
    }
    if (readings_.size() >= rows_most) {
      refuse("operations.readings.too_many", {{"most", std::to_string(rows_most)}});
      refused_ = told_most;
      return;
    }
    const auto time = cell(cells[time_at_], time_at_);
    const auto oxygen = cell(cells[oxygen_at_], oxygen_at_);
    if (time && oxygen) readings_.push_back({*time, *oxygen});
  }

  std::optional<double> cell(std::string_view text, std::size_t column) {
    const auto value = number_in(text, separator_ != ',');
    const Facts facts{{"given", std::string(text.substr(0, 40))}, {"column", columns_[column]}};
    if (!value) {
      refuse("operations.readings.not_a_number", facts);
    } else if (!std::isfinite(*value)) {
      refuse("operations.readings.not_finite", facts);
    } else {
      return value;
    }
    return std::nullopt;
  }

  std::string field_;
  Findings findings_;
  std::vector<air::OxygenReading> readings_;
  std::vector<std::string> columns_;
  std::size_t time_at_ = 0, oxygen_at_ = 0, refused_ = 0;
  int line_number_ = 0;
  char separator_ = ',';
};

}  // namespace

Answer<std::vector<air::OxygenReading>> read_readings(std::string_view text, const std::string& field) {
  return Reader(field).read(text);
}

}  // namespace barm::operations
