// What rules ask of the heat of a compost. Figures and sources: data/heat_rules.toml; meaning: docs/compost/heat.md
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "quantity/answer.h"

namespace barm::compost {

enum class Method : std::uint8_t { in_vessel, static_aerated_pile, windrow };
enum class Rule : std::uint8_t { organic, produce, sludge };

struct HeatRule {
  std::string id;      // "us_nop_windrow"
  std::string clause;  // "7 CFR 205.203(c)(2)(iii)"
  Rule rule = Rule::organic;
  std::vector<Method> methods;
  double least_c = unset, most_c = unset;    // the band that earns, for a log in degC
  double least_of_fahrenheit_c = unset;      // the same as the rule prints it in degF
  double most_of_fahrenheit_c = unset;       // no upper end: infinite
  double needed_h = unset;                   // to be held at every position
  bool is_consecutive = false;               // without a break
  bool may_be_parted = false;                // the rule itself says that its days need not follow each other
  int turns_count = 0;                       // at least, while the pile is hot
  double cn_least = unset, cn_most = unset;  // C:N of the mix at the start; unset: not asked
  std::string source;

  bool is_for(Method method) const;
  bool asks_cn() const { return cn_least == cn_least; }
};

/// Reads data/heat_rules.toml. A broken file is our fault: throws BrokenPromise naming the entry.
std::vector<HeatRule> read_heat_rules(std::string_view toml);

enum class Solids : std::uint8_t { seven_percent_or_more, less_than_seven_percent };
/// Shortest time at a temperature [h] by the sludge rule. Source: S39, 40 CFR 503.32(a)(3)(ii),
/// D [d] = 131 700 000 / 10^(0.14 t), or 50 070 000 for less than 7 % solids. Range: from 50 degC; below it the rule
/// counts no time, and the answer is infinite. The rule's least times (20 min, 15 s or 30 min by the way of heating)
/// are left to the caller.
double sludge_time_h(double temperature_c, Solids solids);

}  // namespace barm::compost
