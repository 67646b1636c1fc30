// The known name a person probably meant.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace barm::compost {

/// ASCII letters in lower case, blanks, hyphens and underscores as one blank, none at the ends: how names are compared.
std::string plain_name(std::string_view name);

/// The candidate with the fewest single-letter changes from `name` (insert, drop, replace), or with a word of it when
/// that finds none; empty when nothing is near (more than a third of the letters differ).
std::string nearest_name(std::string_view name, const std::vector<std::string>& candidates);

}  // namespace barm::compost
