#include "operations/operation.h"

#include <fmt/format.h>

#include <algorithm>

#include "quantity/fold.h"

namespace barm::operations {
namespace {

void give_codes(std::vector<AnswerField>& fields, const std::string& prefix) {
  for (auto& field : fields) {
    field.code = prefix + "." + field.name;
    give_codes(field.inside, field.code);
  }
}

void give_codes(std::vector<InputField>& fields, const std::string& prefix) {
  for (auto& field : fields) {
    field.code = prefix + "." + field.name;
    give_codes(field.columns, field.code);
  }
}

}  // namespace

std::string Operation::name() const {
  std::string words = noun + " " + verb;
  std::replace(words.begin(), words.end(), '_', ' ');
  return words;
}

void give_codes(Operation& operation) {
  std::string words = operation.code();
  if (!operation.words_of.empty()) {
    words = "operations.help." + operation.words_of;
    std::replace(words.begin(), words.end(), ' ', '.');
  }
  give_codes(operation.inputs, words);
  give_codes(operation.answer, words + ".answer");
}

Remarks fit_to_tell(Remarks remarks) {
  for (auto& remark : remarks)
    for (auto& [name, fact] : remark.facts)
      if (auto* text = std::get_if<std::string>(&fact)) *text = whole_characters(*text);
  return remarks;
}

void share_meanings(std::vector<AnswerField>& answer, const std::string& name, std::string code) {
  expects(code.ends_with('.'), "the codes below one");
  code.pop_back();
  for (auto& field : answer) {
    if (field.name == name) give_codes(field.inside, code);
  }
}

std::string number_text(double value, Dimension dimension, const std::string& unit, const Voice& voice) {
  if (!std::isfinite(value)) return voice.say("operations.told.unknown");
  if (dimension != Dimension::number || unit.empty()) return write({value, dimension}, voice.customs);
  return fmt::format("{:.3g} {}", value, unit);
}

std::string answer_line(const AnswerField& field, const std::string& said, const Voice& voice) {
  return fmt::format("{}: {}\n", voice.say(field.code), said);
}

bool Result::world_failed() const {
  return !ok() && std::all_of(refusals.begin(), refusals.end(), is_world_failure);
}

Json to_json(const Result& result) {
  const auto all = [&](const Remarks& remarks) {
    Json list = Json::array();
    for (const auto& remark : remarks) {
      Json json = remark_json(remark, result.voice);
      if (const auto place = result.places.find(remark.field); place != result.places.end())
        json["line"] = place->second.line;
      list.push_back(std::move(json));
    }
    return list;
  };
  if (!result.ok()) return {{"refusals", all(result.refusals)}};
  Json json = *result.answer;
  json["doubts"] = all(result.doubts);
  return json;
}

Remarks retarget(Remarks remarks, const std::map<std::string, std::string>& fields) {
  for (auto& remark : remarks) {
    if (const auto to = fields.find(remark.field); to != fields.end()) remark.field = to->second;
  }
  return remarks;
}

}  // namespace barm::operations
