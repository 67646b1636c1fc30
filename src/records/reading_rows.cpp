#include "records/reading_rows.h"

#include <fmt/format.h>

#include "quantity/expects.h"
#include "records/schema.h"

namespace barm::records {
namespace {

constexpr std::size_t ledger_columns = 7;

Cell cell_of(const Field& field) {
  if (field.type == Type::number) return Cell::number;
  return field.type == Type::flag || field.type == Type::instant ? Cell::whole : Cell::text;
}

std::string text_in(Row& row, std::size_t at) {
  return is_given(row[at]) ? std::move(std::get<std::string>(row[at])) : std::string();
}
std::int64_t whole_in(const Row& row, std::size_t at) {
  return std::get<std::int64_t>(row[at]);
}

}  // namespace

std::string select_of(const Kind& kind) {
  std::string columns = "e.number, e.thing, e.id, e.recorded_at, e.recorded_by, e.reason, replaced.id";
  std::string from = fmt::format(
      " FROM \"{}\" k JOIN entry e ON e.number = k.number "
      "LEFT JOIN entry replaced ON replaced.number = e.replaces",
      kind.name);
  for (const auto& field : kind.fields) {
    if (field.type != Type::reference) {
      columns += ", k." + quoted(field.column());
      continue;
    }
    const auto other = quoted("of_" + field.name);
    columns += ", " + other + ".id";
    from += fmt::format(" LEFT JOIN entry {0} ON {0}.number = k.{1}", other, quoted(field.name));
  }
  return "SELECT " + columns + from;
}

std::vector<Cell> columns_of(const Kind& kind) {
  std::vector<Cell> columns = {Cell::whole, Cell::whole, Cell::text, Cell::whole, Cell::text, Cell::text, Cell::text};
  for (const auto& field : kind.fields) columns.push_back(cell_of(field));
  return columns;
}

Entry entry_of(const Kind& kind, Row row) {
  Entry entry{.id = text_in(row, 2), .kind = kind.name};
  entry.number = whole_in(row, 0);
  entry.thing_number = whole_in(row, 1);
  entry.recorded_at = whole_in(row, 3);
  entry.recorded_by = text_in(row, 4);
  entry.reason = text_in(row, 5);
  entry.replaces = text_in(row, 6);
  entry.values.assign(std::make_move_iterator(row.begin() + ledger_columns), std::make_move_iterator(row.end()));
  return entry;
}

std::string counts_at(const std::string& ledger, const std::string& parameter) {
  return fmt::format(
      "{0}.withdraws = 0 AND {0}.recorded_at <= {1} AND NOT EXISTS (SELECT 1 FROM entry later WHERE "
      "later.thing = {0}.thing AND later.thing <> later.number AND later.number > {0}.number AND "
      "later.recorded_at <= {1})",
      ledger, parameter);
}

std::string newest_of(const std::string& thing, const std::string& parameter) {
  return fmt::format(
      "coalesce((SELECT max(v.number) FROM entry v WHERE v.thing = {0} AND v.thing <> v.number AND "
      "v.recorded_at <= {1}), {0})",
      thing, parameter);
}

std::pair<std::string, Row> one_of(Row values, std::size_t first) {
  expects(!values.empty() && values.size() <= list_most, "a list of a few values");
  values.resize(values.size() > 8 ? list_most : values.size() > 1 ? 8 : 1, values.back());
  std::string condition = "IN (";
  for (std::size_t i = 0; i < values.size(); ++i) condition += fmt::format("{}:p{}", i == 0 ? "" : ", ", first + i);
  return {condition + ")", std::move(values)};
}

}  // namespace barm::records
