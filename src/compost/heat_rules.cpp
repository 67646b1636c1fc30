#include "compost/heat_rules.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "quantity/data_entry.h"

namespace barm::compost {
namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();

template <class E>
E word(const DataEntry& entry, std::string_view given, const std::vector<std::pair<std::string_view, E>>& known) {
  for (const auto& [text, value] : known) {
    if (text == given) return value;
  }
  entry.promise(false, std::string(given) + " is not a known word");
  return known.front().second;
}

double celsius(double fahrenheit) {
  return (fahrenheit - 32.0) * 5.0 / 9.0;
}

HeatRule read_rule(DataEntry entry, const std::string& id) {
  HeatRule rule;
  rule.id = id;
  rule.clause = entry.text("clause");
  rule.rule = word<Rule>(entry, entry.text("rule"),
                         {{"organic", Rule::organic}, {"produce", Rule::produce}, {"sludge", Rule::sludge}});
  for (const auto& method : entry.texts("methods")) {
    rule.methods.push_back(word<Method>(entry, method,
                                        {{"in_vessel", Method::in_vessel},
                                         {"static_aerated_pile", Method::static_aerated_pile},
                                         {"windrow", Method::windrow}}));
  }
  rule.least_c = entry.number("least", "degC");
  rule.least_of_fahrenheit_c = celsius(entry.number("least_f", "degF"));
  rule.most_c = entry.has("most") ? entry.number("most", "degC") : infinite;
  rule.most_of_fahrenheit_c = entry.has("most_f") ? celsius(entry.number("most_f", "degF")) : infinite;
  rule.needed_h = entry.number("days", "d") * 24.0;
  rule.is_consecutive = entry.claim("consecutive");
  rule.may_be_parted = entry.claim("may_be_parted");
  rule.turns_count = static_cast<int>(entry.number("turns", "1"));
  if (entry.has("cn_least")) rule.cn_least = entry.number("cn_least", "1");
  if (entry.has("cn_most")) rule.cn_most = entry.number("cn_most", "1");
  entry.promise(rule.least_c < rule.most_c && rule.needed_h > 0.0 && rule.turns_count >= 0, "figures make no rule");
  entry.promise(!(rule.is_consecutive && rule.may_be_parted), "its days are both in a row and parted");
  rule.source = entry.sources();
  return rule;
}

}  // namespace

bool HeatRule::is_for(Method method) const {
  return std::find(methods.begin(), methods.end(), method) != methods.end();
}

std::vector<HeatRule> read_heat_rules(std::string_view toml) {
  std::vector<HeatRule> rules;
  each_data_entry(toml, "requirement", "heat_rules.toml",
                  [&](DataEntry entry, const std::string& id) { rules.push_back(read_rule(std::move(entry), id)); });
  return rules;
}

double sludge_time_h(double temperature_c, Solids solids) {
  constexpr double least_c = 50.0;                                                                   // S39
  const double constant_d = solids == Solids::seven_percent_or_more ? 131'700'000.0 : 50'070'000.0;  // S39
  if (!(temperature_c >= least_c)) return infinite;
  return constant_d / std::pow(10.0, 0.14 * temperature_c) * 24.0;  // S39
}

}  // namespace barm::compost
