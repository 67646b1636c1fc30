// The files of data/ as they were when the program was built, so that it runs without them.
#pragma once

#include <string_view>
#include <vector>

namespace barm::data {

/// Text of a data file by its path below data/ ("foods.toml"). Empty when there is no such file.
std::string_view file(std::string_view name);

/// Paths of all data files.
const std::vector<std::string_view>& files();

}  // namespace barm::data
