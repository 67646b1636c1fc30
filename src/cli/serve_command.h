// `barm serve`: the command that does not end by itself.
#pragma once

#include <string>
#include <vector>

#include "cli/command.h"

namespace barm::cli {

/// Whether the command is `barm serve`, wherever its common options stand.
bool is_serve(const std::vector<std::string>& words);

/// Serves until it is told to stop by SIGTERM or SIGINT. Prints its address on standard output when it is ready, and
/// its log on standard error. What is returned tells how it ended.
Outcome serve(const std::vector<std::string>& words, const operations::World& world);

}  // namespace barm::cli
