// Short words to describe fields with; used by the tables of kinds only.
#pragma once

#include "records/kind.h"

namespace barm::records {

inline Field text(std::string name, std::string sample) {
  return {.name = std::move(name), .type = Type::text, .sample = std::move(sample)};
}
inline Field choice(std::string name, std::vector<std::string> choices) {
  Field field{.name = std::move(name), .type = Type::choice, .sample = choices.front()};
  field.choices = std::move(choices);
  return field;
}
inline Field zone(std::string name, std::string sample) {
  return {.name = std::move(name), .type = Type::zone, .sample = std::move(sample)};
}
inline Field number(std::string name, Dimension dimension, std::string sample) {
  return {.name = std::move(name), .type = Type::number, .dimension = dimension, .sample = std::move(sample)};
}
inline Field flag(std::string name) {
  return {.name = std::move(name), .type = Type::flag, .sample = "true"};
}
inline Field instant(std::string name) {
  return {.name = std::move(name), .type = Type::instant, .sample = "2026-05-02T18:00:00-05:00"};
}
inline Field date(std::string name) {
  return {.name = std::move(name), .type = Type::date, .sample = "2026-05-02"};
}
inline Field json(std::string name, std::string sample) {
  return {.name = std::move(name), .type = Type::json, .sample = std::move(sample)};
}
inline Field image(std::string name) {
  return {.name = std::move(name), .type = Type::image, .sample = "@foam.jpg"};
}
inline Field ref(std::string name, std::vector<std::string> kinds) {
  return {.name = std::move(name),
          .type = Type::reference,
          .sample = "019f2a4e-7c00-7123-8abc-0123456789ab",
          .refers_to = std::move(kinds)};
}

}  // namespace barm::records
