#include "serve/api.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>

#include "operations/reading.h"
#include "operations/registry.h"
#include "operations/schema.h"
#include "serve/files.h"
#include "serve/refusal.h"

namespace barm::serve {
namespace {

using operations::Json;
using operations::Operation;
using operations::Voice;

/// What a page in a browser should call the bytes, by the ending of the name it asked for.
std::string type_of(const std::string& name) {
  static const std::pair<const char*, const char*> types[] = {{".pdf", "application/pdf"},
                                                              {".ics", "text/calendar; charset=utf-8"},
                                                              {".csv", "text/csv; charset=utf-8"},
                                                              {".zip", "application/zip"},
                                                              {".json", "application/json"}};
  for (const auto& [ending, type] : types) {
    if (name.ends_with(ending)) return type;
  }
  return "application/octet-stream";
}

bool is_json(std::string_view type) {
  std::string low(type.substr(0, type.find(';')));
  std::transform(low.begin(), low.end(), low.begin(),
                 [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  while (low.ends_with(' ')) low.pop_back();
  return low == "application/json";
}

/// Customs of the query: for documents that do not tell their own.
Answer<Customs> customs_of(const Request& request) {
  Findings findings;
  Customs customs;
  const auto refuse = [&](const char* name, const std::string& given, const char* allowed) {
    findings.refuse({"operations.input.not_a_choice", name, {{"given", given}, {"allowed", std::string(allowed)}}});
  };
  const auto measures = request.parameter("measures");
  if (measures == "us") customs.measures = Measures::us;
  if (!measures.empty() && measures != "us" && measures != "metric") refuse("measures", measures, "metric, us");
  const auto gallon = request.parameter("gallon");
  if (gallon == "us") customs.gallon = Gallon::us;
  if (gallon == "imperial") customs.gallon = Gallon::imperial;
  if (!gallon.empty() && gallon != "us" && gallon != "imperial") refuse("gallon", gallon, "us, imperial");
  return std::move(findings).answer(customs);
}

Response refused_all(int status, const Remarks& refusals, const Voice& voice) {
  Json all = Json::array();
  for (const auto& why : refusals) all.push_back(operations::remark_json(why, voice));
  return json(status, {{"refusals", std::move(all)}});
}

Response told(const operations::Result& result, const Files& files, const Request& request) {
  if (!result.ok()) {
    Response response = json(result.world_failed() ? 503 : 400, operations::to_json(result));
    response.body = files.without_places(std::move(response.body));
    if (response.status == 503) response.headers.emplace_back("Retry-After", "2");
    return response;
  }
  if (files.downloads()) {
    const auto download = files.written();
    if (!download.ok()) return refused_all(503, download.refusals(), result.voice);
    return {.type = type_of(download->name),
            .headers = {{"Content-Disposition", "attachment; filename=\"" + download->name + "\""},
                        {"Cache-Control", "no-store"}},
            .body = download->content};
  }
  if (request.header("accept").starts_with("text/plain"))
    return {.type = "text/plain; charset=utf-8", .headers = {{"Cache-Control", "no-store"}}, .body = result.text};
  Json answer = operations::to_json(result);
  shorten(answer);
  return json(200, answer);
}

double rounded(double value, int digits) {
  return std::strtod(fmt::format("{:.{}g}", value, digits).c_str(), nullptr);
}

}  // namespace

const Operation* operation_at(const std::string& path) {
  for (const auto& operation : operations::all_operations()) {
    if (!operation.at_hand_only && operations::api_path(operation) == path) return &operation;
  }
  return nullptr;
}

Lane lane_of(const Operation& operation) {
  return operation.noun == "record" ? Lane::record : Lane::forecast;
}

bool wants_watching(const Request& request) {
  if (request.method != "POST" || !request.header("accept").starts_with("text/event-stream")) return false;
  const Operation* operation = operation_at(request.path);
  return operation != nullptr && lane_of(*operation) == Lane::forecast && is_json(request.header("content-type"));
}

void shorten(Json& json) {
  if (json.is_number_float()) json = rounded(json.get<double>(), 10);
  if (json.is_array()) {
    for (auto& item : json) {
      if (item.is_number_float()) item = rounded(item.get<double>(), 5);
    }
  }
  if (!json.is_structured()) return;
  for (auto& item : json) {
    if (item.is_structured() || (json.is_object() && item.is_number_float())) shorten(item);
  }
}

const std::string& Api::open_api(cards::Language language) const {
  Described& told = described_[language == cards::Language::spanish ? 1 : 0];
  std::call_once(told.once, [&] {
    told.text = operations::open_api(operations::all_operations(), *world_.words, language).dump();
  });
  return told.text;
}

Response Api::answer(const Request& request, const Watch& watch) const {
  const Voice voice{.words = world_.words, .language = language_of(request, language_)};
  if (request.path == "/api/openapi.json") {
    if (request.method == "GET" || request.method == "HEAD")
      return {.type = "application/json",
              .headers = {{"Cache-Control", "no-cache"}, {"Vary", "Accept-Language"}},
              .body = open_api(voice.language)};
    auto response = refused(
        405, {"serve.request.wrong_method", "", {{"given", request.method}, {"allowed", std::string("GET")}}}, voice);
    response.headers.emplace_back("Allow", "GET, HEAD");
    return response;
  }
  const Operation* operation = operation_at(request.path);
  if (operation == nullptr) {
    std::vector<std::string> known;
    for (const auto& one : operations::all_operations()) {
      if (!one.at_hand_only) known.push_back(operations::api_path(one));
    }
    std::map<std::string, Remark::Fact> facts{{"given", request.path.substr(0, 100)}};
    if (const auto near = operations::likely(request.path.substr(0, 100), known); !near.empty())
      facts.emplace("suggestion", near);
    return refused(404, {"serve.request.no_operation", "", std::move(facts)}, voice);
  }
  if (request.method != "POST") {
    auto response = refused(
        405, {"serve.request.wrong_method", "", {{"given", request.method}, {"allowed", std::string("POST")}}}, voice);
    response.headers.emplace_back("Allow", "POST");
    return response;
  }
  return asked(*operation, request, watch);
}

Response Api::asked(const Operation& operation, const Request& request, const Watch& watch) const {
  const Voice voice{.words = world_.words, .language = language_of(request, language_)};
  if (!is_json(request.header("content-type"))) {
    const std::string given(request.header("content-type").substr(0, 100));
    return refused(415, {"serve.request.not_json", "", {{"given", given.empty() ? "-" : given}}}, voice);
  }
  Findings findings;
  auto document = findings.take(operations::read_json(request.body));
  const auto customs = findings.take(customs_of(request));
  if (findings.refused()) return refused_all(400, findings.refusals(), voice);
  Files files(store_);
  findings.take(files.prepare(operation, *document));
  operations::Request ask{.document = std::move(*document), .language = voice.language, .customs = *customs};
  auto world = files.world(world_);
  world.progress = watch.progress;  // the terminal of the machine is not who asks
  world.should_stop = watch.should_stop;
  if (findings.refused()) {  // what else is wrong is told with it
    for (auto& why : operation.wrong_with(ask, world)) findings.refuse(std::move(why));
    auto response = refused_all(400, findings.refusals(), voice);
    response.body = files.without_places(std::move(response.body));
    return response;
  }
  return told(operation.ask(ask, world), files, request);
}

}  // namespace barm::serve
