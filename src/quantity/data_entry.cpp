#include "quantity/data_entry.h"

#include <cmath>

namespace barm {

void DataEntry::promise(bool holds, std::string_view what) const {
  if (!holds) throw BrokenPromise(where_ + ": " + std::string(what));
}

std::string DataEntry::text(std::string_view key) const {
  const auto value = table_[key].value<std::string>();
  promise(value.has_value() && !value->empty(), std::string(key) + " is missing");
  return *value;
}

std::vector<std::string> DataEntry::texts(std::string_view key) const {
  const toml::array* values = table_[key].as_array();
  promise(values != nullptr && !values->empty(), std::string(key) + " is missing");
  std::vector<std::string> all;
  for (const toml::node& node : *values) {
    const auto value = node.value<std::string>();
    promise(value.has_value() && !value->empty(), std::string(key) + " holds something that is not text");
    all.push_back(*value);
  }
  return all;
}

std::vector<const toml::table*> DataEntry::tables(std::string_view key) const {
  const toml::array* nodes = table_[key].as_array();
  promise(nodes != nullptr && !nodes->empty(), std::string(key) + " is missing");
  std::vector<const toml::table*> all;
  for (const toml::node& node : *nodes) {
    promise(node.is_table(), std::string(key) + " holds something that is no table");
    all.push_back(node.as_table());
  }
  return all;
}

bool DataEntry::claim(std::string_view key) const {
  return table_[key].value_or(false);
}

const toml::table& DataEntry::part(std::string_view key, std::string_view unit) {
  const toml::table* part = table_[key].as_table();
  promise(part != nullptr, std::string(key) + " is missing");
  promise((*part)["unit"].value_or(std::string_view()) == unit, std::string(key) + " is not in " + std::string(unit));
  const auto source = (*part)["source"].value<std::string>();
  promise(source.has_value() && !source->empty(), std::string(key) + " has no source");
  sources_.insert(*source);
  return *part;
}

double DataEntry::finite(const toml::table& of, std::string_view key, std::string_view name) const {
  const auto value = of[name].value<double>();
  promise(value.has_value() && std::isfinite(*value), std::string(key) + "." + std::string(name) + " is no number");
  return *value;
}

Figure DataEntry::figure(std::string_view key, std::string_view unit) {
  const toml::table& of = part(key, unit);
  const Figure figure{finite(of, key, "value"), finite(of, key, "low"), finite(of, key, "high")};
  promise(figure.low <= figure.value && figure.value <= figure.high, std::string(key) + " lies outside its bounds");
  return figure;
}

double DataEntry::number(std::string_view key, std::string_view unit) {
  return finite(part(key, unit), key, "value");
}

double DataEntry::number_or(std::string_view key, std::string_view unit, double otherwise) {
  return has(key) ? number(key, unit) : otherwise;
}

std::vector<std::string> DataEntry::keys() const {
  std::vector<std::string> all;
  for (const auto& [key, node] : table_) all.emplace_back(key.str());
  return all;
}

DataEntry DataEntry::inside(std::string_view key) const {
  const toml::table* table = table_[key].as_table();
  promise(table != nullptr, std::string(key) + " is missing");
  return {*table, where_ + ": " + std::string(key)};
}

std::string DataEntry::sources() const {
  std::string joined;
  for (const std::string& source : sources_) joined += (joined.empty() ? "" : ", ") + source;
  return joined;
}

}  // namespace barm
