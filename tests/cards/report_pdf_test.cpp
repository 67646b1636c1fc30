#include "cards/report_pdf.h"

#include <gtest/gtest.h>

#include <sstream>

#include "cards/picture.h"
#include "cards/poppler.h"
#include "support/files.h"

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

Report with_picture(const std::string& bytes, std::size_t rows_before = 0) {
  Report all = report(rows_before);
  all.sections.push_back({.title = "Photos", .rows = {{.lead = "2026-05-03", .text = "foam", .picture = bytes}}});
  return all;
}

/// Page, form and size [px] of the one picture that poppler finds.
struct Found {
  int page = 0, width = 0, height = 0;
  std::string form{};
};
Found picture_in(const std::vector<std::uint8_t>& pdf) {
  std::istringstream lines(test::poppler("pdfimages", "-list FILE", pdf));
  std::string line, skipped, type;
  for (int i = 0; i < 2; ++i) std::getline(lines, line);  // headings
  Found found;
  if (!std::getline(lines, line)) return found;
  std::istringstream cells(line);
  cells >> found.page >> skipped >> type >> found.width >> found.height >> skipped >> skipped >> skipped >> found.form;
  EXPECT_FALSE(std::getline(lines, line)) << "one picture only: " << line;
  return found;
}

TEST(A_photo, goes_onto_the_page_as_it_is) {
  const std::string jpeg = test::support_file("leaf.jpg");
  const auto pdf = report_pdf(with_picture(jpeg), Paper::a4);
  const auto found = picture_in(pdf);
  EXPECT_EQ(found.form, "jpeg");
  EXPECT_EQ(found.width, 16);
  EXPECT_EQ(found.height, 8);
  const std::string bytes(pdf.begin(), pdf.end());
  EXPECT_NE(bytes.find(jpeg), std::string::npos);  // byte for byte
  EXPECT_EQ(picture_in(report_pdf(with_picture(test::support_file("leaf.png")), Paper::a4)).width, 16);
  EXPECT_EQ(report_pdf(with_picture(jpeg), Paper::a4), pdf);
}

TEST(A_photo, stays_with_its_row) {
  const std::string jpeg = test::support_file("leaf.jpg");
  for (std::size_t before = 30; before < 60; ++before) {
    const auto pdf = report_pdf(with_picture(jpeg, before), Paper::a4);
    const int page = picture_in(pdf).page;
    const std::string at = std::to_string(page);
    const auto text = test::one_line(test::poppler("pdftotext", "-f " + at + " -l " + at + " FILE -", pdf));
    EXPECT_NE(text.find("foam"), std::string::npos) << before;
  }
}

TEST(A_photo, that_cannot_be_shown_leaves_its_row) {
  const std::string jpeg = test::support_file("leaf.jpg"), png = test::support_file("leaf.png");
  EXPECT_TRUE(Picture::read(jpeg));
  std::string huge = png;
  huge[16] = huge[20] = 0x7F;  // 2 thousand million points each way
  std::string inks = jpeg;
  inks[jpeg.find("\xFF\xC0") + 9] = 4;
  for (const std::string& bytes : {std::string("\xFF\xD8\xFF"), std::string("GIF89a"), png.substr(0, 40), huge, inks,
                                   jpeg.substr(0, jpeg.find("\xFF\xC0") + 6)}) {
    EXPECT_FALSE(Picture::read(bytes));
    const auto pdf = report_pdf(with_picture(bytes), Paper::a4);
    EXPECT_EQ(picture_in(pdf).page, 0);
    EXPECT_NE(text_of(pdf).find("foam"), std::string::npos);
  }
}

TEST(A_report, with_nothing_in_it_is_a_page) {
  EXPECT_EQ(pages_of(report_pdf({}, Paper::a4)), 1);
}

}  // namespace
}  // namespace barm::cards
