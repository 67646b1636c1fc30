#include "cards/report_pdf.h"

#include <gtest/gtest.h>

#include <sstream>

#include "cards/jpeg.h"
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

TEST(A_report, says_in_plain_bytes_that_it_is_one) {
  const auto bytes = report_pdf(report(9), Paper::a4);
  EXPECT_NE(std::string(bytes.begin(), bytes.end()).find("/Creator (barm report)"), std::string::npos);
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

/// The picture with an Exif block that says how it lies.
std::string lying(const std::string& jpeg, char orientation) {
  std::string exif(
      "\xFF\xE1\0\x22"
      "Exif\0\0"
      "MM\0\x2A\0\0\0\x08"
      "\0\x01\x01\x12\0\x03\0\0\0\x01\0\0\0\0\0\0\0\0",
      36);
  exif[exif.find("\x01\x12") + 9] = orientation;
  return jpeg.substr(0, 2) + exif + jpeg.substr(2);
}

/// Colours of the quarters of the one coloured picture of a page, from the top left on: red, green, blue or none.
std::string quarters_of(const std::vector<std::uint8_t>& pdf) {
  std::istringstream image(test::poppler("pdftoppm", "-r 72 -f 1 -l 1 FILE", pdf));
  std::string form;
  int width = 0, height = 0, most = 0;
  image >> form >> width >> height >> most;
  image.get();
  std::string points(static_cast<std::size_t>(width) * height * 3, ' ');
  image.read(points.data(), static_cast<std::streamsize>(points.size()));
  const auto colour = [&](int x, int y) {
    const auto level = [&](int of) { return static_cast<unsigned char>(points[3 * (y * width + x) + of]); };
    for (const int of : {0, 1, 2}) {
      if (level(of) > 180 && level((of + 1) % 3) < 80 && level((of + 2) % 3) < 80) return "rgb"[of];
    }
    return 'k';
  };
  int left = width, right = 0, top = height, bottom = 0;
  for (int y = 0; y < height; ++y) {
    for (int x = 0; x < width; ++x) {
      if (colour(x, y) == 'k') continue;
      left = std::min(left, x), right = std::max(right, x), top = std::min(top, y), bottom = std::max(bottom, y);
    }
  }
  std::string all;
  for (const int y : {1, 3}) {
    for (const int x : {1, 3}) all += colour(left + (right - left) * x / 4, top + (bottom - top) * y / 4);
  }
  return all + (right - left > bottom - top ? " wide" : " tall");
}

// Another program that follows Exif, a web browser, showed the same files so (2026-11-27).
TEST(A_photo, stands_upright_however_it_lies_in_its_file) {
  const std::vector<std::string> shown = {"rgbk wide", "grkb wide", "kbgr wide", "bkrg wide",
                                          "rbgk tall", "brkg tall", "kgbr tall", "gkrb tall"};
  const std::string jpeg = test::support_file("quarters.jpg");
  for (std::size_t i = 0; i < shown.size(); ++i)
    EXPECT_EQ(quarters_of(report_pdf(with_picture(lying(jpeg, static_cast<char>(i + 1))), Paper::a4)), shown[i])
        << i + 1;
}

TEST(A_photo, keeps_to_itself_where_and_with_what_it_was_taken) {
  const std::string jpeg = test::support_file("leaf.jpg");
  const std::string note = std::string("\xFF\xFE\0\x0E", 4) + "by the gate ";
  const std::string told = lying(jpeg, 1).insert(2, note) + "and what a phone keeps behind it";
  EXPECT_EQ(read_jpeg(told)->bare, jpeg);
  EXPECT_EQ(report_pdf(with_picture(told), Paper::a4), report_pdf(with_picture(jpeg), Paper::a4));
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
                                   jpeg.substr(0, jpeg.find("\xFF\xC0") + 6),  // cut off in its frame,
                                   jpeg.substr(0, jpeg.find("\xFF\xDA")),      // before its picture
                                   jpeg.substr(0, jpeg.size() - 2)}) {         // and in it
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
