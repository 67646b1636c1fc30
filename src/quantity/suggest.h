// The spelling somebody most likely meant, for units, keys of a plan and names of foods.
#pragma once

#include <cstddef>
#include <span>
#include <string>
#include <string_view>

namespace barm {

/// Slips between two spellings: letters added, left out, changed, or two neighbours swapped, each counted once (optimal
/// string alignment). Capitals count as small letters; a hyphen, an underscore and a space count as the same.
std::size_t slips_between(std::string_view a, std::string_view b);

/// Slips that may be forgiven in a word of this length: one in up to five letters, then two, from nine letters three.
/// Judged: more would offer words that have nothing to do with what was written.
std::size_t slips_forgiven(std::size_t length);

/// The entry of `known` nearest to `given` (the first of several equally near), as `known` spells it. Empty when none
/// is near enough, or when `given` is a single letter, since any other letter would be as near.
std::string likely_spelling(std::string_view given, std::span<const std::string> known);

}  // namespace barm
