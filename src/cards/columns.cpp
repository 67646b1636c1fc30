#include "cards/columns.h"

#include <algorithm>
#include <cstdint>

#include "quantity/expects.h"

namespace barm::cards {
namespace {

struct Glyph {
  std::uint32_t code = 0;
  std::size_t bytes = 1;
  bool valid = true;
};

// One code point of RFC 3629; anything else is one invalid byte.
Glyph glyph_at(std::string_view text, std::size_t at) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  const unsigned char first = byte(at);
  if (first < 0x80) return {first, 1, true};
  const std::size_t bytes = first >= 0xF0 ? 4 : first >= 0xE0 ? 3 : first >= 0xC2 ? 2 : 0;
  if (bytes == 0 || first > 0xF4 || at + bytes > text.size()) return {first, 1, false};
  std::uint32_t code = first & (0xFFU >> (bytes + 1));
  for (std::size_t i = 1; i < bytes; ++i) {
    if ((byte(at + i) & 0xC0U) != 0x80U) return {first, 1, false};
    code = (code << 6U) | (byte(at + i) & 0x3FU);
  }
  constexpr std::uint32_t least[] = {0, 0, 0x80, 0x800, 0x10000};
  const bool valid = code >= least[bytes] && code <= 0x10FFFF && (code < 0xD800 || code > 0xDFFF);
  return valid ? Glyph{code, bytes, true} : Glyph{first, 1, false};
}

int width_of(std::uint32_t code) {
  if (code >= 0x0300 && code <= 0x036F) return 0;  // combining accents
  if (code == 0x200B || code == 0x200D || (code >= 0xFE00 && code <= 0xFE0F)) return 0;
  const bool wide = (code >= 0x1100 && code <= 0x115F) || (code >= 0x2E80 && code <= 0xA4CF) ||
                    (code >= 0xAC00 && code <= 0xD7A3) || (code >= 0xF900 && code <= 0xFAFF) ||
                    (code >= 0xFE30 && code <= 0xFE6F) || (code >= 0xFF00 && code <= 0xFF60) ||
                    (code >= 0x1F300 && code <= 0x1FAFF) || (code >= 0x20000 && code <= 0x3FFFD);
  return wide ? 2 : 1;
}

// The bytes of the longest beginning of `word` that fits `width` columns; at least one glyph.
std::size_t bytes_that_fit(std::string_view word, int width) {
  std::size_t at = 0;
  int used = 0;
  while (at < word.size()) {
    const Glyph glyph = glyph_at(word, at);
    const int next = used + width_of(glyph.code);
    if (next > width && at > 0) break;
    used = next;
    at += glyph.bytes;
  }
  return at;
}

}  // namespace

int columns_of(std::string_view text) {
  int columns = 0;
  for (std::size_t at = 0; at < text.size();) {
    const Glyph glyph = glyph_at(text, at);
    columns += width_of(glyph.code);
    at += glyph.bytes;
  }
  return columns;
}

std::vector<std::string> wrap(std::string_view text, int width) {
  expects(width > 1, "a line has room for a glyph");
  std::vector<std::string> lines(1);
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = std::min(text.find(' ', at), text.size());
    std::string_view word = text.substr(at, end - at);
    at = end + 1;
    if (word.empty()) continue;
    if (!lines.back().empty() && columns_of(lines.back()) + 1 + columns_of(word) > width) lines.emplace_back();
    while (columns_of(word) > width) {
      const std::size_t bytes = bytes_that_fit(word, width);
      lines.back() += word.substr(0, bytes);
      word.remove_prefix(bytes);
      lines.emplace_back();
    }
    if (!lines.back().empty()) lines.back() += ' ';
    lines.back() += word;
  }
  return lines;
}

std::string pad_right(std::string_view text, int width) {
  return std::string(text) + std::string(static_cast<std::size_t>(std::max(0, width - columns_of(text))), ' ');
}

std::string pad_left(std::string_view text, int width) {
  return std::string(static_cast<std::size_t>(std::max(0, width - columns_of(text))), ' ') + std::string(text);
}

std::string clean(std::string_view text) {
  std::string kept;
  for (std::size_t at = 0; at < text.size();) {
    const Glyph glyph = glyph_at(text, at);
    const bool control = glyph.code < 0x20 || (glyph.code >= 0x7F && glyph.code < 0xA0) ||
                         (glyph.code >= 0x2028 && glyph.code <= 0x202E) ||
                         (glyph.code >= 0x2066 && glyph.code <= 0x2069);
    if (!glyph.valid) {
      kept += '?';
    } else if (control) {
      kept += ' ';
    } else {
      kept += text.substr(at, glyph.bytes);
    }
    at += glyph.bytes;
  }
  return kept;
}

}  // namespace barm::cards
