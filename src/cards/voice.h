// How a card speaks: the words of the catalogue in one language and one garden's measures, with hours told on its
// clock.
#pragma once

#include <cstdint>
#include <map>
#include <string>
#include <string_view>

#include "cards/catalogue.h"
#include "quantity/answer.h"
#include "quantity/text.h"

namespace barm::cards {

class Voice {
 public:
  struct About {
    std::string zone;  // IANA name; the caller has made sure that it exists
    Language language = Language::english;
    Customs customs;
    std::int64_t start_at = 0;  // air on, milliseconds UTC
  };
  using Facts = std::map<std::string, Remark::Fact>;

  Voice(const Catalogue& catalogue, About about) : catalogue_(&catalogue), about_(std::move(about)) {}

  /// A word or sentence of the cards' own: the entry "cards.<key>".
  std::string label(std::string_view key, Facts facts = {}) const;
  bool has_label(std::string_view key) const;
  /// Whether the catalogue has words for a code.
  bool knows(std::string_view code) const;

  /// What somebody else has to say, and what to do about it (empty when nothing). Each fact that is a time since air on
  /// ("after") can also be told on the clock ("after_clock"); in Spanish a fact "food_es" stands for "food".
  std::string say(const Remark& remark) const;
  std::string next(const Remark& remark) const;

  /// An hour of the brew on the garden's clock: "Sat 04:10". Unknown is said in words.
  std::string clock(double at_h) const;
  /// The same hour from air on: "+9 h", "−24 h", "hour 0".
  std::string from_start(double at_h) const;
  /// How long something lasts: minutes, hours or days.
  std::string lasting(double duration_h) const;
  /// A probability as people count: "34 of 100", "fewer than 1 of 100". Unknown is said in words.
  std::string odds(double probability) const;
  /// A quantity in the garden's measures; unknown is said in words.
  std::string amount(double value, Dimension dimension, int significant = 2) const;
  /// Counts of living things: "2.1 billion", in words since nobody reads 2.1e9 aloud.
  std::string many(double count) const;

  std::int64_t start_at() const { return about_.start_at; }
  Language language() const { return about_.language; }
  const Customs& customs() const { return about_.customs; }

 private:
  Remark told(const Remark& remark) const;

  const Catalogue* catalogue_;
  About about_;
};

}  // namespace barm::cards
