// The `barm` command without its process: words in, two texts and a status out.
#pragma once

#include <string>
#include <vector>

#include "operations/world.h"

namespace barm::cli {

enum Status : int { done = 0, our_fault = 1, wrong_input = 2, world_failed = 3 };

struct Outcome {
  std::string out;     // for standard output
  std::string errors;  // for standard error
  int status = done;
};

/// Runs one command, the words after "barm". Anything thrown on the way is our fault, and becomes status 1 here.
Outcome run(const std::vector<std::string>& words, const operations::World& world);

}  // namespace barm::cli
