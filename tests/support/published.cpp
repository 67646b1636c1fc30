#include "support/published.h"

#include <fstream>
#include <stdexcept>

namespace barm::test {
namespace {

std::vector<std::string> split(const std::string& line) {
  std::vector<std::string> cells(1);
  bool quoted = false;
  for (const char c : line) {
    if (c == '"') {
      quoted = !quoted;
    } else if (c == ',' && !quoted) {
      cells.emplace_back();
    } else if (c != '\r') {
      cells.back() += c;
    }
  }
  return cells;
}

std::vector<Row> read_rows(const std::string& name) {
  std::ifstream in(std::string(BARM_TESTS_DIR) + "/" + name);
  if (!in) throw std::runtime_error("cannot open tests/" + name);
  std::vector<std::string> columns;
  std::vector<Row> rows;
  for (std::string line; std::getline(in, line);) {
    if (line.empty() || line[0] == '#') continue;
    const auto cells = split(line);
    if (columns.empty()) {
      columns = cells;
      continue;
    }
    if (cells.size() > columns.size()) throw std::runtime_error(name + ": a row has more cells than columns: " + line);
    Row row;
    for (std::size_t i = 0; i < columns.size(); ++i)
      row.cells[columns[i]] = i < cells.size() ? cells[i] : std::string();
    rows.push_back(std::move(row));
  }
  if (rows.empty()) throw std::runtime_error(name + ": no rows");
  return rows;
}

}  // namespace

const std::string& Row::text(const std::string& column) const {
  const auto at = cells.find(column);
  if (at == cells.end()) throw std::runtime_error("no column " + column);
  return at->second;
}

double Row::number(const std::string& column) const {
  return std::stod(text(column));
}

std::vector<Row> published(const std::string& name) {
  return read_rows("published/" + name);
}
std::vector<Row> snapshot(const std::string& name) {
  return read_rows("snapshots/" + name);
}

}  // namespace barm::test
