#include "operations/schema.h"

namespace barm::operations {
namespace {

Json object_of(Json properties) {
  return {{"type", "object"}, {"properties", std::move(properties)}, {"additionalProperties", false}};
}

Json inputs_of(const std::vector<InputField>& fields, const Voice& voice);

/// In a request a file is its text, or the name a download is to have.
std::string file_told(const InputField& field, const Voice& voice) {
  if (field.kind == Kind::file_read) return " " + voice.say("operations.help.word.file_read");
  if (field.kind == Kind::file_written) return " " + voice.say("operations.help.word.file_written");
  return {};
}

/// One value of a list, with the limits that hold for each.
Json item_of(const InputField& field) {
  Json schema = Json::object();
  schema["type"] = field.item == Kind::whole      ? Json({"integer", "string"})
                   : field.item == Kind::quantity ? Json("string")
                                                  : Json({"number", "string"});
  if (field.item == Kind::quantity) schema["x-unit"] = unit_inside(field.dimension);
  return schema;
}

Json input_of(const InputField& field, const Voice& voice) {
  Json schema = Json::object();
  switch (field.kind) {
    case Kind::quantity:
    case Kind::amount:
      schema["type"] = field.bare_unit.empty() ? Json("string") : Json({"string", "number"});
      if (field.kind == Kind::quantity) schema["x-unit"] = unit_inside(field.dimension);
      break;
    case Kind::number:
      schema["type"] = {"number", "string"};
      break;
    case Kind::whole:
      schema["type"] = {"integer", "string"};
      break;
    case Kind::flag:
      schema["type"] = "boolean";
      break;
    case Kind::choice:
      schema["type"] = "string";
      schema["enum"] = field.choices;
      break;
    case Kind::instant:
      schema["type"] = "string";
      schema["format"] = "date-time";
      break;
    case Kind::rows:
      schema["type"] = "array";
      schema["items"] = inputs_of(field.columns, voice);
      break;
    case Kind::list:
      schema["type"] = {"array", "string"};
      schema["items"] = item_of(field);
      break;
    case Kind::text:
    case Kind::zone:
    case Kind::file_read:
    case Kind::file_written:
    case Kind::store:
      schema["type"] = "string";
      break;
  }
  schema["description"] = voice.say(field.code) + file_told(field, voice);
  if (field.kind != Kind::rows && field.kind != Kind::flag) schema["examples"] = {field.sample};
  if (!field.otherwise.empty() && field.kind != Kind::whole) schema["default"] = field.otherwise;
  Json& limited = field.kind == Kind::list ? schema["items"] : schema;
  if (field.limits.least) limited[field.limits.above ? "x-above" : "x-least"] = *field.limits.least;
  if (field.limits.most) limited["x-most"] = *field.limits.most;
  return schema;
}

void require(Json& schema, const std::string& name) {
  Json& all = schema["required"];
  if (all.is_null()) all = Json::array();
  for (const auto& known : all) {
    if (known == name) return;
  }
  all.push_back(name);
}

Json inputs_of(const std::vector<InputField>& fields, const Voice& voice) {
  Json schema = object_of(Json::object());
  for (const auto& field : fields) {
    if (field.kind == Kind::store) continue;  // a server has its own
    Json* at = &schema;
    std::string_view rest = field.name;
    for (auto dot = rest.find('.'); dot != std::string_view::npos; dot = rest.find('.')) {
      const std::string table(rest.substr(0, dot));
      if (field.required) require(*at, table);
      Json& inside = (*at)["properties"][table];
      if (inside.is_null()) inside = object_of(Json::object());
      at = &inside;
      rest.remove_prefix(dot + 1);
    }
    if (field.required) require(*at, std::string(rest));
    (*at)["properties"][std::string(rest)] = input_of(field, voice);
  }
  return schema;
}

}  // namespace

Json remark_schema() {
  Json properties = Json::object();
  for (const char* key : {"code", "field", "given", "allowed", "suggestion", "text", "next"})
    properties[key] = {{"type", "string"}};
  properties["line"] = {{"type", "integer"}};
  Json schema = object_of(std::move(properties));
  schema["required"] = {"code", "field", "text"};
  return schema;
}

namespace {

Json answers_of(const std::vector<AnswerField>& fields, const Voice& voice);

Json remark_reference() {
  return {{"$ref", "#/components/schemas/Remark"}};
}

Json answer_of(const AnswerField& field, const Voice& voice) {
  Json schema = Json::object();
  const Json number = {{"type", {"number", "null"}}};
  switch (field.kind) {
    case Told::number:
      schema = number;
      break;
    case Told::whole:
      schema["type"] = "integer";
      break;
    case Told::text:
      schema["type"] = "string";
      break;
    case Told::flag:
      schema["type"] = "boolean";
      break;
    case Told::choice:
      schema = {{"type", "string"}, {"enum", field.choices}};
      break;
    case Told::instant:
      schema = {{"type", {"string", "null"}}, {"format", "date-time"}};
      break;
    case Told::series:
      schema = {{"type", "array"}, {"items", number}};
      break;
    case Told::texts:
      schema = {{"type", "array"}, {"items", {{"type", "string"}}}};
      break;
    case Told::remarks:
      schema = {{"type", "array"}, {"items", remark_reference()}};
      break;
    case Told::object:
      schema = answers_of(field.inside, voice);
      break;
    case Told::list:
      schema = {{"type", "array"}, {"items", answers_of(field.inside, voice)}};
      break;
  }
  schema["description"] = voice.say(field.code);
  if (!field.unit.empty()) schema["x-unit"] = field.unit;
  return schema;
}

Json answers_of(const std::vector<AnswerField>& fields, const Voice& voice) {
  Json properties = Json::object();
  Json required = Json::array();
  for (const auto& field : fields) {
    properties[field.name] = answer_of(field, voice);
    required.push_back(field.name);
  }
  Json schema = object_of(std::move(properties));
  schema["required"] = std::move(required);
  return schema;
}

}  // namespace

Json input_schema(const Operation& operation, const cards::Catalogue& words, cards::Language language) {
  Json schema = inputs_of(operation.inputs, Voice{.words = &words, .language = language});
  Json none_together = Json::array();
  for (const auto& alternatives : operation.alternatives) {
    for (std::size_t i = 0; i < alternatives.names.size(); ++i) {
      for (std::size_t j = i + 1; j < alternatives.names.size(); ++j) {
        none_together.push_back({{"not", {{"required", {alternatives.names[i], alternatives.names[j]}}}}});
      }
    }
  }
  if (!none_together.empty()) schema["allOf"] = std::move(none_together);
  return schema;
}

Json answer_schema(const Operation& operation, const cards::Catalogue& words, cards::Language language) {
  Json schema = answers_of(operation.answer, Voice{.words = &words, .language = language});
  schema["properties"]["doubts"] = {{"type", "array"}, {"items", remark_reference()}};
  schema["required"].push_back("doubts");
  return schema;
}

}  // namespace barm::operations
