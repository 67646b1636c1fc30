// A lot of the record as a plan takes it.
#include "operations/kept_garden.h"

namespace barm::operations {
namespace {

class LotTest : public KeptGarden {
 protected:
  std::string plan_lines(const std::string& toml) {
    const auto told = ask(compost_lot(), toml);
    EXPECT_TRUE(told.ok());
    return told.ok() ? (*told.answer)["plan_lines"].get<std::string>() : "";
  }
};

TEST_F(LotTest, made_by_worms_is_worm_compost_unless_another_kind_is_told) {
  add("compost_lot",
      "garden = \"Hillside\"\nname = \"Tray\"\norigin = \"made_here\"\nanimal_origin = \"none\"\nmethod = "
      "\"vermicompost\"");
  EXPECT_TRUE(plan_lines("lot = \"Tray\"").starts_with("[[compost]]\nkind = \"worm\"\n"));
  EXPECT_TRUE(plan_lines("lot = \"Tray\"\nkind = \"fungal\"").starts_with("[[compost]]\nkind = \"fungal\"\n"));
  EXPECT_TRUE(plan_lines("lot = \"Heap\"").starts_with("[[compost]]\nkind = \"mixed\"\n"));
  EXPECT_FALSE(ask(compost_lot(), "lot = \"Heap\"\nkind = \"peat\"").ok());
}

}  // namespace
}  // namespace barm::operations
