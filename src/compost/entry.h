// One entry of a data file while it is read: texts, claims and figures with their unit and source. A data file is ours,
// so anything missing or crooked in it is a broken promise that names the entry. Format: docs/compost/data_files.md
#pragma once

#include <toml++/toml.h>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "quantity/answer.h"

namespace barm::compost {

/// A figure as data files hold it: { value = 0.8, low = 0.65, high = 0.9, unit = "g/g", source = "M18" }.
struct Figure {
  double value = unset;
  double low = unset;  // 5 % bound
  double high = unset;
};

class Entry {
 public:
  /// `where` names the entry in complaints ("foods.toml: kelp_meal").
  Entry(const toml::table& table, std::string where) : table_(table), where_(std::move(where)) {}

  std::string text(std::string_view key) const;
  std::vector<std::string> texts(std::string_view key) const;
  std::vector<const toml::table*> tables(std::string_view key) const;
  bool claim(std::string_view key) const;  // a missing claim is false
  /// With bounds low <= value <= high; the unit must be the one asked for.
  Figure figure(std::string_view key, std::string_view unit);
  /// Without bounds.
  double number(std::string_view key, std::string_view unit);
  bool has(std::string_view key) const { return table_.contains(key); }
  /// Throws BrokenPromise with the entry's name.
  void promise(bool holds, std::string_view what) const;
  /// Keys of docs/sources.md that the figures read so far name, joined by ", ".
  std::string sources() const;

 private:
  const toml::table& part(std::string_view key, std::string_view unit);
  double finite(const toml::table& of, std::string_view key, std::string_view name) const;

  const toml::table& table_;
  std::string where_;
  std::set<std::string> sources_;
};

/// Reads a file that is a list of tables under one name ([[food]]) and gives each to `reads`, with its id.
template <class Reads>
void each_entry(std::string_view toml_text, const char* list, const char* file, Reads reads) {
  toml::table root;
  try {
    root = toml::parse(toml_text);
  } catch (const toml::parse_error& error) {
    throw BrokenPromise(std::string(file) + ": " + std::string(error.description()));
  }
  const toml::array* entries = root[list].as_array();
  if (entries == nullptr || entries->empty()) throw BrokenPromise(std::string(file) + ": no [[" + list + "]]");
  for (const toml::node& node : *entries) {
    const toml::table* table = node.as_table();
    if (table == nullptr) throw BrokenPromise(std::string(file) + ": an entry that is not a table");
    const auto id = (*table)["id"].value<std::string>();
    if (!id) throw BrokenPromise(std::string(file) + ": an entry without id");
    reads(Entry(*table, std::string(file) + ": " + *id), *id);
  }
}

}  // namespace barm::compost
