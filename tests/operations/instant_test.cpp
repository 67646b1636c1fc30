#include "operations/instant.h"

#include <gtest/gtest.h>

namespace barm::operations {
namespace {

std::string code(const char* text) {
  const auto read = read_instant(text);
  return read.ok() ? "" : read.refusals().front().code;
}

// RFC 3339, section 5.8, examples (from memory); seconds of the Unix clock by hand: 2001-09-09T01:46:40Z is
// 1,000,000,000.
TEST(Instant, one_moment_has_many_spellings) {
  for (const char* text : {"2001-09-09T01:46:40Z", "2001-09-09 01:46:40z", "2001-09-08T18:46:40-07:00",
                           "2001-09-09T07:16:40.000+05:30", "2001-09-09T07:16:40+0530"}) {
    const auto read = read_instant(text);
    ASSERT_TRUE(read.ok()) << text;
    EXPECT_EQ(read->at_ms, 1'000'000'000'000) << text;
  }
  EXPECT_EQ(read_instant("2001-09-09T01:46:40.25Z")->at_ms, 1'000'000'000'250);
  EXPECT_EQ(read_instant("2001-09-09T01:46Z")->at_ms, 999'999'960'000);
}

TEST(Instant, the_clock_that_wrote_it_is_kept) {
  EXPECT_EQ(read_instant("2001-09-08T18:46:40-07:00")->offset_min, -420);
  EXPECT_EQ(read_instant("2001-09-09T07:16:40+05:30")->offset_min, 330);
  EXPECT_EQ(read_instant("2001-09-09T01:46:40Z")->offset_min, 0);
}

TEST(Instant, without_its_offset_it_is_refused) {
  EXPECT_EQ(code("2026-05-02T18:00:00"), "operations.instant.no_offset");
}

TEST(Instant, days_no_calendar_has_are_refused) {
  EXPECT_EQ(code("2026-02-29T18:00:00Z"), "operations.instant.no_such_time");
  EXPECT_EQ(code("2024-02-29T18:00:00Z"), "");
  EXPECT_EQ(code("2026-13-01T18:00:00Z"), "operations.instant.no_such_time");
  EXPECT_EQ(code("2026-05-02T24:00:00Z"), "operations.instant.no_such_time");
}

TEST(Instant, what_is_no_date_is_refused) {
  for (const char* text : {"", "tonight", "18:00", "2026-05-02", "2026-5-2T18:00Z", "2026-05-02T18:00:00Z tomorrow",
                           "2026-05-02T18:00+15:00", "2026-05-02T18:00:00.Z"}) {
    EXPECT_EQ(code(text), "operations.instant.not_readable") << text;
  }
  EXPECT_EQ(code("1926-05-02T18:00:00Z"), "operations.instant.far_away");
}

}  // namespace
}  // namespace barm::operations
