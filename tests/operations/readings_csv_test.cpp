#include "operations/readings_csv.h"

#include "operations/asking.h"

namespace barm::operations {
namespace {

std::vector<std::string> codes(const char* text) {
  std::vector<std::string> all;
  const auto read = read_readings(text, "readings");
  for (const auto& refusal : read.refusals()) {
    EXPECT_FALSE((Voice{.words = &catalogue()}.say(refusal)).empty());
    all.push_back(refusal.code.substr(std::string("operations.readings.").size()));
  }
  return all;
}
using Codes = std::vector<std::string>;

TEST(Readings, the_same_log_in_every_accepted_dress) {
  for (const char* text :
       {"time_s,oxygen_mg_per_l\n0,1.5\n10,2.25\n", "\xEF\xBB\xBFtime_s,oxygen_mg_per_l\r\n0,1.5\r\n10,2.25",
        "oxygen_mg_per_l;time_s\n1,5;0\n2,25;10\n", "time_s\toxygen_mg_per_l\n0\t1,5\n10\t2.25\n",
        "# a log\n\n\"time_s\",\"oxygen_mg_per_l\"\n \"0\" , 1.5\n\n10,+2.25\n"}) {
    const auto read = read_readings(text, "readings");
    ASSERT_TRUE(read.ok()) << text;
    ASSERT_EQ(read->size(), 2u) << text;
    EXPECT_EQ((*read)[1].time_s, 10.0) << text;
    EXPECT_EQ((*read)[1].oxygen_mg_per_l, 2.25) << text;
  }
}

TEST(Readings, a_file_of_another_kind_is_refused) {
  EXPECT_EQ(codes(""), Codes{"empty"});
  EXPECT_EQ(codes("time_s,oxygen_mg_per_l\n"), Codes{"empty"});
  EXPECT_EQ(codes("0,1.5\n10,2.25\n"), Codes{"no_names"});
  EXPECT_EQ(codes("time_s,oxygen_mg_per_l,time_s\n0,1,0\n"), Codes{"column_repeated"});
  EXPECT_EQ(codes("a,b\n1,2\n"), (Codes{"column_missing", "column_missing"}));
}

TEST(Readings, a_misspelt_column_is_offered) {
  const auto read = read_readings("time_s,oxigen_mg_per_l\n0,1\n", "readings");
  ASSERT_FALSE(read.ok());
  EXPECT_EQ(std::get<std::string>(read.refusals()[0].facts.at("suggestion")), "oxigen_mg_per_l");
}

TEST(Readings, wrong_cells_are_named_with_their_line) {
  const auto read = read_readings("time_s,oxygen_mg_per_l\n0,1.5\n10,n/a\n20,nan\n30,1e999\n40\n50,1,5\n", "readings");
  ASSERT_FALSE(read.ok());
  ASSERT_EQ(read.refusals().size(), 5u);
  EXPECT_EQ(std::get<std::string>(read.refusals()[0].facts.at("line")), "3");
  EXPECT_EQ(codes("time_s,oxygen_mg_per_l\n0,1.5\n10,n/a\n20,nan\n30,1e999\n40\n50,1,5\n"),
            (Codes{"not_a_number", "not_finite", "not_finite", "cells", "cells"}));
}

TEST(Readings, a_hopeless_file_is_not_told_line_by_line) {
  std::string text = "time_s,oxygen_mg_per_l\n";
  for (int i = 0; i < 1000; ++i) text += "x,y\n";
  EXPECT_LE(codes(text.c_str()).size(), 11u);
}

TEST(Readings, a_column_nobody_uses_is_a_doubt) {
  const auto read = read_readings("time_s,oxygen_mg_per_l,note\n0,1.5,a\n", "readings");
  ASSERT_TRUE(read.ok());
  ASSERT_EQ(read.doubts().size(), 1u);
  EXPECT_EQ(read.doubts()[0].code, "operations.readings.column_not_used");
}

}  // namespace
}  // namespace barm::operations
