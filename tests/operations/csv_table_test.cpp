// The one table reader, whatever the columns are.
#include "operations/csv_table.h"

#include "operations/asking.h"

namespace barm::operations {
namespace {

using Cells = std::vector<std::vector<std::string>>;

Cells cells(std::string_view text, Findings& findings, std::size_t rows_most = 100) {
  CsvTable table(text, {.field = "log", .sample = "a,b", .rows_most = rows_most}, findings);
  Cells all;
  while (table.next()) {
    all.emplace_back();
    for (std::size_t i = 0; i < table.columns().size(); ++i) all.back().emplace_back(table.text(i));
  }
  return all;
}

TEST(CsvTable, quotes_hold_separators_and_quotes) {
  Findings findings;
  EXPECT_EQ(cells("a,b\n\"1,5\",\" say \"\"hot\"\" \"\n,\"\"\n", findings), (Cells{{"1,5", "say \"hot\""}, {"", ""}}));
  EXPECT_FALSE(findings.refused());
}

TEST(CsvTable, a_quote_left_open_is_refused_with_its_line) {
  Findings findings;
  EXPECT_EQ(cells("a,b\n1,2\n\"3,4\n5,6\n", findings), (Cells{{"1", "2"}, {"5", "6"}}));
  ASSERT_EQ(findings.refusals().size(), 1u);
  EXPECT_EQ(findings.refusals()[0].code, "operations.readings.quote_open");
  EXPECT_EQ(std::get<std::string>(findings.refusals()[0].facts.at("line")), "3");
}

TEST(CsvTable, rows_beyond_the_most_are_refused_once) {
  Findings findings;
  EXPECT_EQ(cells("a\n1\n2\n", findings, 2).size(), 2u);
  EXPECT_FALSE(findings.refused());
  EXPECT_EQ(cells("a\n1\n2\n3\n4\n", findings, 2).size(), 2u);
  EXPECT_EQ(findings.refusals().size(), 1u);
}

TEST(CsvTable, a_number_is_told_from_an_empty_cell_and_from_words) {
  Findings findings;
  CsvTable table("a;b;c\n 1,5;;warm\n", {.field = "log"}, findings);
  ASSERT_TRUE(table.next());
  EXPECT_EQ(table.number(0), 1.5);
  EXPECT_FALSE(table.number_if_any(1));
  EXPECT_FALSE(findings.refused());
  EXPECT_FALSE(table.number(2));
  ASSERT_EQ(findings.refusals().size(), 1u);
  EXPECT_EQ(std::get<std::string>(findings.refusals()[0].facts.at("column")), "c");
  EXPECT_EQ(std::get<std::string>(findings.refusals()[0].facts.at("given")), "warm");
}

TEST(CsvTable, a_column_that_may_be_missing_is_not_asked_for) {
  Findings findings;
  CsvTable table("a,b\n1,2\n", {.field = "log"}, findings);
  EXPECT_EQ(table.column_if_any("b"), 1u);
  EXPECT_FALSE(table.column_if_any("event"));
  EXPECT_FALSE(findings.refused());
  table.doubt_unused();
  ASSERT_EQ(findings.doubts().size(), 1u);
  EXPECT_EQ(std::get<std::string>(findings.doubts()[0].facts.at("given")), "a");
}

TEST(CsvTable, nothing_is_read_without_its_columns) {
  Findings findings;
  CsvTable table("a,b\n1,2\n", {.field = "log"}, findings);
  EXPECT_FALSE(table.column("time"));
  EXPECT_FALSE(table.next());
}

// What is wrong is told in whole characters, whatever bytes the file held or wherever a cell was cut.
TEST(CsvTable, a_file_that_is_not_utf8_is_refused_in_words_that_are) {
  Findings findings;
  CsvTable table(
      "a,b\n1,68 \xB0"
      "F\n",
      {.field = "log", .sample = "a,b"}, findings);
  ASSERT_TRUE(table.next());
  EXPECT_FALSE(table.number(1));
  const Remarks told = fit_to_tell(findings.refusals());
  EXPECT_EQ(std::get<std::string>(told.at(0).facts.at("given")), "68 ?F");
  EXPECT_EQ(std::get<std::string>(told.at(0).facts.at("line")), "2");
}

}  // namespace
}  // namespace barm::operations
