#include "cards/columns.h"

#include <gtest/gtest.h>

namespace barm::cards {

TEST(Columns, an_accented_letter_takes_one_column_and_a_wide_one_two) {
  EXPECT_EQ(columns_of("sáb 04:10"), 9);
  EXPECT_EQ(columns_of("░▒━"), 3);
  EXPECT_EQ(columns_of("e\xCC\x81"), 1);     // e and a combining accent
  EXPECT_EQ(columns_of("\xE6\xA5\xBD"), 2);  // one East Asian letter
}

TEST(Columns, no_wrapped_line_is_wider_than_asked_and_no_word_is_lost) {
  const auto lines = wrap("a longlonglongword  and some short ones", 8);
  std::string joined;
  for (const std::string& line : lines) {
    EXPECT_LE(columns_of(line), 8) << line;
    for (const char c : line)
      if (c != ' ') joined += c;
  }
  EXPECT_EQ(joined, "alonglonglongwordandsomeshortones");
}

TEST(Columns, a_word_of_many_bytes_is_never_cut_inside_a_letter) {
  for (const std::string& line : wrap("ñandúñandúñandú", 4)) EXPECT_EQ(clean(line), line);
}

TEST(Columns, padding_counts_columns_not_bytes) {
  EXPECT_EQ(pad_right("sáb", 5), "sáb  ");
  EXPECT_EQ(pad_left("sáb", 5), "  sáb");
  EXPECT_EQ(pad_left("too long", 3), "too long");
}

TEST(Columns, text_from_outside_cannot_steer_a_terminal) {
  EXPECT_EQ(clean("a\x1b[31mb"), "a [31mb");
  EXPECT_EQ(clean("a\nb\tc"), "a b c");
  EXPECT_EQ(clean("bad \xFF byte"), "bad ? byte");
  EXPECT_EQ(clean("overlong \xC0\xAF"), "overlong ??");
  EXPECT_EQ(clean("turned \xE2\x80\xAE round"), "turned   round");  // right-to-left override
  EXPECT_EQ(clean("té, 楽"), "té, 楽");
}

}  // namespace barm::cards
