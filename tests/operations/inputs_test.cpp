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
  std::vector<double> lengths_m;
  std::vector<std::int64_t> tubes;
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
  all.list("lengths", at(&In::lengths_m), Dimension::length, "2 mm,3 mm").above(0.0);
  all.wholes("tubes", at(&In::tubes), "3,3").least(1).most(10);
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

TEST(Inputs, a_list_is_a_text_or_an_array) {
  const std::string water = "water.volume = \"1 L\"\n";
  for (const char* text : {"tubes = \"3, 5\"", "tubes = [3, 5]", "tubes = [\"3\", 5]", "tubes = \"3;5\""}) {
    const auto [in, refusals] = read((water + text).c_str());
    EXPECT_TRUE(refusals.empty()) << text;
    EXPECT_EQ(in.tubes, (std::vector<std::int64_t>{3, 5})) << text;
  }
  const auto [in, refusals] = read((water + "lengths = \"2,5 mm; 3 mm\"\ntubes = 4").c_str());
  EXPECT_TRUE(refusals.empty());  // with semicolons a comma is a decimal mark
  ASSERT_EQ(in.lengths_m.size(), 2u);
  EXPECT_NEAR(in.lengths_m[0], 0.0025, 1e-15);
  EXPECT_EQ(in.tubes, (std::vector<std::int64_t>{4}));
}

TEST(Inputs, each_wrong_value_of_a_list_is_named_by_its_place) {
  const std::string water = "water.volume = \"1 L\"\n";
  const auto why = [&](const std::string& text) { return read((water + text).c_str()).refusals; };
  EXPECT_TRUE(has(why("tubes = \"3,11\""), "operations.input.outside", "tubes[2]"));
  EXPECT_TRUE(why("tubes = \"1,10\"").empty());
  const auto both = why("tubes = [0, 3, 2.5]");
  EXPECT_TRUE(has(both, "operations.input.outside", "tubes[1]"));
  EXPECT_TRUE(has(both, "operations.input.wrong_kind", "tubes[3]"));
  EXPECT_EQ(both.size(), 2u);
  EXPECT_TRUE(has(why("tubes = \"3,,4\""), "operations.list.gap", "tubes[2]"));
  EXPECT_TRUE(has(why("tubes = \"3,\""), "operations.list.gap", "tubes[2]"));
  EXPECT_TRUE(has(why("tubes = []"), "operations.input.empty", "tubes"));
  EXPECT_TRUE(has(why("tubes = \"\""), "operations.input.empty", "tubes"));
  EXPECT_TRUE(has(why("tubes = true"), "operations.input.wrong_kind", "tubes"));
  EXPECT_TRUE(has(why("lengths = \"2 mm,3\""), "operations.input.unit_missing", "lengths[2]"));
  EXPECT_TRUE(has(why("lengths = [\"0 mm\"]"), "operations.input.not_above", "lengths[1]"));
  std::string many = "1";
  for (int i = 1; i < 1000; ++i) many += ",1";
  EXPECT_TRUE(why("tubes = \"" + many + "\"").empty());
  EXPECT_TRUE(has(why("tubes = \"" + many + ",1\""), "operations.list.too_long", "tubes"));
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
