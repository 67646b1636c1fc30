#include "operations/inputs.h"

#include "operations/asking.h"

namespace barm::operations {
namespace {

enum class Shape { round, square };
struct Row {
  std::string name;
  Amount amount;
};
struct In {
  Customs customs;
  double volume_l = unset;
  double salinity_g_per_kg = 0.0;
  Shape shape = Shape::round;
  int members_count = 256;
  std::int64_t start_at = 0;
  std::string zone;
  bool is_open = false;
  bool was_told = false;
  std::vector<Row> rows;
};

Inputs<In> inputs() {
  Inputs<In> all;
  all.quantity("water.volume", at(&In::volume_l), Dimension::volume, "19 L").required().above(0.0).most(1000.0);
  all.quantity("water.salinity", at(&In::salinity_g_per_kg), Dimension::salinity, "0")
      .least(0.0)
      .bare("g/kg")
      .marks([](In& in) { in.was_told = true; });
  all.choice("shape", at(&In::shape), Choices<Shape>{{"round", Shape::round}, {"square", Shape::square}});
  all.whole("members", at(&In::members_count), "256").least(16).most(1000);
  all.instant("start", at(&In::start_at), "2026-05-02T18:00:00-05:00");
  all.zone("zone", at(&In::zone), "America/Bogota");
  all.flag("open", at(&In::is_open));
  all.choice("gallon", at(&In::customs, &Customs::gallon),
             Choices<Gallon>{{"us", Gallon::us}, {"imperial", Gallon::imperial}})
      .early();
  all.customs(at(&In::customs));
  Inputs<Row> row;
  row.text("name", at(&Row::name), "kelp meal").required();
  row.amount("amount", at(&Row::amount), "4 tsp").required().above(0.0);
  all.rows("food", at(&In::rows), row);
  return all;
}

struct Read {
  In in;
  Remarks refusals;
};

Read read(const char* toml) {
  Findings findings;
  Reading reading({}, findings);
  const auto in = inputs().read(document(toml).tree, reading);
  return {in, findings.refusals()};
}

TEST(Inputs, a_whole_document_fills_the_struct) {
  const auto [in, refusals] = read(R"(
shape = "square"
members = 64
start = 2026-05-02T18:00:00-05:00
zone = "America/Bogota"
open = true
gallon = "us"
[water]
volume = "5 gal"
salinity = 1.5
[[food]]
name = "kelp meal"
amount = "4 tsp"
[[food]]
name = "humic acid"
amount = "20 g"
)");
  EXPECT_TRUE(refusals.empty());
  EXPECT_NEAR(in.volume_l, 18.927, 0.001);  // 5 US gal, S63: the garden's own word decides before the volume is read
  EXPECT_EQ(in.salinity_g_per_kg, 1.5);
  EXPECT_TRUE(in.was_told);
  EXPECT_EQ(in.shape, Shape::square);
  EXPECT_EQ(in.members_count, 64);
  EXPECT_EQ(in.start_at, 1'777'762'800'000);  // date -u -d 2026-05-02T23:00:00Z +%s
  EXPECT_EQ(in.zone, "America/Bogota");
  EXPECT_TRUE(in.is_open);
  ASSERT_EQ(in.rows.size(), 2u);
  EXPECT_EQ(in.rows[1].amount.measured, (Quantity{20.0, Dimension::mass}));
}

TEST(Inputs, every_wrong_field_is_named_at_once) {
  const auto refusals = read(R"(
shape = "sqare"
members = 2.5
start = 2026-05-02T18:00:00
zone = "America/Bogotá"
open = "perhaps"
lenght = "20 h"
[water]
volume = 19
salinty = 3
[food]
name = "kelp meal"
)")
                            .refusals;
  EXPECT_TRUE(has(refusals, "operations.input.not_a_choice", "shape"));
  EXPECT_TRUE(has(refusals, "operations.input.wrong_kind", "members"));
  EXPECT_TRUE(has(refusals, "operations.instant.no_offset", "start"));
  EXPECT_TRUE(has(refusals, "operations.input.no_such_zone", "zone"));
  EXPECT_TRUE(has(refusals, "operations.input.not_a_choice", "open"));
  EXPECT_TRUE(has(refusals, "operations.input.unknown_field", "lenght"));
  EXPECT_TRUE(has(refusals, "operations.input.unit_missing", "water.volume"));
  EXPECT_TRUE(has(refusals, "operations.input.unknown_field", "water.salinty"));
  EXPECT_TRUE(has(refusals, "operations.input.not_rows", "food"));
  EXPECT_EQ(refusals.size(), 9u);
}

TEST(Inputs, both_sides_of_each_bound) {
  EXPECT_TRUE(read("water.volume = \"1000 L\"").refusals.empty());
  EXPECT_TRUE(has(read("water.volume = \"1001 L\"").refusals, "operations.input.outside", "water.volume"));
  EXPECT_TRUE(has(read("water.volume = \"0 L\"").refusals, "operations.input.not_above", "water.volume"));
  EXPECT_TRUE(read("water.volume = \"1 mL\"").refusals.empty());
  EXPECT_TRUE(read("members = 16\nwater.volume = \"1 L\"").refusals.empty());
  EXPECT_TRUE(has(read("members = 15\nwater.volume = \"1 L\"").refusals, "operations.input.outside", "members"));
}

TEST(Inputs, numbers_that_cannot_be_measured_are_refused) {
  EXPECT_TRUE(has(read("water.volume = \"1 L\"\nwater.salinity = inf").refusals, "operations.input.not_finite",
                  "water.salinity"));
  EXPECT_TRUE(has(read("water.volume = \"1 L\"\nwater.salinity = nan").refusals, "operations.input.not_finite",
                  "water.salinity"));
  EXPECT_FALSE(read("water.volume = \"1e999 L\"").refusals.empty());
}

TEST(Inputs, rows_are_counted_from_one) {
  const auto refusals = read(
                            "water.volume = \"1 L\"\n[[food]]\nname = \"kelp meal\"\namount = \"4 "
                            "tsp\"\n[[food]]\nnome = \"x\"\namount = \"0 g\"\n")
                            .refusals;
  EXPECT_TRUE(has(refusals, "operations.input.missing", "food[2].name"));
  EXPECT_TRUE(has(refusals, "operations.input.unknown_field", "food[2].nome"));
  EXPECT_TRUE(has(refusals, "operations.input.not_above", "food[2].amount"));
  EXPECT_EQ(refusals.size(), 3u);
}

TEST(Inputs, a_key_in_the_wrong_group_is_led_home) {
  const auto refusals = read("volume = \"1 L\"\nwater = \"tap\"\n").refusals;
  ASSERT_TRUE(has(refusals, "operations.input.unknown_field", "volume"));
  ASSERT_TRUE(has(refusals, "operations.input.not_a_table", "water"));
  for (const auto& refusal : refusals) {
    if (refusal.field != "volume") continue;
    EXPECT_EQ(std::get<std::string>(refusal.facts.at("suggestion")), "water.volume");
  }
}

TEST(Inputs, every_refusal_has_words) {
  for (const auto language : {cards::Language::english, cards::Language::spanish}) {
    const Voice voice{.words = &catalogue(), .language = language};
    const auto all = read(
                         "shape = 3\nmembers = \"many\"\nstart = \"x\"\nzone = \"x\"\nopen = 2\nfoo = 1\nfood = "
                         "1\nwater.volume = true\nwater.salinity = \"-1\"")
                         .refusals;
    for (const auto& refusal : all) EXPECT_FALSE(voice.say(refusal).empty());
    EXPECT_EQ(all.size(), 9u);
  }
}

}  // namespace
}  // namespace barm::operations
