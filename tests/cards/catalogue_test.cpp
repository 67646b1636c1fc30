#include "cards/catalogue.h"

#include <gtest/gtest.h>

namespace barm::cards {
namespace {

constexpr const char* two_entries = R"(
["water.test.warm"]
kind = "doubt"
en = "{field} is {given}.[ Did you mean {suggestion}?]"
es = "{field} es {given}.[ ¿Quiso decir {suggestion}?]"
next_en = "Measure again."
next_es = "Mida otra vez."
["water.test.plain"]
kind = "note"
en = "Plain."
es = "Simple."
)";

TEST(Catalogue, facts_fill_the_words_of_each_language) {
  const auto words = Catalogue::read({two_entries});
  const Remark remark{"water.test.warm", "water.temperature", {{"given", std::string("hot")}}};
  EXPECT_EQ(words.text(remark, Language::english), "water.temperature is hot.");
  EXPECT_EQ(words.text(remark, Language::spanish), "water.temperature es hot.");
  EXPECT_EQ(words.next(remark, Language::spanish), "Mida otra vez.");
  EXPECT_EQ(words.next({"water.test.plain", "", {}}, Language::english), "");
  EXPECT_EQ(words.kind("water.test.plain"), "note");
}

TEST(Catalogue, a_spanish_fact_stands_in_for_its_english_one_in_spanish_only) {
  const auto words = Catalogue::read({two_entries});
  const Remark remark{"water.test.warm", "f", {{"given", std::string("kelp")}, {"given_es", std::string("algas")}}};
  EXPECT_EQ(words.text(remark, Language::english), "f is kelp.");
  EXPECT_EQ(words.text(remark, Language::spanish), "f es algas.");
}

constexpr const char* named_things = R"(
["records.kind.compost_lot"]
kind = "label"
en = "Compost lot"
es = "Lote de composta"
["records.kind.observation"]
kind = "label"
en = "Observation"
es = "Observación"
["records.test.none"]
kind = "refusal"
en = "No {kind:records.kind} is called {given}."
es = "{kind:records.kind} no tiene {given}."
["records.test.choice"]
kind = "refusal"
en = "Type one of: {kind+records.kind}."
es = "Escriba uno de estos: {kind+records.kind}."
)";

TEST(Catalogue, what_code_knows_by_a_name_is_told_in_words) {
  const auto words = Catalogue::read({named_things});
  const auto of = [](const char* code, const char* kinds) {
    return Remark{code, "", {{"given", std::string("x")}, {"kind", std::string(kinds)}}};
  };
  EXPECT_EQ(words.text(of("records.test.none", "compost_lot"), Language::english), "No compost lot is called x.");
  EXPECT_EQ(words.text(of("records.test.none", "compost_lot"), Language::spanish), "Lote de composta no tiene x.");
  EXPECT_EQ(words.text(of("records.test.none", "observation, compost_lot"), Language::spanish),
            "Observación o lote de composta no tiene x.");
  EXPECT_EQ(words.text(of("records.test.none", "compost_lot, observation"), Language::spanish),
            "Lote de composta u observación no tiene x.");
  EXPECT_EQ(words.text(of("records.test.none", "thing_of_tomorrow"), Language::english),
            "No thing_of_tomorrow is called x.");
  EXPECT_EQ(words.text(of("records.test.choice", "compost_lot, thing"), Language::spanish),
            "Escriba uno de estos: compost_lot (lote de composta), thing.");
}

TEST(Catalogue, a_bracketed_part_needs_its_fact) {
  const auto words = Catalogue::read({two_entries});
  const Remark remark{"water.test.warm", "f", {{"given", std::string("hot")}, {"suggestion", std::string("20 degC")}}};
  EXPECT_EQ(words.text(remark, Language::english), "f is hot. Did you mean 20 degC?");
}

TEST(Catalogue, quantities_are_told_in_the_gardens_measures) {
  const auto words = Catalogue::read({two_entries});
  const Remark remark{"water.test.warm", "f", {{"given", Quantity{20.0, Dimension::temperature}}}};
  const auto us = words.text(remark, Language::english, {.gallon = Gallon::us, .measures = Measures::us});
  EXPECT_NE(us.find("68"), std::string::npos) << us;
}

TEST(Catalogue, our_own_slips_are_broken_promises) {
  const auto words = Catalogue::read({two_entries});
  EXPECT_THROW(words.text({"water.test.absent", "", {}}, Language::english), BrokenPromise);
  EXPECT_THROW(words.text({"water.test.warm", "f", {}}, Language::english), BrokenPromise);
  EXPECT_THROW(Catalogue::read({two_entries, two_entries}), BrokenPromise);
  EXPECT_THROW(Catalogue::read({"[\"a.b\"]\nkind = \"note\"\nen = \"Only English\"\n"}), BrokenPromise);
  EXPECT_THROW(Catalogue::read({"not toml"}), BrokenPromise);
}

TEST(Catalogue, the_carried_one_is_whole) {
  EXPECT_FALSE(Catalogue::embedded().codes().empty());
}

TEST(Catalogue, minutes_are_told_as_a_watch_shows_them) {
  EXPECT_DOUBLE_EQ(as_told({8.97 / 60.0, Dimension::duration}).value, 9.0 / 60.0);
  EXPECT_DOUBLE_EQ(as_told({1.5 / 60.0, Dimension::duration}).value, 1.5 / 60.0);
  EXPECT_DOUBLE_EQ(as_told({12.345, Dimension::duration}).value, 12.345);
  EXPECT_DOUBLE_EQ(as_told({0.1495, Dimension::volume}).value, 0.1495);
}

}  // namespace
}  // namespace barm::cards
