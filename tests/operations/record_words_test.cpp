// Every field, every choice and every fact of the record and the rules has its word in both languages.
#include "operations/record_words.h"

#include "operations/asking.h"
#include "rule/facts.h"
#include "rule/tea_class.h"

namespace barm::operations {
namespace {

TEST(Record_words, are_there_for_all_the_record_holds) {
  for (const records::Kind& kind : records::all_kinds().all()) {
    for (const records::Field& field : kind.fields) {
      if (field.type == records::Type::json || field.type == records::Type::image) continue;  // not told in a line
      EXPECT_TRUE(catalogue().has("records.word." + field.name)) << kind.name << " " << field.name;
      for (const std::string& word : field.choices) EXPECT_TRUE(catalogue().has("records.choice." + word)) << word;
    }
  }
}

TEST(Record_words, are_there_for_all_that_rules_ask) {
  for (const rule::FactKind& kind : rule::all_facts()) {
    for (const std::string& word : kind.words) EXPECT_TRUE(catalogue().has("rule.word." + word)) << word;
  }
  EXPECT_TRUE(catalogue().has("rule.word." + std::string(rule::word(rule::TeaStatus::undetermined))));
}

TEST(Record_words, stand_in_a_line_with_their_values) {
  const records::Kind& kind = *records::all_kinds().find("application");
  const records::Value spray = std::string("spray");
  std::string line;
  for (const auto language : {cards::Language::english, cards::Language::spanish}) {
    const Voice voice{.words = &catalogue(), .language = language};
    append_said(line, "method", value_text(*kind.field("method"), spray, "UTC", voice), voice);
  }
  EXPECT_EQ(line, "how: spray; cómo: a la hoja");
}

}  // namespace
}  // namespace barm::operations
