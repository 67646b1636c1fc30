// Every code the room can emit has its words in both languages, and every word belongs to a code.
#include <gtest/gtest.h>

#include <fstream>
#include <set>
#include <string>

#include "data/embedded.h"
#include "quantity/dimension.h"

namespace barm {
namespace {

std::set<std::string> emitted() {
  std::set<std::string> out{"quantity.text.empty",
                            "quantity.text.too_long",
                            "quantity.text.unreadable",
                            "quantity.number.missing",
                            "quantity.number.missing_before_unit",
                            "quantity.number.unreadable",
                            "quantity.number.unclear",
                            "quantity.number.not_finite",
                            "quantity.unit.missing",
                            "quantity.unit.not_wanted",
                            "quantity.unit.unknown",
                            "quantity.unit.misspelt",
                            "quantity.unit.unclear",
                            "quantity.unit.not_known",
                            "quantity.unit.target_unclear",
                            "quantity.sum.unclear",
                            "quantity.range.not_wanted",
                            "quantity.range.reversed",
                            "quantity.kitchen.too_small",
                            "quantity.kitchen.too_large",
                            "quantity.kitchen.not_finite"};
  for (std::size_t i = 1; i < dimension_count; ++i)
    out.insert("quantity.measures." + std::string(dimension_key(static_cast<Dimension>(i))));
  return out;
}

TEST(Messages, every_code_has_words_in_both_languages) {
  const std::string all(data::file("messages/quantity.toml"));
  ASSERT_FALSE(all.empty());
  std::set<std::string> written;
  for (std::size_t at = 0; (at = all.find("\n[\"", at)) != std::string::npos; ++at) {
    const std::string code = all.substr(at + 3, all.find("\"]", at) - at - 3);
    const std::string entry = all.substr(at, all.find("\n[\"", at + 1) - at);
    written.insert(code);
    for (const char* key : {"\nkind = \"refusal\"", "\nen = \"", "\nes = \"", "\nnext_en = \"", "\nnext_es = \""})
      EXPECT_NE(entry.find(key), std::string::npos) << code << " lacks" << key;
  }
  EXPECT_EQ(written, emitted());
}

}  // namespace
}  // namespace barm
