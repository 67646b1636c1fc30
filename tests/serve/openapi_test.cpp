// The OpenAPI document held to a form of its own, and answers held to their schemas, by a validator that is not ours.
// Form: tests/serve/openapi_form.json, written from the OpenAPI Specification 3.1.0 (4.8), as far as we use it.
#include <valijson/adapters/nlohmann_json_adapter.hpp>
#include <valijson/schema.hpp>
#include <valijson/schema_parser.hpp>
#include <valijson/validator.hpp>

#include "operations/registry.h"
#include "operations/schema.h"
#include "serve/serving.h"

namespace barm::serve {
namespace {

using Plain = nlohmann::json;

/// What is wrong with a document by a schema; empty when nothing is.
std::string wrong_with(const Plain& document, const Plain& form) {
  valijson::Schema schema;
  valijson::SchemaParser parser;
  valijson::adapters::NlohmannJsonAdapter form_adapter(form), adapter(document);
  parser.populateSchema(form_adapter, schema);
  valijson::ValidationResults results;
  valijson::Validator validator;
  if (validator.validate(schema, adapter, &results)) return {};
  std::string text;
  valijson::ValidationResults::Error error;
  while (results.popError(error)) {
    for (const auto& part : error.context) text += part;
    text += ": " + error.description + "\n";
  }
  return text;
}

Plain api() {
  return Plain::parse(operations::open_api(operations::all_operations(), *machine().words).dump());
}

/// The validator holds null to a format, which by JSON Schema (validation, 7.1) is only for text: where null is
/// allowed the format is taken out.
void spare_null(Plain& schema) {
  if (!schema.is_structured()) return;
  if (schema.is_object() && schema.contains("format") && schema["type"].is_array()) schema.erase("format");
  for (auto& part : schema) spare_null(part);
}

/// A schema of the document, with the parts it refers to beside it.
Plain schema_at(const Plain& document, const std::string& path, const char* status) {
  const Plain& post = document["paths"][path]["post"];
  Plain schema = status == nullptr ? post["requestBody"]["content"]["application/json"]["schema"]
                                   : post["responses"][status]["content"]["application/json"]["schema"];
  schema["components"] = document["components"];
  spare_null(schema);
  return schema;
}

TEST(OpenApi, the_document_has_the_form_of_3_1) {
  const Plain form = Plain::parse(content(std::string(BARM_SERVE_TESTS_DIR) + "/openapi_form.json"));
  EXPECT_EQ(wrong_with(api(), form), "");
  Plain broken = api();
  broken["paths"]["/api/water/oxygen"]["post"].erase("responses");
  EXPECT_NE(wrong_with(broken, form), "");
  broken = api();
  broken["paths"]["api/water"] = Plain::object();
  EXPECT_NE(wrong_with(broken, form), "");
}

TEST(OpenApi, answers_hold_to_their_schemas) {
  const Serving serving;
  const Plain document = api();
  const auto held = [&](const std::string& path, const Json& body) {
    const auto reply = post(serving, path, body);
    EXPECT_EQ(reply.status, 200) << path << reply.body;
    EXPECT_EQ(wrong_with(Plain::parse(reply.body), schema_at(document, path, "200")), "") << path;
    EXPECT_EQ(wrong_with(Plain::parse(body.dump()), schema_at(document, path, nullptr)), "") << path;
    return reply.json();
  };
  held("/api/water/oxygen", {{"temperature", "20 degC"}});
  held("/api/brew/plan", sample_plan());
  held("/api/brew/forecast", sample_plan());
  held("/api/brew/judge", {{"smell", "earthy"}, {"oxygen", "7 mg/L"}});
  held("/api/record/add-garden", {{"name", "A"}, {"zone", "Europe/London"}});
  held("/api/record/add-vessel", {{"name", "Bucket"}, {"garden", "A"}, {"volume", "19 L"}});
  held("/api/record/add-brew", {{"name", "Night"},
                                {"garden", "A"},
                                {"vessel", "Bucket"},
                                {"volume", "19 L"},
                                {"air_on_at", "2026-05-15T18:30:00+01:00"},
                                {"plan", sample_plan().dump()}});
  held("/api/record/add-reading", {{"brew", "Night"}, {"at", "2026-05-15T22:30:00+01:00"}, {"oxygen", "8 mg/L"}});
  held("/api/brew/day", {{"brew", "Night"}, {"at", "2026-05-15T23:00:00+01:00"}});
  held("/api/record/list", {{"kind", "reading"}});
  held("/api/record/brew", {{"id", "Night"}});
  held("/api/record/live", Json::object());
  held("/api/record/verify", Json::object());
}

TEST(OpenApi, refusals_hold_to_their_schema) {
  const Serving serving;
  const Plain document = api();
  Plain form = document["components"]["schemas"]["Refusals"];
  form["components"] = document["components"];
  for (const auto& reply : {post(serving, "/api/brew/plan", Json::object()),
                            post(serving, "/api/nothing/here", Json::object()), ask(serving, "GET", "/nowhere"),
                            ask(serving, "PUT", "/"), ask(serving, "GET", "/", "", "Host: evil.example\r\n")}) {
    EXPECT_GE(reply.status, 400);
    EXPECT_EQ(wrong_with(Plain::parse(reply.body), form), "") << reply.body;
  }
}

}  // namespace
}  // namespace barm::serve
