#include "cards/brew_card_pdf.h"

#include <gtest/gtest.h>

#include <cmath>
#include <regex>

#include "cards/example_plan.h"
#include "cards/night_svg.h"
#include "cards/poppler.h"

namespace barm::cards {
namespace {

PrintedCard print(const recipe::BrewPlan& plan, const CardOptions& options = test::example_options()) {
  return print_brew_card(plan, options, test::example_catalogue());
}

std::string text_of(const std::vector<std::uint8_t>& pdf) {
  return test::one_line(test::poppler("pdftotext", "-raw -enc UTF-8 FILE -", pdf));
}

bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

std::vector<recipe::BrewPlan> plans() {
  return {test::example_plan(), test::crowded_plan(), test::blank_plan()};
}
constexpr Language languages[] = {Language::english, Language::spanish};

bool overlap(const Rect& a, const Rect& b) {
  constexpr double hair = 0.05;  // points; Pango counts in 1/1024
  return a.x < b.right() - hair && b.x < a.right() - hair && a.y < b.bottom() - hair && b.y < a.bottom() - hair;
}

}  // namespace

TEST(BrewCardPdf, is_one_page_whatever_the_plan_holds) {
  for (const recipe::BrewPlan& plan : plans())
    for (const Language language : languages)
      for (const Paper paper : {Paper::a4, Paper::letter}) {
        CardOptions options = test::example_options(language);
        options.paper = paper;
        const std::string info = test::poppler("pdfinfo", "FILE", print(plan, options).bytes);
        EXPECT_TRUE(std::regex_search(info, std::regex("Pages: +1\n"))) << info;
        EXPECT_TRUE(has(info, paper == Paper::a4 ? "(A4)" : "(letter)")) << info;
      }
}

TEST(BrewCardPdf, every_text_can_be_taken_out_again) {
  for (const Language language : languages) {
    const CardOptions options = test::example_options(language);
    const BrewCard card = brew_card(test::example_plan(), options, test::example_catalogue());
    const PrintedCard printed = print(test::example_plan(), options);
    ASSERT_FALSE(printed.is_shortened);
    const std::string text = text_of(printed.bytes);
    std::vector<std::string> wanted = {card.headline, card.about,
                                       card.picture.ready->from + " – " + card.picture.ready->to};
    for (const Said& said : card.warnings) wanted.push_back(said.text);
    for (const Section* part : {&card.clearing, &card.air, &card.life, &card.cautions, &card.sources})
      wanted.insert(wanted.end(), part->lines.begin(), part->lines.end());
    for (const auto* list : {&card.mends, &card.picture_says}) wanted.insert(wanted.end(), list->begin(), list->end());
    for (const StepRow& row : card.steps) wanted.insert(wanted.end(), {row.text, row.clock, row.from_start});
    for (const AmountRow& row : card.amounts)
      wanted.insert(wanted.end(), {row.name, row.kitchen, row.beside, row.rounding});
    for (const Act& act : card.picture.acts) wanted.push_back(act.word);
    wanted.insert(wanted.end(), {card.picture.stay_above + " 6", card.picture.flat_below + " 2",
                                 card.picture.water_full, card.picture.night});
    for (const std::string& part : wanted) EXPECT_TRUE(has(text, part)) << part << "\nnot in\n" << text;
  }
}

TEST(BrewCardPdf, holds_the_figures_that_matter) {
  const std::string text = text_of(print(test::example_plan()).bytes);
  for (const char* figure :
       {"34 of 100", "Sat 12:30", "Sat 17:00", "3 1/4 tbsp", "48 mL", "−4 %", "0.5 mg/L", "6.3 mg/L", "S14"})
    EXPECT_TRUE(has(text, figure)) << figure;
}

TEST(BrewCardPdf, the_same_plan_gives_the_same_bytes) {
  const auto first = print(test::example_plan()).bytes;
  print(test::crowded_plan());
  EXPECT_EQ(first, print(test::example_plan()).bytes);
  EXPECT_EQ(first, brew_card_pdf(test::example_plan(), test::example_options(), test::example_catalogue()));
}

TEST(BrewCardPdf, is_dated_by_the_brew_and_not_by_the_day_it_was_made) {
  const std::string info = test::poppler("pdfinfo", "-isodates FILE", print(test::example_plan()).bytes);
  EXPECT_TRUE(has(info, "2026-05-02T02:00:00")) << info;
}

// Only a paper of the same sort is printed over without asking: src/cli/files.cpp looks for this mark.
TEST(BrewCardPdf, says_in_plain_bytes_that_it_is_a_card) {
  const auto bytes = print(test::example_plan()).bytes;
  const std::string pdf(bytes.begin(), bytes.end());
  EXPECT_TRUE(has(pdf, "/Creator (barm card)"));
  EXPECT_EQ(pdf.find("%%EOF"), pdf.rfind("%%EOF"));
  EXPECT_TRUE(has(test::poppler("pdfinfo", "FILE", bytes), "barm card"));
}

TEST(BrewCardPdf, no_two_pieces_touch_and_none_leaves_the_page) {
  for (const recipe::BrewPlan& plan : plans())
    for (const Language language : languages)
      for (const Paper paper : {Paper::a4, Paper::letter}) {
        CardOptions options = test::example_options(language);
        options.paper = paper;
        const PrintedCard printed = print(plan, options);
        ASSERT_GT(printed.boxes.size(), 10U);
        for (std::size_t i = 0; i < printed.boxes.size(); ++i) {
          const Box& box = printed.boxes[i];
          EXPECT_GE(box.where.x, 29.9) << box.piece;
          EXPECT_GE(box.where.y, 29.9) << box.piece;
          EXPECT_LE(box.where.right(), printed.page.width - 29.9) << box.piece;
          EXPECT_LE(box.where.bottom(), printed.page.height - 29.9) << box.piece;
          for (std::size_t j = 0; j < i; ++j)
            EXPECT_FALSE(overlap(box.where, printed.boxes[j].where)) << box.piece << " on " << printed.boxes[j].piece;
        }
      }
}

// The same question put to poppler, which also sees the words inside the picture.
TEST(BrewCardPdf, no_two_words_stand_on_each_other) {
  const std::regex word("xMin=\"([0-9.]+)\" yMin=\"([0-9.]+)\" xMax=\"([0-9.]+)\" yMax=\"([0-9.]+)\">([^<]*)</word>");
  for (const recipe::BrewPlan& plan : plans())
    for (const Language language : languages) {
      const std::string xml =
          test::poppler("pdftotext", "-bbox FILE -", print(plan, test::example_options(language)).bytes);
      std::vector<Box> words;
      for (std::sregex_iterator at(xml.begin(), xml.end(), word), end; at != end; ++at) {
        const double x = std::stod((*at)[1]), y = std::stod((*at)[2]), right = std::stod((*at)[3]),
                     bottom = std::stod((*at)[4]);
        const double lead = 0.22 * (bottom - y);  // a line's box is taller than its letters
        words.push_back({(*at)[5], {x, y + lead, right - x, bottom - y - 2.0 * lead}});
      }
      ASSERT_GT(words.size(), 50U);
      for (std::size_t i = 0; i < words.size(); ++i)
        for (std::size_t j = 0; j < i; ++j)
          EXPECT_FALSE(overlap(words[i].where, words[j].where)) << words[i].piece << " on " << words[j].piece;
    }
}

TEST(BrewCardPdf, a_crowded_card_says_that_it_was_shortened_and_keeps_every_caution) {
  const CardOptions options = test::example_options();
  const PrintedCard printed = print(test::crowded_plan());
  EXPECT_TRUE(printed.is_shortened);
  const std::string text = text_of(printed.bytes);
  const BrewCard card = brew_card(test::crowded_plan(), options, test::example_catalogue());
  EXPECT_TRUE(has(text, card.shortened));
  EXPECT_TRUE(has(text, card.headline));
  for (const std::string& caution : card.cautions.lines) EXPECT_TRUE(has(text, caution)) << caution;
  for (const StepRow& step : card.steps) EXPECT_TRUE(has(text, step.clock)) << step.clock;
  for (const AmountRow& row : card.amounts) EXPECT_TRUE(has(text, row.kitchen)) << row.kitchen;
}

TEST(BrewCardPdf, an_ordinary_card_is_readable_at_arms_length) {
  for (const Language language : languages)
    EXPECT_GE(print(test::example_plan(), test::example_options(language)).body_size, 7.5);
}

TEST(BrewCardPdf, no_line_ends_between_a_figure_and_its_unit) {
  for (const Language language : languages) {
    const std::string text =
        test::poppler("pdftotext", "-raw FILE -", print(test::example_plan(), test::example_options(language)).bytes);
    EXPECT_FALSE(std::regex_search(text, std::regex("[a-z] [0-9.]+\n(mg|h|L|min|g)\\b|[a-z] [0-9.]+ mg/\n"))) << text;
  }
}

TEST(BrewCardPdf, prints_no_number_that_is_not_one) {
  for (const recipe::BrewPlan& plan : plans()) {
    const std::string text = " " + text_of(print(plan).bytes) + " ";
    for (const char* wrong : {" nan", "NaN", " inf ", "{", "cards."}) EXPECT_FALSE(has(text, wrong)) << wrong;
  }
}

TEST(BrewCardPdf, a_gap_is_drawn_as_a_gap) {
  recipe::BrewPlan plan = test::example_plan();
  for (std::size_t i = 16; i <= 32; ++i) plan.forecast.oxygen_mg_per_l.p50[i] = unset;
  const PrintedCard printed = print(plan);
  EXPECT_TRUE(has(text_of(printed.bytes), "gap"));  // in the table
  EXPECT_NE(printed.bytes, print(test::example_plan()).bytes);
}

TEST(NightSvg, says_in_words_what_it_shows_and_repeats_itself) {
  const auto draw = [] { return night_svg(test::example_plan(), test::example_options(), test::example_catalogue()); };
  const std::string first = draw();
  EXPECT_TRUE(has(first, "<title>Likely to go flat"));
  EXPECT_TRUE(has(first, "<desc>Lowest about Sat 19:00"));
  EXPECT_FALSE(has(first, "nan"));
  EXPECT_EQ(first, draw());
}

}  // namespace barm::cards
