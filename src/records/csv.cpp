#include "records/csv.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>

#include "quantity/suggest.h"
#include "records/id.h"
#include "records/line.h"
#include "records/moment.h"

namespace barm::records {
namespace {

constexpr std::size_t told_most = 20;
constexpr std::int64_t page = 1000;
constexpr std::size_t rows_most = 5'000'000;  // judged: a meter's log of half a year at three a second

const std::vector<std::string> own_columns = {"id", "recorded_at", "recorded_by", "replaces", "reason"};

/// What makes a spreadsheet reckon a cell: its first letter, also behind apostrophes, so that the apostrophe can be
/// undone.
bool may_be_formula(std::string_view text) {
  const auto first = text.find_first_not_of('\'');
  return first != std::string_view::npos && std::string_view("=+-@\t\r").find(text[first]) != std::string_view::npos;
}

std::string cell(std::string text) {
  if (may_be_formula(text)) text.insert(text.begin(), '\'');
  if (text.find_first_of(",\"\r\n") == std::string::npos) return text;
  std::string quoted = "\"";
  for (const char c : text) quoted += c == '"' ? "\"\"" : std::string(1, c);
  return quoted + "\"";
}

std::string cell(const Field& field, const Value& value) {
  if (!is_given(value)) return {};
  if (const auto* number = std::get_if<double>(&value)) return number_text(*number);
  if (const auto* text = std::get_if<std::string>(&value)) return cell(*text);
  const auto whole = std::get<std::int64_t>(value);
  return field.type == Type::instant ? instant_text(whole) : whole != 0 ? "true" : "false";
}

std::string head_of(const Kind& kind) {
  std::string line = fmt::format("{}", fmt::join(own_columns, ","));
  for (const auto& field : kind.fields) line += "," + field.column();
  return line + "\r\n";
}

std::string row_of(const Kind& kind, const Entry& entry) {
  std::string line = entry.id + "," + instant_text(entry.recorded_at) + "," + cell(entry.recorded_by) + "," +
                     entry.replaces + "," + cell(entry.reason);
  for (std::size_t i = 0; i < kind.fields.size(); ++i) line += "," + cell(kind.fields[i], entry.values[i]);
  return line + "\r\n";
}

std::optional<Value> value_in(const Field& field, std::string text) {
  if (field.type == Type::number) {
    double value = 0.0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc() || end != text.data() + text.size() || !std::isfinite(value)) return std::nullopt;
    return Value(value);
  }
  if (field.type == Type::instant) {
    const auto at = read_instant_text(text);
    return at ? std::optional<Value>(*at) : std::nullopt;
  }
  if (field.type == Type::flag) {
    if (text != "true" && text != "false") return std::nullopt;
    return Value(std::int64_t{text == "true"});
  }
  return Value(std::move(text));
}

class Reader {
 public:
  Reader(const Kind& kind) : kind_(kind) {}

  Answer<std::vector<Entry>> read(const std::vector<std::vector<std::string>>& rows) {
    if (rows.empty()) {
      findings_.refuse({"records.csv.empty", "file", {}});
    } else {
      read_head(rows.front());
      for (line_ = 2; line_ <= rows.size() && findings_.refusals().size() < told_most; ++line_) {
        if (columns_.size() == rows[line_ - 1].size()) {
          read_row(rows[line_ - 1]);
        } else {
          refuse("records.csv.cells",
                 {{"given", std::to_string(rows[line_ - 1].size())}, {"allowed", std::to_string(columns_.size())}});
        }
      }
    }
    return std::move(findings_).answer(std::move(entries_));
  }

 private:
  void refuse(const char* code, std::map<std::string, Remark::Fact> facts) {
    facts.emplace("row", std::to_string(line_));
    findings_.refuse({code, "file", std::move(facts)});
  }

  void read_head(const std::vector<std::string>& names) {
    std::vector<std::string> known = own_columns;
    for (const auto& field : kind_.fields) known.push_back(field.column());
    for (const auto& name : names) {
      const auto at = std::find(known.begin(), known.end(), name);
      if (at == known.end()) {
        std::map<std::string, Remark::Fact> facts{{"given", name.substr(0, 60)}, {"kind", kind_.name}};
        if (const auto near = likely_spelling(name, known); !near.empty()) facts.emplace("suggestion", near);
        refuse("records.csv.unknown_column", std::move(facts));
      } else if (std::find(columns_.begin(), columns_.end(), at - known.begin()) != columns_.end()) {
        refuse("records.csv.column_twice", {{"given", name}});
      }
      columns_.push_back(at - known.begin());
    }
    columns_are_known_ = !findings_.refused();
  }

  void read_row(const std::vector<std::string>& cells) {
    if (!columns_are_known_) return;
    Entry entry{.kind = kind_.name};
    entry.values.resize(kind_.fields.size());
    const auto own = static_cast<std::ptrdiff_t>(own_columns.size());
    for (std::size_t i = 0; i < cells.size(); ++i) {
      if (cells[i].empty()) continue;
      std::string text = cells[i];
      if (text.front() == '\'' && may_be_formula(text)) text.erase(0, 1);
      if (columns_[i] < own) {
        std::string* into[] = {&entry.id, nullptr, &entry.recorded_by, &entry.replaces, &entry.reason};
        if (auto* place = into[columns_[i]]) *place = std::move(text);  // when it was kept is the store's to say
        continue;
      }
      const auto at = static_cast<std::size_t>(columns_[i] - own);
      if (auto value = value_in(kind_.fields[at], std::move(text))) {
        entry.values[at] = std::move(*value);
      } else {
        refuse("records.csv.wrong_value", {{"given", cells[i].substr(0, 60)},
                                           {"column", kind_.fields[at].column()},
                                           {"sample", sample_of(kind_.fields[at])}});
      }
    }
    if (entry.id.empty()) entry.id = id_of_content(time_of(entry), line_of(kind_, entry));
    entries_.push_back(std::move(entry));
  }

  static std::string sample_of(const Field& field) {
    return field.type == Type::number ? "7.25" : field.type == Type::instant ? "2026-05-02T23:00:00Z" : field.sample;
  }

  std::int64_t time_of(const Entry& entry) const {
    const auto at = kind_.position("at");
    return at && is_given(entry.values[*at]) ? std::get<std::int64_t>(entry.values[*at]) : 0;
  }

  const Kind& kind_;
  Findings findings_;
  std::vector<std::ptrdiff_t> columns_;  // places in own_columns and then the kind's fields
  bool columns_are_known_ = false;
  std::vector<Entry> entries_;
  std::size_t line_ = 1;
};

/// The cells of a table, row by row, as RFC 4180 has them, so that every text comes back as it was: blanks are kept and
/// a cell may hold line breaks, which a meter's log never does (operations/csv_table.h). Refuses more than `cells_most`
/// cells in a row, and a quote that is never closed.
Answer<std::vector<std::vector<std::string>>> cells_of(std::string_view text, std::size_t cells_most) {
  using Rows = std::vector<std::vector<std::string>>;
  const auto refuse = [](const char* code, const Rows& rows, std::map<std::string, Remark::Fact> facts = {}) {
    facts.emplace("row", std::to_string(rows.size()));
    return Answer<Rows>::refused({{code, "file", std::move(facts)}});
  };
  Rows rows;
  if (text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3);
  if (!is_utf8(text)) return refuse("records.csv.not_utf8", rows);
  for (std::size_t at = 0; at < text.size();) {
    auto& row = rows.emplace_back();
    if (rows.size() > rows_most)
      return refuse("records.csv.too_many_rows", rows, {{"most", std::to_string(rows_most)}});
    for (bool more = true; more;) {
      auto& cell = row.emplace_back();
      if (row.size() > cells_most)
        return refuse("records.csv.too_many_columns", rows, {{"most", std::to_string(cells_most)}});
      if (at < text.size() && text[at] == '"') {
        for (++at;; ++at) {
          if (at == text.size()) return refuse("records.csv.quote_open", rows);
          if (text[at] == '"' && !(at + 1 < text.size() && text[at + 1] == '"')) break;
          if (text[at] == '"') ++at;
          cell += text[at];
        }
        ++at;
      }
      while (at < text.size() && text[at] != ',' && text[at] != '\n' && text[at] != '\r') cell += text[at++];
      more = at < text.size() && text[at] == ',';
      if (more) ++at;
    }
    if (at < text.size() && text[at] == '\r') ++at;
    if (at < text.size() && text[at] == '\n') ++at;
    if (row.size() == 1 && row[0].empty()) rows.pop_back();  // an empty line
  }
  return rows;
}

}  // namespace

Answer<std::int64_t> write_csv(Store& store, const Kind& kind, const Filter& filter,
                               const std::function<void(std::string_view)>& write) {
  return or_refusal<std::int64_t>([&]() -> Answer<std::int64_t> {
    write(head_of(kind));
    std::int64_t count = 0;
    Filter part = filter;
    part.most = page;
    for (;;) {
      const auto some = store.list(kind, part);
      if (!some.ok()) return Answer<std::int64_t>::refused(some.refusals());
      for (const auto& entry : *some) write(row_of(kind, entry));
      count += static_cast<std::int64_t>(some->size());
      if (some->size() < static_cast<std::size_t>(page)) return count;
      part.after = some->back().number;
    }
  });
}

Answer<std::vector<Entry>> read_csv(std::string_view text, const Kind& kind) {
  const auto rows = cells_of(text, kind.fields.size() + own_columns.size());
  if (!rows.ok()) return Answer<std::vector<Entry>>::refused(rows.refusals());
  return Reader(kind).read(*rows);
}

}  // namespace barm::records
