// Entries of the record read by the names of their fields.
#pragma once

#include <string>
#include <vector>

#include "operations/record_store.h"
#include "quantity/expects.h"

namespace barm::operations {

/// The values of one entry; unset or nothing where not given.
class Fields {
 public:
  Fields(const records::Kind& kind, const records::Entry& entry) : kind_(kind), entry_(entry) {}
  double number(const std::string& name) const {
    const auto* value = std::get_if<double>(&at(name));
    return value == nullptr ? unset : *value;
  }
  std::string text(const std::string& name) const {
    const auto* value = std::get_if<std::string>(&at(name));
    return value == nullptr ? std::string() : *value;
  }
  std::optional<std::int64_t> instant(const std::string& name) const {
    const auto* value = std::get_if<std::int64_t>(&at(name));
    return value == nullptr ? std::nullopt : std::optional(*value);
  }

 private:
  const records::Value& at(const std::string& name) const {
    const auto position = kind_.position(name);
    expects(position.has_value(), "a field is asked for that the kind has");
    return entry_.values[*position];
  }
  const records::Kind& kind_;
  const records::Entry& entry_;
};

struct About {
  std::string field{}, id{};  // a reference of the kind, and the thing it names
};
/// Entries of a kind about a thing, as they stand now, by their instant `at` where they have one, the newest last.
std::vector<records::Entry> entries_about(records::Store& store, const records::Kind& kind, const About& about,
                                          Findings& findings);

}  // namespace barm::operations
