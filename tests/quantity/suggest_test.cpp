#include "quantity/suggest.h"

#include <gtest/gtest.h>

namespace barm {
namespace {

TEST(Slips, are_counted_once_each) {
  // Textbook pairs, from memory: Damerau 1964 counts a swap of neighbours as one slip; "kitten" to "sitting" takes
  // three.
  EXPECT_EQ(slips_between("kitten", "sitting"), 3u);
  EXPECT_EQ(slips_between("abcd", "acbd"), 1u);
  EXPECT_EQ(slips_between("ca", "abc"), 3u);  // optimal string alignment; the unrestricted count would be 2
  EXPECT_EQ(slips_between("", "abc"), 3u);
  EXPECT_EQ(slips_between("Max-Depth", "max_depth"), 0u);
}

TEST(LikelySpelling, offers_the_nearest_and_nothing_far) {
  const std::vector<std::string> keys{"volume", "temperature", "free_chlorine", "chloramine"};
  EXPECT_EQ(likely_spelling("temprature", keys), "temperature");
  EXPECT_EQ(likely_spelling("free chlorine", keys), "free_chlorine");
  EXPECT_EQ(likely_spelling("Volumes", keys), "volume");
  EXPECT_EQ(likely_spelling("vloume", keys), "volume");
  EXPECT_EQ(likely_spelling("depth", keys), "");
  EXPECT_EQ(likely_spelling("", keys), "");
  EXPECT_EQ(likely_spelling("v", keys), "");
  EXPECT_EQ(likely_spelling("volume", {}), "");
  EXPECT_EQ(likely_spelling(std::string(100000, 'v'), keys), "");
}

}  // namespace
}  // namespace barm
