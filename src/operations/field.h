// What people need to know of an input or of an answer, whichever door they stand at. Words (what it means) are not
// here: they stand in data/messages/operations.toml under the field's code.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "quantity/answer.h"

namespace barm::operations {

enum class Kind : std::uint8_t {
  quantity,  // text with a unit of one dimension
  amount,    // text with a unit of mass or volume
  number,    // plain number
  whole,     // whole number
  text,
  choice,        // one of a few words
  flag,          // true or false
  instant,       // offset date-time of ISO 8601
  zone,          // IANA time zone
  file_read,     // name of a file the operation reads
  file_written,  // name of a file the operation writes
  store,         // name of the record; a server has its own
  rows,          // several of the same table
  list,          // several values of one kind: "3,1,0", or an array
};

/// Accepted stretch, in the unit of the dimension. "Above" leaves the limit itself out.
struct Limits {
  std::optional<double> least{}, most{};
  bool above = false;
  bool holds(double value) const {
    if (least && (above ? !(value > *least) : !(value >= *least))) return false;
    return !most || value <= *most;
  }
};

struct InputField {
  std::string name{};  // dotted when it stands in a table: "water.volume"
  std::string code{};  // of its meaning: "operations.help.brew.plan.water.volume"
  Kind kind = Kind::text;
  Kind item = Kind::number;  // of a list: what each of its values is
  Dimension dimension = Dimension::number;
  Limits limits{};          // of a list: of each value
  std::string bare_unit{};  // a plain number is read in this unit; empty: a unit must be written
  std::string sample{};     // one good value, as written
  std::string otherwise{};  // value when not given, as written; empty: none, or the meaning tells
  std::vector<std::string> choices{};
  std::string refusal = "operations.input.not_a_choice";  // code that refuses what is none of the choices
  std::vector<InputField> columns{};                      // of rows
  bool required = false;
  bool positional = false;  // on a command line it needs no option name
  bool early = false;       // decides how others are read
};

/// Not more than one of these may be given.
struct Alternatives {
  std::vector<std::string> names{};
};

enum class Told : std::uint8_t { number, whole, text, flag, choice, instant, series, object, list, texts, remarks };

struct AnswerField {
  std::string name{};  // JSON key, the unit in it
  std::string code{};  // of its meaning
  Told kind = Told::number;
  std::string unit{};  // as printed; empty for a plain number
  std::vector<std::string> choices{};
  std::vector<AnswerField> inside{};  // of an object, or of each row of a list
};

}  // namespace barm::operations
