// Names of foods and composts as people write them.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace barm::compost {

/// ASCII letters in lower case, blanks, hyphens and underscores as one blank, none at the ends: how names are compared.
std::string plain_name(std::string_view name);

/// The known name a person probably meant: the likely spelling, else the first one that shares a word; empty when none.
std::string nearest_name(std::string_view name, const std::vector<std::string>& known);

}  // namespace barm::compost
