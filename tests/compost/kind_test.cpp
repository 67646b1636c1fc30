#include "compost/kind.h"

#include <gtest/gtest.h>

#include <fstream>
#include <set>
#include <sstream>

#include "quantity/data_entry.h"
#include "compost/names.h"
#include "data/embedded.h"
#include "support/published.h"

namespace barm::compost {
namespace {

const Kinds& shipped() {
  static const Kinds kinds = Kinds::read(data::file("composts.toml"));
  return kinds;
}

std::set<std::string> source_keys() {
  std::ifstream in(std::string(BARM_DOCS_DIR) + "/sources.md");
  std::set<std::string> keys;
  for (std::string line; std::getline(in, line);) {
    if (line.rfind("| ", 0) == 0) keys.insert(line.substr(2, line.find(" |", 2) - 2));
  }
  return keys;
}

// The eight figures of a kind as text, so that a single one can be broken.
std::string entry_with(const std::string& dry_matter) {
  std::string text = "[[compost]]\nid = \"x\"\nenglish = \"x\"\nspanish = \"x\"\n" + dry_matter + "\n";
  for (const char* line : {"volatile_solids|share", "bacteria|cells/g", "fungi|ug/g", "protozoa|1/g", "nitrogen|mg/g",
                           "carbon|mg COD/g", "uptake|mg/(g h)", "bulk_density|g/mL"}) {
    const std::string pair = line;
    const std::size_t bar = pair.find('|');
    text += pair.substr(0, bar) + " = { value = 0.5, low = 0.4, high = 0.6, unit = \"" + pair.substr(bar + 1) +
            "\", source = \"memory\" }\n";
  }
  return text;
}

TEST(kinds_of_compost, are_the_four_a_plan_may_name) {
  const Kinds& kinds = shipped();
  for (const char* id : {"bacterial", "fungal", "mixed", "worm"}) {
    ASSERT_TRUE(kinds.find(id).ok()) << id;
    EXPECT_EQ((*kinds.find(id))->id, id);
  }
  EXPECT_EQ(kinds.kinds().size(), 4u);
}

TEST(kinds_of_compost, have_both_languages_and_known_sources) {
  const auto keys = source_keys();
  ASSERT_GT(keys.size(), 50u);
  for (const Kind& kind : shipped().kinds()) {
    EXPECT_FALSE(kind.english.empty());
    EXPECT_FALSE(kind.spanish.empty());
    EXPECT_NE(kind.english, kind.spanish);
    std::stringstream sources(kind.source);
    for (std::string key; std::getline(sources, key, ',');) {
      if (key.front() == ' ') key.erase(0, 1);
      EXPECT_TRUE(keys.contains(key)) << kind.id << " cites " << key;
    }
  }
}

// source: tests/published/compost_priors.csv, all rows. k_ext, eff_B and eff_F are shares of extraction and belong to
// the brew, not to a kind. Tolerance: none, the figures are copied.
TEST(mixed_compost, equals_the_priors_of_the_model) {
  const Kinds& kinds = shipped();
  const Kind& mixed = **kinds.find("mixed");
  const std::map<std::string, Kind::Spread> ours = {
      {"SOUR20", mixed.uptake_mg_per_g_vs_h}, {"cells", mixed.bacteria_per_g},    {"fung", mixed.fungi_ug_per_g},
      {"prot", mixed.protozoa_per_g},         {"N_ext", mixed.nitrogen_mg_per_g}, {"C_ext", mixed.carbon_mg_cod_per_g},
      {"DM", mixed.dry_matter_share},         {"VS", mixed.volatile_share}};
  std::size_t checked_count = 0;
  for (const auto& row : test::published("compost_priors.csv")) {
    const std::string& symbol = row.text("symbol");
    if (symbol == "k_ext" || symbol == "eff_B" || symbol == "eff_F") continue;
    ASSERT_TRUE(ours.contains(symbol)) << symbol;
    EXPECT_DOUBLE_EQ(ours.at(symbol).middle, row.number("default")) << symbol;
    EXPECT_DOUBLE_EQ(ours.at(symbol).low, row.number("low")) << symbol;
    EXPECT_DOUBLE_EQ(ours.at(symbol).high, row.number("high")) << symbol;
    ++checked_count;
  }
  EXPECT_EQ(checked_count, ours.size());
}

TEST(kinds_of_compost, differ_the_way_their_names_say) {
  const Kinds& kinds = shipped();
  const Kind& bacterial = **kinds.find("bacterial");
  const Kind& fungal = **kinds.find("fungal");
  const Kind& mixed = **kinds.find("mixed");
  EXPECT_GT(fungal.fungi_ug_per_g.middle, mixed.fungi_ug_per_g.middle);
  EXPECT_LT(bacterial.fungi_ug_per_g.middle, mixed.fungi_ug_per_g.middle);
  EXPECT_GT(bacterial.bacteria_per_g.middle, mixed.bacteria_per_g.middle);
  EXPECT_LT(fungal.nitrogen_mg_per_g.middle, mixed.nitrogen_mg_per_g.middle);
}

TEST(an_unknown_kind, is_refused_with_the_likely_spelling) {
  const auto answer = shipped().find("fungle");
  ASSERT_FALSE(answer.ok());
  const Remark& why = answer.refusals().front();
  EXPECT_EQ(why.code, "compost.kind.unknown");
  EXPECT_EQ(std::get<std::string>(why.facts.at("suggestion")), "fungal");
  EXPECT_EQ(std::get<std::string>(why.facts.at("given")), "fungle");
  EXPECT_FALSE(shipped().find("").ok());
  EXPECT_FALSE(shipped().find("zzzzzzzz").refusals().front().facts.contains("suggestion"));
}

TEST(a_kind, is_found_in_capitals_and_in_spanish) {
  EXPECT_TRUE(shipped().find(" Worm ").ok());
  EXPECT_TRUE(shipped().find("humus de lombriz").ok());
}

TEST(a_broken_data_file, is_our_fault_and_names_the_entry) {
  const std::string good = "dry_matter = { value = 0.5, low = 0.4, high = 0.6, unit = \"share\", source = \"memory\" }";
  EXPECT_NO_THROW(Kinds::read(entry_with(good)));
  for (const char* bad :
       {"", "dry_matter = 0.5",
        "dry_matter = { value = 0.3, low = 0.4, high = 0.6, unit = \"share\", source = \"memory\" }",
        "dry_matter = { value = 0.5, low = 0.4, high = 0.6, unit = \"g\", source = \"memory\" }",
        "dry_matter = { value = 0.5, low = 0.4, high = 0.6, unit = \"share\" }",
        "dry_matter = { value = 0.5, low = 0.0, high = 0.6, unit = \"share\", source = \"memory\" }",
        "dry_matter = { value = nan, low = 0.4, high = 0.6, unit = \"share\", source = \"memory\" }",
        "dry_matter = { value = 0.5, low = 0.4, high = 1.0, unit = \"share\", source = \"memory\" }"}) {
    EXPECT_THROW(Kinds::read(entry_with(bad)), BrokenPromise) << bad;
  }
  EXPECT_THROW(Kinds::read(entry_with(good) + entry_with(good)), BrokenPromise);  // one id twice
  EXPECT_THROW(Kinds::read("not toml ["), BrokenPromise);
  EXPECT_THROW(Kinds::read(""), BrokenPromise);
  try {
    Kinds::read(entry_with(""));
  } catch (const BrokenPromise& broken) {
    EXPECT_STREQ(broken.what(), "composts.toml: x: dry_matter is missing");
  }
}

TEST(a_plain_name, forgets_case_hyphens_and_outer_blanks) {
  EXPECT_EQ(plain_name("  Dry-Kelp__meal "), "dry kelp meal");
}

TEST(the_nearest_name, is_found_by_letters_then_by_word_or_not_at_all) {
  const std::vector<std::string> known = {"blackstrap molasses", "kelp meal", "humic acid"};
  EXPECT_EQ(nearest_name("blackstrap mollases", known), "blackstrap molasses");
  EXPECT_EQ(nearest_name("kelp", known), "kelp meal");
  EXPECT_EQ(nearest_name("unicorn dust", known), "");
  EXPECT_EQ(nearest_name(std::string(100000, 'x'), known), "");
}

}  // namespace
}  // namespace barm::compost
