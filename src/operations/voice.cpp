#include "operations/voice.h"

namespace barm::operations {
namespace {

std::string fact_text(const Remark& remark, const std::string& name, const Voice& voice) {
  const auto at = remark.facts.find(name);
  if (at == remark.facts.end()) return {};
  if (const auto* text = std::get_if<std::string>(&at->second)) return *text;
  return write(std::get<Quantity>(at->second), voice.customs);
}

}  // namespace

std::string allowed_text(const Remark& remark, const Voice& voice) {
  if (auto allowed = fact_text(remark, "allowed", voice); !allowed.empty()) return allowed;
  const bool least = remark.facts.contains("least");
  const bool most = remark.facts.contains("most");
  if (least && most) return voice.say("operations.range.between", remark.facts);
  if (least) {
    return voice.say(
        remark.code == "operations.input.not_above" ? "operations.range.above" : "operations.range.at_least",
        remark.facts);
  }
  return most ? voice.say("operations.range.at_most", remark.facts) : std::string();
}

Json remark_json(const Remark& remark, const Voice& voice) {
  Json json = {{"code", remark.code}, {"field", remark.field}};
  const auto put = [&](const char* key, std::string text) {
    if (!text.empty()) json[key] = std::move(text);
  };
  put("given", fact_text(remark, "given", voice));
  put("allowed", allowed_text(remark, voice));
  put("suggestion", fact_text(remark, "suggestion", voice));
  json["text"] = voice.say(remark);
  put("next", voice.next(remark));
  return json;
}

}  // namespace barm::operations
