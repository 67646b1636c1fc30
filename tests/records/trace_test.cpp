// What a trace tells of a brew's readings, against readings counted one by one; on both engines.
#include "records/trace.h"

#include <random>

#include "records/a_store.h"

namespace barm::records {
namespace {

struct Told {
  std::int64_t count = 0;
  std::optional<double> lowest{}, highest{};
  bool operator==(const Told&) const = default;
};

class TraceReadingsTest : public OnBoth {
 protected:
  Store store = open(empty_place());
  Season season = a_season();
  void SetUp() override { ASSERT_TRUE(store.add_all(season.all(), may_2026).ok()); }

  /// Counted one by one from the list of readings.
  Told counted(const Entry& brew, std::int64_t known_at) {
    Filter filter{.field = "brew", .names = brew.id, .known_at = known_at};
    Told told;
    const auto all = store.list(*all_kinds().find("reading"), filter);
    EXPECT_TRUE(all.ok());
    for (const auto& one : *all) {
      ++told.count;
      const auto oxygen = value(one, "oxygen");
      if (!is_given(oxygen)) continue;
      const double mg_per_l = std::get<double>(oxygen);
      told.lowest = std::min(told.lowest.value_or(mg_per_l), mg_per_l);
      told.highest = std::max(told.highest.value_or(mg_per_l), mg_per_l);
    }
    return told;
  }
  Told traced(const Entry& brew, std::int64_t known_at) {
    const auto steps = trace_forward(store, brew.id, known_at);
    EXPECT_TRUE(steps.ok()) << records::told(steps.refusals());
    for (const auto& one : *steps) {
      if (one.id == brew.id) return {one.readings_count, one.oxygen_lowest_mg_per_l, one.oxygen_highest_mg_per_l};
    }
    ADD_FAILURE() << "the brew is not in its own trace";
    return {};
  }
};
INSTANTIATE_TEST_SUITE_P(Engines, TraceReadingsTest, ::testing::Values(Engine::sqlite, Engine::postgresql),
                         engine_name);

TEST_P(TraceReadingsTest, readings_told_are_those_that_count_whatever_was_corrected_and_withdrawn) {
  std::mt19937 random(GetParam() == Engine::sqlite ? 11 : 12);
  std::vector<Entry> kept;
  for (int round = 0; round < 60; ++round) {
    const std::int64_t now = may_2026 + 1000 * (round + 1);
    const Entry& brew = random() % 3 == 0 ? season.second_brew : season.brew;
    const double oxygen = 0.1 * static_cast<double>(random() % 100);
    Entry next = entry("reading", {{"brew", brew.id}, {"at", may_2026 + 2 * day_ms + round}, {"oxygen", oxygen}});
    if (random() % 7 == 0) next.values[2] = Value{}, next.values[3] = 20.0;  // temperature only
    if (!kept.empty() && random() % 2 == 0) {
      const Entry& old = kept[random() % kept.size()];
      // A correction may also move a reading to the other brew.
      next = random() % 3 == 0 ? withdrawal(old, "stray")
                               : correction(old, {{"oxygen", oxygen}, {"brew", brew.id}}, "calibrated wrong");
    }
    keep(store, next, now);
    if (!next.withdraws) kept.push_back(next);
    for (const Entry* one : {&season.brew, &season.second_brew}) {
      EXPECT_EQ(traced(*one, known_now), counted(*one, known_now)) << "round " << round;
      const std::int64_t then = may_2026 + 1000 * static_cast<std::int64_t>(random() % 60);
      EXPECT_EQ(traced(*one, then), counted(*one, then)) << "round " << round << " as known at " << then;
    }
  }
}

}  // namespace
}  // namespace barm::records
