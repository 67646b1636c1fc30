// Spellings of units without the marks that carry no meaning.
#include <algorithm>

#include "quantity/units.h"

namespace barm {
namespace {

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}
bool is_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c & 0x80) != 0;
}

bool is_per(std::string_view word) {
  return word == "per" || word == "Per" || word == "PER" || word == "por" || word == "Por" || word == "POR";
}

/// "L-1" as "/L", "m-3" as "/m3".
void append_word(std::string& out, std::string_view word) {
  const std::size_t dash = word.rfind('-');
  const bool is_inverse = dash != std::string_view::npos && dash > 0 && is_letter(word[dash - 1]) &&
                          dash + 2 == word.size() && is_digit(word[dash + 1]);
  if (is_inverse) {
    out += '/';
    out.append(word.substr(0, dash));
    if (word[dash + 1] != '1') out += word[dash + 1];
    return;
  }
  if (!out.empty() && out.back() != '/') out += ' ';
  if (is_per(word)) {
    if (!out.empty() && out.back() == ' ') out.pop_back();
    out += '/';
    return;
  }
  out.append(word);
}

}  // namespace

std::string plain_unit(std::string_view folded_text) {
  std::string spaced;  // one kind of gap between words, none of the marks that carry no meaning
  for (std::size_t i = 0; i < folded_text.size(); ++i) {
    const char c = folded_text[i];
    const char next = i + 1 < folded_text.size() ? folded_text[i + 1] : ' ';
    const char last = i > 0 ? folded_text[i - 1] : ' ';
    if (c == '^' || c == '(' || c == ')' || c == '[' || c == ']') {
      if (c != '^') spaced += ' ';
    } else if (c == '.' && !(is_digit(last) && is_digit(next))) {
      // "imp.gal" is two words, "U.S." and "fl.oz" are one.
      if (is_letter(next) && is_letter(last) && spaced.size() > 2) spaced += ' ';
    } else if (c == '_' || (c == '-' && is_letter(last) && is_letter(next))) {
      spaced += ' ';
    } else if (c == '/') {
      while (!spaced.empty() && spaced.back() == ' ') spaced.pop_back();
      spaced += '/';
    } else {
      spaced += c;
    }
  }
  std::string out;
  for (std::size_t from = 0; from < spaced.size();) {
    const std::size_t gap = std::min(spaced.find(' ', from), spaced.size());
    if (gap > from) append_word(out, std::string_view(spaced).substr(from, gap - from));
    from = gap + 1;
  }
  return out;
}

}  // namespace barm
