// Asking operations in tests: a world without files, and documents written inline.
#pragma once

#include <gtest/gtest.h>

#include <algorithm>

#include "operations/operation.h"

namespace barm::operations {

inline const cards::Catalogue& catalogue() {
  static const auto words = cards::Catalogue::embedded();
  return words;
}

/// A world that holds the files given, by name.
inline World world_with(std::map<std::string, std::string> files = {}) {
  World world{.words = &catalogue()};
  world.now = [] { return std::int64_t{1'777'593'600'000}; };  // 2026-05-01T00:00:00Z
  world.chance = [] { return std::array<std::uint8_t, 10>{}; };
  world.read_file = [files](const std::string& name) {
    const auto at = files.find(name);
    if (at != files.end()) return Answer<std::string>(at->second);
    return Answer<std::string>::refused(
        {{"operations.world.file_not_readable", "", {{"given", name}, {"reason", std::string("absent")}}}});
  };
  return world;
}

inline Document document(const char* toml) {
  const auto read = read_toml(toml);
  EXPECT_TRUE(read.ok());
  return read.ok() ? *read : Document{};
}

inline bool has(const Remarks& remarks, const std::string& code, const std::string& field) {
  return std::any_of(remarks.begin(), remarks.end(),
                     [&](const Remark& r) { return r.code == code && r.field == field; });
}

}  // namespace barm::operations
