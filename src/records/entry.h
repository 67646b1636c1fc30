// One entry of the record. Entries are added and never changed: a correction or a withdrawal is a further entry.
#pragma once

#include <cstdint>
#include <string>
#include <variant>
#include <vector>

#include "records/kind.h"

namespace barm::records {

/// Nothing, a flag or instant [ms UTC], a number in the unit of its field, or text: also a date, a choice, and the id
/// of the entry a reference names.
using Value = std::variant<std::monostate, std::int64_t, double, std::string>;

inline bool is_given(const Value& value) {
  return !std::holds_alternative<std::monostate>(value);
}

struct Entry {
  std::string id{};             // UUID version 7, made where the entry is made
  std::string kind{};           // name
  std::vector<Value> values{};  // in the order of the kind's fields; empty of a withdrawal
  std::string replaces{};       // id of the entry this one corrects or withdraws
  std::string reason{};         // why it does
  bool withdraws = false;
  std::string recorded_by{};      // who entered it, in their words
  std::int64_t recorded_at = 0;   // ms UTC, by the clock of the store
  std::int64_t number = 0;        // place in the store, from 1; given by the store
  std::int64_t thing_number = 0;  // number of the first entry about the same thing; given by the store

  bool operator==(const Entry&) const = default;
};

}  // namespace barm::records
