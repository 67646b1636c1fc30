#include "water/dechlorinator.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <string>

#include "support/published.h"

namespace barm::water {
namespace {

// S23: doses printed to five significant digits, so half a unit in the fifth; S24: the field table's own figures.
TEST(dechlorinator, doses_agree_with_the_published_rows) {
  int seen = 0;
  for (const auto& row : test::published("water_dechlorination_dose.csv")) {
    SCOPED_TRACE(row.text("chemical") + " " + row.text("basis"));
    const auto all = dechlorinators();
    const auto found =
        std::find_if(all.begin(), all.end(), [&](const auto& each) { return each.name == row.text("chemical"); });
    ASSERT_NE(found, all.end());
    if (row.text("basis") == "stoichiometric") {
      const std::string told = "moles_per_mole_cl2=";
      ASSERT_EQ(row.text("note").rfind(told, 0), 0u);
      EXPECT_DOUBLE_EQ(found->moles_per_mole_chlorine, std::stod(row.text("note").substr(told.size())));
      EXPECT_NEAR(stoichiometric_mg_per_mg(*found), row.number("dose"), row.number("dose") < 1.0 ? 0.000006 : 0.00006);
    } else {
      EXPECT_EQ(row.text("basis"), "field_results_table_ph7");
      EXPECT_DOUBLE_EQ(found->field_mg_per_mg, row.number("dose"));
    }
    ++seen;
  }
  EXPECT_EQ(seen, 17);
}

// What people measured in the field is never less than what the molecules need, except where they may stop half way.
TEST(dechlorinator, field_doses_are_not_below_stoichiometry) {
  int compared = 0;
  for (const Dechlorinator& chemical : dechlorinators()) {
    const double least = stoichiometric_mg_per_mg(chemical);
    if (!(least > 0.0) || !(chemical.field_mg_per_mg > 0.0)) continue;
    EXPECT_GE(chemical.field_mg_per_mg, least) << chemical.name;
    ++compared;
  }
  EXPECT_EQ(compared, 5);
  EXPECT_GT(sodium_thiosulfate.field_mg_per_mg, stoichiometric_mg_per_mg(thiosulfate_to_sulfate));
  EXPECT_LT(sodium_thiosulfate.field_mg_per_mg, stoichiometric_mg_per_mg(thiosulfate_to_tetrathionate));
}

}  // namespace
}  // namespace barm::water
