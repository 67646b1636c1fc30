// A rule as data: when it speaks, what it asks, and how far its text was read. Form of the files: docs/rule/rules.md
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "quantity/answer.h"
#include "rule/day.h"

namespace barm::rule {

/// What must hold of one fact. A word is one of `is`; a number lies within its bounds, in the unit of the fact's
/// dimension, or reaches the time that a curve asks at the fact "heat".
struct Condition {
  enum class Curve : std::uint8_t { none, sludge_seven_percent_or_more, sludge_less_than_seven_percent };
  std::string fact{};
  std::vector<std::string> is{};
  double least = unset, most = unset, above = unset, below = unset;
  Curve curve = Curve::none;
  double number = unset;  // as the file prints it,
  std::string unit{};     // in this unit
};
using Conditions = std::vector<Condition>;  // all of them

enum class Status : std::uint8_t {
  in_force,
  reserved,
  recommendation,
  guidance,
  practice,
  voluntary_standard,
  criterion
};
/// How far the text was read for this program: the words themselves, part of them or where others restate them, or not
/// at all. Only the first is told as confirmed.
enum class Seen : std::uint8_t { looked_up, part, memory };

enum class Statistic : std::uint8_t { not_found, below, each_at_most, mean_at_most };
/// A laboratory test a rule asks for.
struct Test {
  std::string of{};  // fact that holds its result
  Statistic statistic = Statistic::not_found;
  std::optional<int> samples{};  // nothing: the rule sets no number
  double limit = unset;          // in `unit`
  double detects = unset;        // what the method must be able to find, in `unit`
  std::string unit{};
  std::string instead_of{};  // id of the rule whose test it may replace
};

struct Rule {
  std::string id{}, set{};         // set: name of its file ("us_produce")
  std::string jurisdiction{};      // "US"
  std::string citation{};          // "21 CFR 112.51(b)(5)"
  std::string about{};             // lot, water, recipe, brew, bed or harvest
  bool definition = false;         // says what counts as what; asks nothing
  Conditions applies{};            // when it speaks
  std::vector<Conditions> asks{};  // any one of these; empty: a definition
  bool wait_is_reserved = false;   // days to harvest are asked for, and the law has set no number
  std::optional<Test> test{};
  std::string text_en{}, text_es{};  // what it asks, plainly
  std::string next_en{}, next_es{};  // what to do; may be empty
  Status status = Status::in_force;
  Seen seen = Seen::memory;
  std::string source{};  // keys of docs/sources.md
  Day reviewed_on{};

  bool is_confirmed() const { return seen == Seen::looked_up; }
  /// Days to wait before a harvest that it asks for, when it asks for any [d].
  std::optional<double> wait_d() const;
};

struct RuleSet {
  std::string name{};  // of its file
  std::string jurisdiction{}, english{}, spanish{};
  std::vector<Rule> rules{};
};

/// Reads a file of rules. A file a person wrote may be wrong: refuses, naming the rule and what is wrong with it, under
/// "rule.file.*"; everything wrong at once, up to ten.
Answer<RuleSet> read_rules(const std::string& name, std::string_view toml);

/// A year after its text was looked at a rule doubts itself. judged: rules of this kind change every few years.
inline constexpr int review_every_days = 365;

}  // namespace barm::rule
