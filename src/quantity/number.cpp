#include "quantity/number.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <vector>

#include "quantity/fold.h"

namespace barm {
namespace {

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}
bool is_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

WrittenNumber fails(NumberProblem problem) {
  return {.problem = problem, .value = 0.0, .end = 0, .first = {}, .second = {}};
}

struct Scan {
  std::string_view text;
  std::size_t at = 0;
  char peek(std::size_t ahead = 0) const { return at + ahead < text.size() ? text[at + ahead] : '\0'; }
  void skip_spaces() {
    while (peek() == ' ') ++at;
  }
  std::string_view digits() {
    const std::size_t from = at;
    while (is_digit(peek())) ++at;
    return text.substr(from, at - from);
  }
};

bool says_not_a_number(std::string_view text) {
  std::string word;
  for (const char c : text.substr(0, 9)) {
    if (!is_letter(c)) break;
    word += static_cast<char>(c | 0x20);
  }
  return word == "nan" || word == "inf" || word == "infinity";
}

/// Figures with their marks: "1,234.5" as groups 1 234 5 and marks , .
struct Figures {
  std::vector<std::string> groups;
  std::string marks;
};

Figures take_figures(Scan& scan) {
  Figures out;
  out.groups.emplace_back(scan.digits());
  while ((scan.peek() == '.' || scan.peek() == ',') && is_digit(scan.peek(1))) {
    out.marks += scan.peek();
    ++scan.at;
    out.groups.emplace_back(scan.digits());
  }
  return out;
}

/// Joins "1 500 000" when the spaces can only part thousands.
void take_spaced_thousands(Scan& scan, Figures& figures) {
  if (!figures.marks.empty() || figures.groups[0].size() > 3 || figures.groups[0].empty() ||
      figures.groups[0][0] == '0')
    return;
  Scan ahead = scan;
  std::string joined = figures.groups[0];
  while (ahead.peek() == ' ' && is_digit(ahead.peek(1))) {
    ++ahead.at;
    const auto group = ahead.digits();
    if (group.size() != 3) return;
    joined += group;
  }
  Scan behind = ahead;
  behind.skip_spaces();
  if (ahead.at == scan.at || (behind.peek() == '/' && is_digit(behind.peek(1)))) return;
  scan = ahead;
  figures.groups[0] = joined;
  if ((scan.peek() == '.' || scan.peek() == ',') && is_digit(scan.peek(1))) {
    figures.marks += '.';
    ++scan.at;
    figures.groups.emplace_back(scan.digits());
  }
}

bool groups_are_thousands(const Figures& figures, std::size_t count) {
  const auto& first = figures.groups[0];
  if (first.empty() || first.size() > 3 || first[0] == '0') return false;
  return std::all_of(figures.groups.begin() + 1, figures.groups.begin() + static_cast<std::ptrdiff_t>(count),
                     [](const std::string& group) { return group.size() == 3; });
}

std::string joined(const Figures& figures, std::size_t whole_groups) {
  std::string out;
  for (std::size_t i = 0; i < figures.groups.size(); ++i) {
    if (i == whole_groups) out += '.';
    out += figures.groups[i];
  }
  return out[0] == '.' ? "0" + out : out;
}

struct Decimal {
  NumberProblem problem = NumberProblem::none;
  std::string figures;  // "1500.5"
  std::string other;    // the second reading when unclear
};

Decimal settle_marks(const Figures& figures) {
  const std::size_t marks = figures.marks.size();
  if (marks == 0) return {.problem = NumberProblem::none, .figures = figures.groups[0], .other = {}};
  const char last = figures.marks.back();
  const bool uniform = std::ranges::all_of(figures.marks, [&](char c) { return c == last; });
  if (marks == 1) {
    const bool could_be_thousands = last == ',' && groups_are_thousands(figures, 2);
    return {.problem = could_be_thousands ? NumberProblem::unclear : NumberProblem::none,
            .figures = joined(figures, 1),
            .other = could_be_thousands ? joined(figures, 2) : std::string()};
  }
  if (uniform) {  // "1,500,000": several marks of one kind part thousands
    if (!groups_are_thousands(figures, marks + 1))
      return {.problem = NumberProblem::unreadable, .figures = {}, .other = {}};
    return {.problem = NumberProblem::none, .figures = joined(figures, marks + 1), .other = {}};
  }
  const std::string_view before =
      std::string_view(figures.marks).substr(0, marks - 1);  // "1,234.5": the last is decimal
  const bool mixed = std::ranges::any_of(before, [&](char c) { return c == last; });
  if (mixed || !groups_are_thousands(figures, marks))
    return {.problem = NumberProblem::unreadable, .figures = {}, .other = {}};
  return {.problem = NumberProblem::none, .figures = joined(figures, marks), .other = {}};
}

/// "e3", "E-3", " x 10^8" as "e8"; empty when there is none.
std::string take_exponent(Scan& scan) {
  Scan ahead = scan;
  if ((ahead.peek() | 0x20) == 'e') {
    ++ahead.at;
  } else {
    ahead.skip_spaces();
    if (ahead.peek() != 'x' && ahead.peek() != '*') return {};
    ++ahead.at;
    ahead.skip_spaces();
    if (ahead.text.substr(std::min(ahead.at, ahead.text.size()), 3) != "10^") return {};
    ahead.at += 3;
  }
  std::string out = "e";
  if (ahead.peek() == '-' || ahead.peek() == '+') {
    if (ahead.peek() == '-') out += '-';
    ++ahead.at;
  }
  const auto power = ahead.digits();
  if (power.empty()) return {};
  scan = ahead;
  return out.append(power);
}

struct Fraction {
  bool present = false;
  double over = 0.0;
  double under = 1.0;
};

/// "1/2" at the scan; leaves it untouched when there is none.
Fraction take_fraction(Scan& scan) {
  Scan ahead = scan;
  const auto over = ahead.digits();
  ahead.skip_spaces();
  if (over.empty() || ahead.peek() != '/') return {};
  ++ahead.at;
  const auto under = ahead.digits();
  const bool decimals_follow = (ahead.peek() == '.' || ahead.peek() == ',') && is_digit(ahead.peek(1));
  Fraction out{.present = true};
  if (under.empty() || decimals_follow || !parse_plain(over, out.over) || !parse_plain(under, out.under)) return {};
  scan = ahead;
  return out;
}

/// The fraction of a mixed number behind its whole part, "1 1/2" or "1-1/2". A dash before 1 or more is a range
/// instead.
Fraction take_mixed_fraction(Scan& scan) {
  Scan ahead = scan;
  if (ahead.peek() == '-') {
    ++ahead.at;
  } else {
    if (ahead.peek() != ' ') return {};
    ahead.skip_spaces();
  }
  const Fraction part = take_fraction(ahead);
  if (!part.present || (part.over >= part.under && part.under != 0.0)) return {};
  scan = ahead;
  return part;
}

}  // namespace

bool parse_plain(std::string_view figures, double& value) {
  const auto [end, error] = std::from_chars(figures.data(), figures.data() + figures.size(), value);
  return error == std::errc() && end == figures.data() + figures.size() && std::isfinite(value);
}

WrittenNumber read_number(std::string_view text) {
  Scan scan{.text = text};
  scan.skip_spaces();
  double sign = 1.0;
  if (scan.peek() == '-' || scan.peek() == '+' || scan.peek() == folded_dash) {
    sign = scan.peek() == '+' ? 1.0 : -1.0;
    ++scan.at;
    scan.skip_spaces();
  }
  if (says_not_a_number(text.substr(scan.at))) return fails(NumberProblem::not_finite);
  const bool starts = is_digit(scan.peek()) || ((scan.peek() == '.' || scan.peek() == ',') && is_digit(scan.peek(1)));
  if (!starts) return fails(NumberProblem::missing);

  WrittenNumber out;
  if (const Fraction alone = take_fraction(scan); alone.present) {
    if (alone.under == 0.0) return fails(NumberProblem::not_finite);
    out.value = sign * alone.over / alone.under;
    out.end = scan.at;
    return out;
  }
  Figures figures = take_figures(scan);
  take_spaced_thousands(scan, figures);
  const Decimal decimal = settle_marks(figures);
  if (decimal.problem == NumberProblem::unreadable) return fails(NumberProblem::unreadable);
  const std::string exponent = take_exponent(scan);
  if (!parse_plain(decimal.figures + exponent, out.value)) return fails(NumberProblem::not_finite);
  if (exponent.empty() && figures.marks.empty()) {
    const Fraction part = take_mixed_fraction(scan);
    if (part.present && part.under == 0.0) return fails(NumberProblem::not_finite);
    if (part.present) out.value += part.over / part.under;
  }
  out.value *= sign;
  out.end = scan.at;
  if (decimal.problem == NumberProblem::unclear) {
    out.problem = NumberProblem::unclear;
    const std::string minus = sign < 0.0 ? "-" : "";
    out.first = minus + decimal.figures + exponent;
    out.second = minus + decimal.other + exponent;
  }
  return out;
}

}  // namespace barm
