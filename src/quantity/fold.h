// Text as people type and paste it, brought to a few plain characters before it is read.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace barm {

/// Stands for an en or em dash in folded text: between figures a range, before one a minus.
inline constexpr char folded_dash = '\x1e';

/// Longest text read as a quantity, in bytes. Judged: room for a sum of four terms in words.
inline constexpr std::size_t longest_text = 160;

/// Folds what looks alike: minus and hyphen signs, every space, micro and degree signs, raised figures (as "^2"),
/// vulgar fractions ("1½" as "1 1/2 "), multiplication and middle dots, curly quotes. Other letters stay as they are.
/// Nothing when the text is not valid UTF-8 or holds a control character.
std::optional<std::string> fold(std::string_view text);

/// The text fit to be shown back: cut at `longest_text` with "…", control characters and broken UTF-8 as "?".
std::string showable(std::string_view text);

/// The text with broken UTF-8 as "?", so that any door can send it on.
std::string whole_characters(std::string_view text);

/// The text without spaces at either end.
std::string_view trimmed(std::string_view text);

}  // namespace barm
