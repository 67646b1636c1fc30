// Several files written together: all of them, or none where one is in the way.
#pragma once

#include <string>
#include <vector>

#include "operations/world.h"

namespace barm::operations {

struct WrittenFile {
  std::string name{}, content{};
  std::string field{};  // the input that named it
};

/// Refuses before the first is written, naming every file that is in the way (records.world.taken). A device that fails
/// leaves those written before it.
void write_together(const std::vector<WrittenFile>& files, const World& world, Findings& findings);

}  // namespace barm::operations
