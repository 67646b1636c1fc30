// A store to try things on, of either engine, and entries to put into it.
#pragma once

#include <gtest/gtest.h>

#include <map>
#include <string>

#include "records/store.h"
#include "support/temporary_folder.h"

namespace barm::records {

using Folder = test::TemporaryFolder;

/// Tests that hold on both engines.
class OnBoth : public ::testing::TestWithParam<Engine> {
 public:
  /// Where a further empty store may be made.
  Place empty_place();
  Store open(const Place& place, const Kinds& kinds = all_kinds());
  Folder folder;

 private:
  int places_ = 0;
};
std::string engine_name(const ::testing::TestParamInfo<Engine>& info);

inline constexpr std::int64_t day_ms = 86'400'000;
inline constexpr std::int64_t may_2026 = 1'777'593'600'000;  // 2026-05-01T00:00:00Z

/// An id that nobody has yet in this process.
std::string new_id();

/// An entry with the values given by the names of their fields.
Entry entry(const std::string& kind, const std::map<std::string, Value>& values, const Kinds& kinds = all_kinds());
Entry correction(Entry of, const std::map<std::string, Value>& changes, const std::string& reason);
Entry withdrawal(const Entry& of, const std::string& reason);

/// A value of an entry by the name of its field.
Value value(const Entry& entry, const std::string& field);

bool has(const Remarks& remarks, const std::string& code, const std::string& field = {});
std::string told(const Remarks& remarks);

/// The first bytes of a JPEG, with a NUL and letters that are no UTF-8 among them.
inline constexpr std::string_view a_picture{"\xFF\xD8\xFF\xE0\0\x10JFIF\0\xC3\x28", 14};

/// Keeps an entry that must be accepted.
void keep(Store& store, const Entry& entry, std::int64_t now = may_2026);

/// A small garden with a season in it: two lots, two brews, three beds, one of which got nothing.
struct Season {
  Entry garden, ana, bed, other_bed, bare_bed, vessel, water, compost, molasses, brew, second_brew;
  Entry application, late_application, harvest, early_harvest, bare_harvest;
  std::vector<Entry> rest;  // mixes, tests, readings
  std::vector<Entry> all() const;
};
Season a_season();

}  // namespace barm::records
