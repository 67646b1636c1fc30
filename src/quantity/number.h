// Numbers as people write them: "1.5", "1,5", "1 1/2", "1-1/2", "½", "1 500", "1.2e3", "2 x 10^8".
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace barm {

enum class NumberProblem { none, missing, unreadable, unclear, not_finite };

struct WrittenNumber {
  NumberProblem problem = NumberProblem::none;
  double value = 0.0;
  std::size_t end = 0;        // just behind the number in the text
  std::string first, second;  // when unclear: the two readings, "1.5" and "1500"
};

/// Reads the number a folded text begins with. A comma before exactly three figures ("1,500") may be a decimal or a
/// thousands mark, so it is unclear, unless a second mark or a leading zero settles it. A point is a decimal point
/// unless several show that it is not. Spaces part thousands only where every further group has three figures.
WrittenNumber read_number(std::string_view text);

/// Reads one written as figures only, without regard to the machine's own customs; nothing but the whole text counts.
bool parse_plain(std::string_view figures, double& value);

}  // namespace barm
