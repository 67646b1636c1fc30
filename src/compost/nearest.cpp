#include "compost/nearest.h"

#include <algorithm>
#include <numeric>

namespace barm::compost {
namespace {

std::size_t changes_between(std::string_view a, std::string_view b) {
  std::vector<std::size_t> row(b.size() + 1);
  std::iota(row.begin(), row.end(), std::size_t{0});
  for (std::size_t i = 0; i < a.size(); ++i) {
    std::size_t diagonal = row[0];
    row[0] = i + 1;
    for (std::size_t j = 0; j < b.size(); ++j) {
      const std::size_t replaced = diagonal + (a[i] == b[j] ? 0 : 1);
      diagonal = row[j + 1];
      row[j + 1] = std::min({replaced, row[j] + 1, row[j + 1] + 1});
    }
  }
  return row.back();
}

bool shares_a_word(std::string_view a, std::string_view b) {
  for (std::size_t from = 0; from < a.size();) {
    const std::size_t to = std::min(a.find(' ', from), a.size());
    const std::string_view word = a.substr(from, to - from);
    if (word.size() > 3 && b.find(word) != std::string_view::npos) return true;
    from = to + 1;
  }
  return false;
}

}  // namespace

std::string plain_name(std::string_view name) {
  std::string plain;
  for (const char c : name) {
    const bool blank = c == ' ' || c == '-' || c == '_' || c == '\t' || c == '\n';
    if (blank && (plain.empty() || plain.back() == ' ')) continue;
    plain += blank ? ' ' : (c >= 'A' && c <= 'Z') ? static_cast<char>(c - 'A' + 'a') : c;
  }
  if (!plain.empty() && plain.back() == ' ') plain.pop_back();
  return plain;
}

std::string nearest_name(std::string_view name, const std::vector<std::string>& candidates) {
  const std::string wanted = plain_name(name).substr(0, 64);  // longer is no name of ours
  std::string best;
  std::size_t fewest = wanted.size() / 3 + 1;
  for (const std::string& candidate : candidates) {
    const std::size_t changes = changes_between(wanted, plain_name(candidate));
    if (changes < fewest) {
      fewest = changes;
      best = candidate;
    }
  }
  if (!best.empty()) return best;
  for (const std::string& candidate : candidates) {
    if (shares_a_word(wanted, plain_name(candidate))) return candidate;
  }
  return best;
}

}  // namespace barm::compost
