// Text laid out in the columns of a terminal: how wide it is, where it breaks, and what a stranger's text may carry.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace barm::cards {

/// Columns a UTF-8 text takes in a terminal: accents that combine take none, East Asian wide characters two.
int columns_of(std::string_view text);

/// The text cut into lines of at most `width` columns at spaces; a word longer than a line is broken.
std::vector<std::string> wrap(std::string_view text, int width);

/// The text with spaces after it (or before it) up to `width` columns; longer text stays as it is.
std::string pad_right(std::string_view text, int width);
std::string pad_left(std::string_view text, int width);

/// Text from a plan file made fit to print: control characters become spaces, broken UTF-8 becomes '?'.
std::string clean(std::string_view text);

}  // namespace barm::cards
