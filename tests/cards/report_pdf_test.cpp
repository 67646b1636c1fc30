#include "cards/report_pdf.h"

#include <gtest/gtest.h>

#include "cards/poppler.h"

namespace barm::cards {
namespace {

Report report(std::size_t rows_count, std::size_t words_count = 12) {
  Report report{.title = "Pack", .about = "Hillside", .foot = "foot", .made_at = 1'777'593'600'000};
  ReportSection section{.title = "Rules"};
  for (std::size_t i = 0; i < rows_count; ++i) {
    std::string text = "row" + std::to_string(i) + "begin";
    for (std::size_t word = 0; word < words_count; ++word) text += " word";
    section.rows.push_back(
        {.lead = "2026-05-03 14:00", .text = text + " row" + std::to_string(i) + "end", .warns = i % 7 == 0});
  }
  report.sections.push_back(section);
  return report;
}

std::string text_of(const std::vector<std::uint8_t>& pdf) {
  return test::one_line(test::poppler("pdftotext", "FILE -", pdf));
}
int pages_of(const std::vector<std::uint8_t>& pdf) {
  const std::string info = test::poppler("pdfinfo", "FILE", pdf);
  return std::stoi(info.substr(info.find("Pages:") + 6));
}

TEST(A_report, loses_no_row_over_its_pages) {
  const auto pdf = report_pdf(report(120), Paper::a4);
  EXPECT_GT(pages_of(pdf), 2);
  const std::string text = text_of(pdf);
  for (int i = 0; i < 120; ++i) {
    EXPECT_NE(text.find("row" + std::to_string(i) + "begin"), std::string::npos) << i;
    EXPECT_NE(text.find("row" + std::to_string(i) + "end"), std::string::npos) << i;
  }
}

TEST(A_report, parts_a_row_longer_than_a_page_and_cuts_nothing) {
  const auto pdf = report_pdf(report(2, 3000), Paper::letter);
  const std::string text = text_of(pdf);
  // Every word of both rows is on paper.
  std::size_t words = 0;
  for (auto at = text.find(" word"); at != std::string::npos; at = text.find(" word", at + 1)) ++words;
  EXPECT_EQ(words, 6000U);
  EXPECT_NE(text.find("row0end"), std::string::npos);
  EXPECT_NE(text.find("row1end"), std::string::npos);
}

TEST(A_report, is_the_same_bytes_each_time) {
  EXPECT_EQ(report_pdf(report(9), Paper::a4), report_pdf(report(9), Paper::a4));
}

TEST(A_report, with_nothing_in_it_is_a_page) {
  EXPECT_EQ(pages_of(report_pdf({}, Paper::a4)), 1);
}

}  // namespace
}  // namespace barm::cards
