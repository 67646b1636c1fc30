// docs/validation.md is what the program prints today.
#include "brew/validation/validation.h"

#include <gtest/gtest.h>

#include <fstream>
#include <sstream>

namespace barm::test {
namespace {

TEST(validation, the_page_is_what_the_model_says_today) {
  std::ifstream in(std::string(BARM_DOCS_DIR) + "/validation.md");
  std::stringstream page;
  page << in.rdbuf();
  EXPECT_EQ(page.str(), validation_page()) << "stale: build/release/tests/brew/validation_report > docs/validation.md";
}

}  // namespace
}  // namespace barm::test
