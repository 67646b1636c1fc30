#include "quantity/suggest.h"

#include <algorithm>
#include <vector>

namespace barm {
namespace {

constexpr std::size_t longest_compared = 80;  // longer texts are no slips of a key; keeps the work bounded

char folded(char c) {
  if (c >= 'A' && c <= 'Z') return static_cast<char>(c - 'A' + 'a');
  return c == '_' || c == '-' ? ' ' : c;
}

}  // namespace

std::size_t slips_between(std::string_view a, std::string_view b) {
  if (a.size() > longest_compared || b.size() > longest_compared) return std::max(a.size(), b.size());
  std::vector<std::size_t> two_above(b.size() + 1), above(b.size() + 1), row(b.size() + 1);
  for (std::size_t j = 0; j <= b.size(); ++j) above[j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const bool same = folded(a[i - 1]) == folded(b[j - 1]);
      row[j] = std::min({above[j] + 1, row[j - 1] + 1, above[j - 1] + (same ? 0u : 1u)});
      const bool swapped =
          i > 1 && j > 1 && folded(a[i - 1]) == folded(b[j - 2]) && folded(a[i - 2]) == folded(b[j - 1]);
      if (swapped) row[j] = std::min(row[j], two_above[j - 2] + 1);
    }
    std::swap(two_above, above);
    std::swap(above, row);
  }
  return above[b.size()];
}

std::size_t slips_forgiven(std::size_t length) {
  if (length < 2) return 0;
  if (length < 6) return 1;
  return length < 9 ? 2 : 3;
}

std::string likely_spelling(std::string_view given, std::span<const std::string> known) {
  std::string nearest;
  std::size_t fewest = slips_forgiven(given.size()) + 1;
  for (const auto& candidate : known) {
    const std::size_t slips = slips_between(given, candidate);
    if (slips >= fewest || slips >= candidate.size()) continue;
    fewest = slips;
    nearest = candidate;
  }
  return nearest;
}

}  // namespace barm
