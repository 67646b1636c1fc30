// What an entry of the record may hold. Each kind is described once, here; tables, checks, CSV columns, archive lines
// and the inputs of `barm record add` are made from that description.
#pragma once

#include <cstdint>
#include <limits>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "quantity/dimension.h"

namespace barm::records {

enum class Type : std::uint8_t {
  text,
  choice,     // one of a few words
  zone,       // IANA time zone
  number,     // in the unit of its dimension
  flag,       // yes or no
  instant,    // milliseconds UTC
  date,       // YYYY-MM-DD
  json,       // a document as it was then; kept as text, never looked into
  image,      // a picture, base64 (image.h)
  reference,  // another entry, of one of a few kinds
};

struct Field {
  std::string name{};
  Type type = Type::text;
  Dimension dimension = Dimension::number;
  std::string sample{};  // one good value, as written
  std::vector<std::string> choices{};
  std::vector<std::string> refers_to{};  // kinds
  bool required = false;
  std::optional<double> lowest{}, highest{};
  bool lowest_left_out = false;
  bool makes_event = false;  // its date or instant belongs on a calendar
  bool is_shared = false;    // means the same in every kind
  bool is_whole = false;     // names what the entry is part of: withdrawn, it takes the entry along
  std::string up_to{};       // another field of the kind, which this one hardly is above or after
  std::string from{};        // of a reference: the instant of that thing, before which this entry hardly was
  int version = 1;           // of the schema that brought it

  // To describe one in a line.
  Field&& needed() && { return required = true, std::move(*this); }
  Field&& least(double value) && { return lowest = value, std::move(*this); }
  Field&& most(double value) && { return highest = value, std::move(*this); }
  Field&& above(double value) && { return lowest = value, lowest_left_out = true, std::move(*this); }
  Field&& on_calendar() && { return makes_event = true, std::move(*this); }
  Field&& whole() && { return is_whole = true, std::move(*this); }
  Field&& not_above(std::string other) && { return up_to = std::move(other), std::move(*this); }
  Field&& after(std::string instant) && { return from = std::move(instant), std::move(*this); }
  Field&& shared() && { return is_shared = true, std::move(*this); }
  Field&& since(int schema) && { return version = schema, std::move(*this); }

  /// Its column, in tables and in files: the name, and the unit of a quantity ("area_m2").
  std::string column() const;
};

struct Kind {
  std::string name{};
  std::vector<Field> fields{};
  std::vector<std::vector<std::string>> one_of{};  // of each group at least one is given
  int version = 1;                                 // of the schema that brought it

  const Field* field(std::string_view called) const;
  /// Position of a field by its name or by its column; nothing when there is none.
  std::optional<std::size_t> position(std::string_view called) const;
  /// Code of what a field means, in the catalogue.
  std::string meaning(const Field& of) const;
};

/// The kinds a store is opened with.
class Kinds {
 public:
  explicit Kinds(std::vector<Kind> all);
  const std::vector<Kind>& all() const { return all_; }
  const Kind* find(std::string_view name) const;
  std::vector<std::string> names() const;
  /// The highest version of any kind or field.
  int version() const;

 private:
  std::vector<Kind> all_;
};

/// Every kind the program keeps.
const Kinds& all_kinds();

}  // namespace barm::records
