// Rows of tests/published: CSV whose first line names the columns, comment lines begin with '#'. Each file names its
// source.
#pragma once

#include <map>
#include <string>
#include <vector>

namespace barm::test {

struct Row {
  std::map<std::string, std::string> cells;
  const std::string& text(const std::string& column) const;  // fails loudly when there is no such column
  double number(const std::string& column) const;
  bool empty(const std::string& column) const { return text(column).empty(); }
};

/// All rows of tests/published/`name`; throws when the file is missing or has no rows, so that a test cannot pass by
/// reading nothing.
std::vector<Row> published(const std::string& name);

/// The same for tests/snapshots, where what our own model once gave is kept apart from what others measured.
std::vector<Row> snapshot(const std::string& name);

}  // namespace barm::test
