// What must hold for every operation, whatever it asks.
#include "operations/registry.h"

#include <fstream>
#include <functional>
#include <set>
#include <sstream>

#include "operations/asking.h"
#include "operations/help.h"
#include "operations/schema.h"

namespace barm::operations {
namespace {

void each(const std::vector<AnswerField>& fields, const std::function<void(const AnswerField&)>& look) {
  for (const auto& field : fields) {
    look(field);
    each(field.inside, look);
  }
}
void each(const std::vector<InputField>& fields, const std::function<void(const InputField&)>& look) {
  for (const auto& field : fields) {
    look(field);
    each(field.columns, look);
  }
}

TEST(Registry, every_field_has_its_meaning_in_both_languages) {
  for (const auto& operation : all_operations()) {
    EXPECT_TRUE(catalogue().has(operation.code())) << operation.code();
    each(operation.inputs, [](const InputField& field) { EXPECT_TRUE(catalogue().has(field.code)) << field.code; });
    each(operation.answer, [](const AnswerField& field) { EXPECT_TRUE(catalogue().has(field.code)) << field.code; });
  }
}

TEST(Registry, no_help_lies_unused) {
  const std::string prefix = "operations.help.";
  std::set<std::string> used, nouns;
  for (const auto& operation : all_operations()) {
    used.insert(operation.code());
    nouns.insert(operation.noun);
    each(operation.inputs, [&](const InputField& field) { used.insert(field.code); });
    each(operation.answer, [&](const AnswerField& field) { used.insert(field.code); });
  }
  for (const auto& code : catalogue().codes()) {
    const auto noun =
        code.starts_with(prefix) ? code.substr(prefix.size(), code.find('.', prefix.size()) - prefix.size()) : "";
    const bool of_an_operation = nouns.contains(noun);
    if (!of_an_operation) continue;
    EXPECT_TRUE(used.contains(code)) << code;
  }
}

TEST(Registry, every_sample_is_accepted_by_its_own_field) {
  for (const auto& operation : all_operations()) {
    each(operation.inputs, [&](const InputField& field) {
      Findings findings;
      Reading reading({}, findings);
      switch (field.kind) {
        case Kind::quantity:
        case Kind::number:
          reading.quantity(field, field.sample, field.name);
          break;
        case Kind::amount:
          reading.amount(field, field.sample, field.name);
          break;
        case Kind::whole:
          reading.whole(field, field.sample, field.name);
          break;
        case Kind::choice:
          reading.choice(field, field.sample, field.name);
          break;
        case Kind::instant:
          reading.instant(field, field.sample, field.name);
          break;
        case Kind::zone:
          reading.zone(field, field.sample, field.name);
          break;
        case Kind::list:
          if (field.item == Kind::whole) {
            reading.list(field, field.sample, field.name, &Reading::whole);
          } else {
            reading.list(field, field.sample, field.name, &Reading::quantity);
          }
          break;
        default:
          break;
      }
      EXPECT_FALSE(findings.refused()) << operation.name() << " " << field.name << " " << field.sample;
    });
  }
}

TEST(Registry, an_empty_document_is_answered_or_refused_by_field) {
  for (const auto& operation : all_operations()) {
    const auto result = operation.ask({}, world_with());
    if (result.world_failed()) continue;  // nothing was needed, and the world holds no record to answer from
    const auto required = std::count_if(operation.inputs.begin(), operation.inputs.end(),
                                        [](const auto& field) { return field.required; });
    EXPECT_GE(result.refusals.size(), static_cast<std::size_t>(required)) << operation.name();
    for (const auto& why : result.refusals) EXPECT_NE(why.field, "") << operation.name();
    if (required > 0) {
      EXPECT_EQ(result.refusals.size(), static_cast<std::size_t>(required)) << operation.name();
    }
  }
}

TEST(Registry, help_and_schema_speak_of_every_field) {
  for (const auto& operation : all_operations()) {
    const auto help = help_operation(operation, Voice{.words = &catalogue(), .language = cards::Language::spanish});
    for (const auto& field : operation.inputs) {
      const auto name = field.kind == Kind::rows ? field.sample : option_name(field);
      EXPECT_NE(help.find(name), std::string::npos) << name;
    }
  }
}

/// Holds a schema to the form of JSON Schema 2020-12 as far as we use it: known types, properties that are schemas,
/// required names that exist.
void expect_schema(const Json& schema) {
  static const std::set<std::string> types = {"object", "array", "string", "number", "integer", "boolean", "null"};
  ASSERT_TRUE(schema.is_object()) << schema;
  if (schema.contains("$ref")) {
    EXPECT_EQ(schema["$ref"], "#/components/schemas/Remark");
    return;
  }
  ASSERT_TRUE(schema.contains("type")) << schema;
  for (const auto& type : schema["type"].is_array() ? schema["type"] : Json::array({schema["type"]})) {
    EXPECT_TRUE(types.contains(type.get<std::string>())) << schema;
  }
  if (schema["type"] == "array") expect_schema(schema.at("items"));
  if (schema["type"] != "object") return;
  for (const auto& [name, property] : schema.at("properties").items()) expect_schema(property);
  if (!schema.contains("required")) return;
  for (const auto& name : schema["required"])
    EXPECT_TRUE(schema["properties"].contains(name.get<std::string>())) << name;
}

TEST(Registry, the_open_api_is_well_formed) {
  const Json api = open_api(all_operations(), catalogue());
  EXPECT_EQ(api["openapi"], "3.1.0");
  expect_schema(api["components"]["schemas"]["Remark"]);
  std::set<std::string> ids;
  for (const auto& operation : all_operations()) {
    EXPECT_EQ(api["paths"].contains(api_path(operation)), !operation.at_hand_only) << operation.name();
    if (operation.at_hand_only) continue;
    const Json& post = api["paths"][api_path(operation)]["post"];
    EXPECT_TRUE(ids.insert(post["operationId"].get<std::string>()).second) << operation.name();
    EXPECT_EQ(post["operationId"].get<std::string>().find_first_of(" -"), std::string::npos);
    EXPECT_EQ(post["tags"], Json({operation.noun}));
    expect_schema(post["requestBody"]["content"]["application/json"]["schema"]);
    const Json& content = post["responses"]["200"]["content"];
    if (content.contains("application/json")) expect_schema(content["application/json"]["schema"]);
    EXPECT_FALSE(content.empty());
  }
}

TEST(Registry, the_api_has_no_field_that_names_a_record) {
  for (const auto& operation : all_operations())
    EXPECT_FALSE(input_schema(operation, catalogue())["properties"].contains("store")) << operation.name();
}

TEST(Registry, the_schema_carries_needs_choices_and_bounds) {
  const Json water = input_schema(water_oxygen(), catalogue());
  EXPECT_EQ(water["required"], Json({"temperature"}));
  EXPECT_EQ(water["properties"]["temperature"]["type"], "string");
  EXPECT_EQ(water["properties"]["salinity"]["type"], Json({"string", "number"}));
  EXPECT_EQ(water["properties"]["altitude"]["x-most"], 11000.0);
  EXPECT_EQ(water["allOf"].size(), 1u);
  EXPECT_EQ(input_schema(air_supply(), catalogue())["properties"]["diffuser"]["enum"].size(), 3u);
}

TEST(Registry, an_answer_has_the_keys_its_description_promises) {
  Request request{.document = document("temperature = \"20 degC\"")};
  const auto result = water_oxygen().ask(request, world_with());
  ASSERT_TRUE(result.ok());
  const Json json = to_json(result);
  const Json promised = answer_schema(water_oxygen(), catalogue())["required"];
  for (const auto& name : promised) EXPECT_TRUE(json.contains(name.get<std::string>())) << name;
  EXPECT_EQ(json.size(), 3u);
}

TEST(Registry, a_refusal_in_a_file_names_its_line) {
  Request request{.document = document("salinity = 0\ntemprature = \"20 degC\"\n")};
  const Json json = to_json(water_oxygen().ask(request, world_with()));
  ASSERT_EQ(json["refusals"].size(), 2u);
  EXPECT_EQ(json["refusals"][1]["line"], 2);
  EXPECT_EQ(json["refusals"][1]["suggestion"], "temperature");
  EXPECT_FALSE(json["refusals"][0].contains("line"));
}

TEST(Registry, a_missing_file_is_the_worlds_failure) {
  Request request{.document = document("readings = \"absent.csv\"")};
  EXPECT_TRUE(air_test().ask(request, world_with()).world_failed());
  const auto wrong = air_test().ask(request, world_with({{"absent.csv", "a,b\n"}}));
  EXPECT_FALSE(wrong.ok());
  EXPECT_FALSE(wrong.world_failed());
}

TEST(Registry, the_reference_page_is_fresh) {
  std::ifstream in(std::string(BARM_DOCS_DIR) + "/operations/reference.md");
  std::stringstream page;
  page << in.rdbuf();
  EXPECT_TRUE(page.str() == reference_page(all_operations(), catalogue()))
      << "stale: barm help --reference > docs/operations/reference.md";
}

}  // namespace
}  // namespace barm::operations
