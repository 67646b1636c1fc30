#include "compost/names.h"

#include <algorithm>

#include "quantity/suggest.h"

namespace barm::compost {
namespace {

constexpr std::size_t longest_name = 64;  // longer is no name of ours

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

std::string nearest_name(std::string_view name, const std::vector<std::string>& known) {
  const std::string wanted = plain_name(name.substr(0, longest_name));
  if (std::string likely = likely_spelling(wanted, known); !likely.empty()) return likely;
  for (const std::string& each : known) {
    if (shares_a_word(wanted, plain_name(each))) return each;
  }
  return {};
}

}  // namespace barm::compost
