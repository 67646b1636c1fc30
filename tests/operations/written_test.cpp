// Files that an operation writes.
#include "operations/kept_garden.h"

namespace barm::operations {
namespace {

class WrittenTest : public KeptGarden {};

// A folder that holds a table of last year is no place to stop in half-way.
TEST_F(WrittenTest, tables_are_written_all_or_none) {
  world_.may_write = [&](const std::string& name, std::string_view) { return !name.ends_with("bed.csv"); };
  const auto refused = ask(record_export(), "form = \"csv\"\nfile = \"tables\"");
  ASSERT_FALSE(refused.ok());
  EXPECT_EQ(refused.refusals.size(), 1u);
  EXPECT_TRUE(has(refused.refusals, "records.world.taken", "file"));
  EXPECT_TRUE(files_.empty());
  world_.may_write = nullptr;
  EXPECT_TRUE(ask(record_export(), "form = \"csv\"\nfile = \"tables\"").ok());
  EXPECT_GT(files_.size(), 4u);
}

}  // namespace
}  // namespace barm::operations
