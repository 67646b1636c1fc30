// In which words and measures an answer is told.
#pragma once

#include <cstdint>
#include <optional>
#include <string>

#include "cards/catalogue.h"
#include "operations/document.h"

namespace barm::operations {

struct Voice {
  const cards::Catalogue* words = nullptr;
  cards::Language language = cards::Language::english;
  Customs customs{};

  std::string say(const Remark& remark) const { return words->text(remark, language, customs); }
  std::string say(const std::string& code, std::map<std::string, Remark::Fact> facts = {}) const {
    return say(Remark{code, "", std::move(facts)});
  }
  std::string next(const Remark& remark) const { return words->next(remark, language, customs); }
};

/// An instant with the zone whose clock tells it.
struct Moment {
  std::int64_t at = 0;  // milliseconds UTC
  std::string zone{};
};

/// {code, field, given, allowed, suggestion, text, next}: keys without a value are left out, but for code, field and
/// text.
Json remark_json(const Remark& remark, const Voice& voice);

/// "from 0 °C to 60 °C", "at least 1 L": what a refusal accepts, or its fact `allowed`; empty when it tells neither.
std::string allowed_text(const Remark& remark, const Voice& voice);

}  // namespace barm::operations
