// An entry as one line of JSON: what archives hold and what the chain of hashes runs over. Form: docs/records/record.md
#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "quantity/answer.h"
#include "records/entry.h"

namespace barm::records {

/// The line, without its line feed: RFC 8785 canonical JSON (keys sorted, no blanks, shortest numbers), so that the
/// same entry is the same bytes on every machine. Values that are not given are left out. A number is finite.
std::string line_of(const Kind& kind, const Entry& entry);

/// Writes lines of one kind: the order of the keys is worked out once. The kind must outlive it.
class LineWriter {
 public:
  explicit LineWriter(const Kind& kind);
  /// The line of an entry, as though it had been kept at `recorded_at`; good until the next.
  const std::string& line(const Entry& entry, std::int64_t recorded_at);

 private:
  struct Part {
    std::string key{};  // "area_m2", in quotes and with its colon
    int position = 0;   // in the kind, or one of the entry's own below
    const Field* field = nullptr;
  };
  std::vector<Part> parts_{};
  std::string line_{};
};

/// Reads a line back. Refuses what is no such line: not JSON, not UTF-8, nested, a key met twice or unknown, an unknown
/// kind, a value of another type. Bounds and references are not looked at here.
Answer<Entry> read_line(std::string_view line, const Kinds& kinds);

/// Whether the text is valid UTF-8 (RFC 3629) and free of NUL, which neither engine keeps.
bool is_utf8(std::string_view text);

/// A number as RFC 8785 (and ECMAScript) writes it: "7.2", "2e+21", "1e-7".
std::string number_text(double value);

/// Writes text between quotes, with no more escapes than JSON needs.
void put_json_text(std::string& line, std::string_view text);

}  // namespace barm::records
