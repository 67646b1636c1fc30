// What is known of a tea and where it goes, for rules to ask about. What is not known is not there: never a default.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "quantity/dimension.h"

namespace barm::rule {

/// One thing a rule may ask about. What each means, in words: "operations.help.rule.check.<name>".
struct FactKind {
  std::string name{};
  Dimension dimension = Dimension::number;  // of a number, in the unit of `unit_inside`
  std::vector<std::string> words{};         // accepted; empty: a number
  std::string per{};                        // of a count of germs: what it is told per ("g", "100 mL")
  std::string sample{};                     // one good value, as written
  double least = 0.0, most = 1e9;           // of a number
  bool derived = false;                     // worked out from others, never asked for
  bool is_number() const { return words.empty(); }
};

/// Every fact, in the order of the work: lot, water, recipe, brew, bed, harvest.
const std::vector<FactKind>& all_facts();
const FactKind* fact_kind(std::string_view name);

/// Numbers in the unit of the fact's dimension (durations in hours), words as `FactKind::words` has them.
class Facts {
 public:
  void set(const std::string& name, double value) { numbers_[name] = value; }
  void set(const std::string& name, std::string word) { words_[name] = std::move(word); }
  void forget(const std::string& name) {
    numbers_.erase(name);
    words_.erase(name);
  }
  std::optional<double> number(const std::string& name) const;
  /// Nothing when not known.
  std::optional<std::string> word(const std::string& name) const;
  bool knows(const std::string& name) const { return number(name).has_value() || word(name).has_value(); }
  bool says(const std::string& name, std::string_view what) const { return word(name) == what; }

 private:
  std::map<std::string, double> numbers_;
  std::map<std::string, std::string> words_;
};

}  // namespace barm::rule
