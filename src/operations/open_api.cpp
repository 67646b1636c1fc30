// The operations as an OpenAPI 3.1 document. What a server adds to them (statuses, customs, downloads, events) is
// described here as well.
#include <algorithm>
#include <set>

#include "operations/schema.h"

namespace barm::operations {
namespace {

Json reference(const char* kind, const char* name) {
  return {{"$ref", std::string("#/components/") + kind + "/" + name}};
}

Json json_body(Json schema) {
  return {{"application/json", {{"schema", std::move(schema)}}}};
}

bool takes(const Operation& operation, Kind kind) {
  return std::any_of(operation.inputs.begin(), operation.inputs.end(),
                     [&](const InputField& field) { return field.kind == kind; });
}

/// Whether every answer is a download: a file to write is needed.
bool always_downloads(const Operation& operation) {
  return std::any_of(operation.inputs.begin(), operation.inputs.end(),
                     [](const InputField& field) { return field.kind == Kind::file_written && field.required; });
}

Json answered(const Operation& operation, const cards::Catalogue& words, const Voice& voice) {
  Json content = Json::object();
  if (!always_downloads(operation)) {
    content = json_body(answer_schema(operation, words, voice.language));
    content["text/plain"] = {{"schema", {{"type", "string"}}}};
  }
  if (takes(operation, Kind::file_written))
    content["application/octet-stream"] = {{"schema", {{"type", "string"}, {"contentEncoding", "binary"}}}};
  return {{"description", voice.say("operations.help.word.answer_body")}, {"content", std::move(content)}};
}

Json post_of(const Operation& operation, const cards::Catalogue& words, const Voice& voice) {
  Json post = {
      {"operationId", operation.noun + "_" + operation.verb},
      {"tags", {operation.noun}},
      {"summary", voice.say(operation.code())},
      {"parameters",
       {reference("parameters", "Language"), reference("parameters", "Measures"), reference("parameters", "Gallon")}},
      {"requestBody", {{"required", true}, {"content", json_body(input_schema(operation, words, voice.language))}}}};
  post["responses"] = {{"200", answered(operation, words, voice)},
                       {"400", reference("responses", "Refused")},
                       {"503", reference("responses", "Failed")},
                       {"default", reference("responses", "Otherwise")}};
  return post;
}

Json refusals_response(const Voice& voice, const char* code) {
  return {{"description", voice.say(code)}, {"content", json_body(reference("schemas", "Refusals"))}};
}

Json query(const char* name, Json choices, const Voice& voice, const char* code) {
  return {{"name", name},
          {"in", "query"},
          {"description", voice.say(code)},
          {"schema", {{"type", "string"}, {"enum", std::move(choices)}}}};
}

Json components(const Voice& voice) {
  const Json language = {{"name", "Accept-Language"},
                         {"in", "header"},
                         {"description", voice.say("operations.help.word.language")},
                         {"schema", {{"type", "string"}, {"default", "en"}, {"examples", {"en", "es"}}}}};
  Json refusals = {{"type", "object"},
                   {"properties", {{"refusals", {{"type", "array"}, {"items", reference("schemas", "Remark")}}}}},
                   {"required", {"refusals"}},
                   {"additionalProperties", false}};
  return {{"schemas", {{"Remark", remark_schema()}, {"Refusals", std::move(refusals)}}},
          {"parameters",
           {{"Language", language},
            {"Measures", query("measures", {"metric", "us"}, voice, "operations.help.word.measures")},
            {"Gallon", query("gallon", {"us", "imperial"}, voice, "operations.help.word.gallon")}}},
          {"responses",
           {{"Refused", refusals_response(voice, "operations.help.word.refused")},
            {"Failed", refusals_response(voice, "operations.help.word.failed")},
            {"Otherwise", refusals_response(voice, "operations.help.word.otherwise_refused")}}}};
}

Json text_query(const char* name, const Voice& voice, const char* code) {
  return {{"name", name}, {"in", "query"}, {"description", voice.say(code)}, {"schema", {{"type", "string"}}}};
}

Json events(const Voice& voice) {
  const Json last = {{"name", "Last-Event-ID"},
                     {"in", "header"},
                     {"description", voice.say("operations.help.word.last_event")},
                     {"schema", {{"type", "string"}}}};
  Json get = {{"operationId", "events"},
              {"tags", {"events"}},
              {"summary", voice.say("operations.help.word.events")},
              {"parameters",
               {last, text_query("kind", voice, "operations.help.word.events_kind"),
                text_query("about", voice, "operations.help.word.events_about"),
                text_query("after", voice, "operations.help.word.last_event")}}};
  get["responses"] = {{"200",
                       {{"description", voice.say("operations.help.word.events")},
                        {"content", {{"text/event-stream", {{"schema", {{"type", "string"}}}}}}}}},
                      {"default", reference("responses", "Otherwise")}};
  return {{"get", std::move(get)}};
}

}  // namespace

std::string api_path(const Operation& operation) {
  std::string verb = operation.verb;
  std::replace(verb.begin(), verb.end(), '_', '-');
  return "/api/" + operation.noun + "/" + verb;
}

Json open_api(const std::vector<Operation>& operations, const cards::Catalogue& words, cards::Language language) {
  const Voice voice{.words = &words, .language = language};
  Json paths = Json::object();
  Json tags = Json::array();
  std::set<std::string> nouns;
  for (const auto& operation : operations) {
    if (operation.at_hand_only) continue;
    if (nouns.insert(operation.noun).second) tags.push_back({{"name", operation.noun}});
    paths[api_path(operation)] = {{"post", post_of(operation, words, voice)}};
  }
  tags.push_back({{"name", "events"}});
  paths["/api/events"] = events(voice);
  return {{"openapi", "3.1.0"},
          {"info",
           {{"title", "barm"},
            {"version", BARM_VERSION},
            {"summary", voice.say("operations.help.barm_api")},
            {"license", {{"name", "see LICENSE"}}}}},
          {"servers", {{{"url", "/"}}}},
          {"tags", std::move(tags)},
          {"paths", std::move(paths)},
          {"components", components(voice)}};
}

}  // namespace barm::operations
