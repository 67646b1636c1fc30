// One entry of a data file while it is read: texts, claims and figures with their unit and source. A data file is ours,
// so anything missing or crooked in it is a broken promise that names the entry. Format: docs/quantity/data_files.md
#pragma once

#include <toml++/toml.h>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "quantity/figure.h"

namespace barm {

class DataEntry {
 public:
  /// `where` names the entry in complaints ("foods.toml: kelp_meal").
  DataEntry(const toml::table& table, std::string where) : table_(table), where_(std::move(where)) {}

  std::string text(std::string_view key) const;
  std::vector<std::string> texts(std::string_view key) const;
  std::vector<const toml::table*> tables(std::string_view key) const;
  bool claim(std::string_view key) const;  // a missing claim is false
  /// With bounds low <= value <= high; the unit must be the one asked for.
  Figure figure(std::string_view key, std::string_view unit);
  /// Without bounds.
  double number(std::string_view key, std::string_view unit);
  /// Without bounds; `otherwise` where the entry does not have it.
  double number_or(std::string_view key, std::string_view unit, double otherwise);
  bool has(std::string_view key) const { return table_.contains(key); }
  /// Every key, in the order of the alphabet.
  std::vector<std::string> keys() const;
  /// The table under a key, as an entry of its own.
  DataEntry inside(std::string_view key) const;
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

/// Reads a whole file and gives it to `reads` as one entry named after the file.
template <class Reads>
void whole_data_file(std::string_view toml_text, const char* file, Reads reads) {
  toml::table root;
  try {
    root = toml::parse(toml_text);
  } catch (const toml::parse_error& error) {
    throw BrokenPromise(std::string(file) + ": " + std::string(error.description()));
  }
  reads(DataEntry(root, file));
}

/// Reads a file that is a list of tables under one name ([[food]]) and gives each to `reads`, with its id.
template <class Reads>
void each_data_entry(std::string_view toml_text, const char* list, const char* file, Reads reads) {
  whole_data_file(toml_text, file, [&](const DataEntry& root) {
    for (const toml::table* table : root.tables(list)) {
      const auto id = (*table)["id"].value<std::string>();
      if (!id) throw BrokenPromise(std::string(file) + ": an entry without id");
      reads(DataEntry(*table, std::string(file) + ": " + *id), *id);
    }
  });
}

}  // namespace barm
