// What an operation may reach outside its own inputs. Nothing is global: whoever asks passes it in.
#pragma once

#include <array>
#include <cstdint>
#include <functional>
#include <string>
#include <string_view>

#include "cards/catalogue.h"
#include "quantity/answer.h"

namespace barm::operations {

struct World {
  const cards::Catalogue* words = nullptr;
  /// Text of a file the person named. Refuses with a code under "operations.world." when the file or its device fails.
  std::function<Answer<std::string>(const std::string& name)> read_file{};
  /// Whether what has that name, if anything has, may be written over by that content; empty: always.
  std::function<bool(const std::string& name, std::string_view content)> may_write{};
  /// Writes a file the person named, whole or not at all. Refuses likewise, and where `may_write` says no.
  std::function<Answer<bool>(const std::string& name, std::string_view content)> write_file{};
  /// The clock [ms UTC], and chance for ids of entries made here.
  std::function<std::int64_t()> now{};
  std::function<std::array<std::uint8_t, 10>()> chance{};
  /// Folder for the copy made before the tables of a record change; of a file record beside it when empty.
  std::string backup_folder{};
  /// Threads lent for long work: does job 0 to count - 1 in any order; empty: one after the other.
  std::function<void(int count, const std::function<void(int)>& job)> parallel{};
  /// How far long work is, 0 to 1, and whether to give it up; empty: nobody asks.
  std::function<void(double share)> progress{};
  std::function<bool()> should_stop{};
};

/// Whether a refusal tells of a failing file or device rather than of a wrong input.
inline bool is_world_failure(const Remark& refusal) {
  return refusal.code.starts_with("operations.world.") || refusal.code.starts_with("records.world.");
}

}  // namespace barm::operations
