#include "quantity/fold.h"

#include <algorithm>
#include <array>
#include <cstdint>
#include <utility>

namespace barm {
namespace {

constexpr char32_t broken = 0xFFFFFFFF;

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

/// Takes one code point off the front; `broken` (and one byte) when it is not well-formed UTF-8.
char32_t take_code_point(std::string_view& text) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  const unsigned char lead = byte(0);
  std::size_t length = lead < 0x80 ? 1 : lead >= 0xC2 && lead < 0xE0 ? 2 : lead >= 0xE0 && lead < 0xF0 ? 3 : 4;
  char32_t point = lead;
  const bool bad_lead = (lead >= 0x80 && lead < 0xC2) || lead > 0xF4;
  bool good = !bad_lead && length <= text.size();
  if (good && length > 1) {
    point = lead & (0xFFu >> (length + 1));
    for (std::size_t i = 1; i < length; ++i) {
      good = good && (byte(i) & 0xC0) == 0x80;
      point = (point << 6) | (byte(i) & 0x3Fu);
    }
    const char32_t least = length == 2 ? 0x80u : length == 3 ? 0x800u : 0x10000u;
    good = good && point >= least && point <= 0x10FFFF && !(point >= 0xD800 && point <= 0xDFFF);
  }
  if (!good) length = 1;
  text.remove_prefix(length);
  return good ? point : broken;
}

bool is_control(char32_t point) {
  const bool blank = point == '\t' || point == '\n' || point == '\r';
  return (point < 0x20 && !blank) || (point >= 0x7F && point < 0xA0);
}

constexpr auto vulgar_fractions = std::to_array<std::pair<char32_t, std::string_view>>({
    {0xBC, "1/4"},
    {0xBD, "1/2"},
    {0xBE, "3/4"},
    {0x2150, "1/7"},
    {0x2151, "1/9"},
    {0x2153, "1/3"},
    {0x2154, "2/3"},
    {0x2155, "1/5"},
    {0x2156, "2/5"},
    {0x2157, "3/5"},
    {0x2158, "4/5"},
    {0x2159, "1/6"},
    {0x215A, "5/6"},
    {0x215B, "1/8"},
    {0x215C, "3/8"},
    {0x215D, "5/8"},
    {0x215E, "7/8"},
});

constexpr auto look_alikes = std::to_array<std::pair<char32_t, std::string_view>>({
    {'\t', " "},    {'\n', " "},   {'\r', " "},    {0xA0, " "},      {0x202F, " "},    {0x205F, " "},
    {0x3000, " "},  {0x2010, "-"}, {0x2011, "-"},  {0x2212, "-"},    {0xB5, "u"},      {0x3BC, "u"},
    {0xB0, "deg"},  {0xBA, "deg"}, {0x2DA, "deg"}, {0x2103, "degC"}, {0x2109, "degF"}, {0xB7, " "},
    {0x22C5, " "},  {0x2022, " "}, {0x2044, "/"},  {0x2215, "/"},    {0xD7, "x"},      {0x2018, "'"},
    {0x2019, "'"},  {0x2032, "'"}, {0x201C, "\""}, {0x201D, "\""},   {0x2033, "\""},   {0x2030, "permille"},
    {0x2026, ".."},
});

std::optional<char> raised(char32_t point) {
  if (point == 0xB9) return '1';
  if (point == 0xB2 || point == 0xB3) return static_cast<char>('0' + (point - 0xB0));
  if (point == 0x2070 || (point >= 0x2074 && point <= 0x2079)) return static_cast<char>('0' + (point - 0x2070));
  if (point == 0x207B) return '-';
  return std::nullopt;
}

void append_utf8(std::string& out, std::string_view before, std::string_view after) {
  out.append(before.substr(0, before.size() - after.size()));
}

}  // namespace

std::optional<std::string> fold(std::string_view text) {
  std::string out;
  bool in_raised = false;
  while (!text.empty()) {
    const std::string_view before = text;
    const char32_t point = take_code_point(text);
    if (point == broken || is_control(point)) return std::nullopt;
    if (const auto figure = raised(point)) {
      if (!in_raised) out += '^';
      out += *figure;
      in_raised = true;
      continue;
    }
    in_raised = false;
    const auto is_point = [&](const auto& entry) { return entry.first == point; };
    if (point >= 0x2012 && point <= 0x2015) {
      out += folded_dash;
    } else if (point >= 0x2000 && point <= 0x200A) {
      out += ' ';
    } else if (const auto* part = std::ranges::find_if(vulgar_fractions, is_point); part != vulgar_fractions.end()) {
      if (!out.empty() && is_digit(out.back())) out += ' ';
      out.append(part->second);
      out += ' ';  // so that "1½2" is not read as 1 1/22
    } else if (const auto* alike = std::ranges::find_if(look_alikes, is_point); alike != look_alikes.end()) {
      out.append(alike->second);
    } else {
      append_utf8(out, before, text);
    }
  }
  return out;
}

std::string showable(std::string_view text) {
  std::string out;
  while (!text.empty()) {
    if (out.size() >= longest_text) return out + "…";
    const std::string_view before = text;
    const char32_t point = take_code_point(text);
    if (point == broken || is_control(point)) {
      out += '?';
    } else if (point == '\t' || point == '\n' || point == '\r') {
      out += ' ';
    } else {
      append_utf8(out, before, text);
    }
  }
  return out;
}

std::string whole_characters(std::string_view text) {
  std::string out;
  out.reserve(text.size());
  while (!text.empty()) {
    const std::string_view before = text;
    if (take_code_point(text) == broken) {
      out += '?';
    } else {
      append_utf8(out, before, text);
    }
  }
  return out;
}

std::string_view trimmed(std::string_view text) {
  while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
  while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
  return text;
}

}  // namespace barm
