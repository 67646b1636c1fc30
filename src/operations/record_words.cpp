#include "operations/record_words.h"

#include <fmt/format.h>

#include "cards/local_time.h"
#include "operations/outputs.h"

namespace barm::operations {

using records::Type;

std::string field_word(const std::string& field, const Voice& voice) {
  return voice.say("records.word." + field);
}

std::string choice_word(const std::string& word, const Voice& voice) {
  return voice.say("records.choice." + word);
}

std::string value_text(const records::Field& field, const records::Value& value, const std::string& zone,
                       const Voice& voice) {
  if (const auto* number = std::get_if<double>(&value)) return number_text(*number, field.dimension, "", voice);
  if (const auto* text = std::get_if<std::string>(&value))
    return field.type == Type::choice ? choice_word(*text, voice) : *text;
  const auto whole = std::get<std::int64_t>(value);
  if (field.type == Type::instant) return cards::iso_text(whole, zone);
  return voice.say(whole != 0 ? "operations.told.yes" : "operations.told.no");
}

void append_said(std::string& text, const std::string& field, const std::string& value, const Voice& voice) {
  text += fmt::format("{}{}: {}", text.empty() ? "" : "; ", field_word(field, voice), value);
}

}  // namespace barm::operations
