#include <toml++/toml.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "rule/facts.h"
#include "rule/rule.h"

namespace barm::rule {
namespace {

constexpr std::size_t told_most = 10;

/// Reads one table and says what is wrong with it.
class Reader {
 public:
  Reader(std::string rule, std::vector<Remark>& wrong) : rule_(std::move(rule)), wrong_(&wrong) {}

  void refuse(const char* code, const std::string& key, std::string given = {}) {
    if (wrong_->size() >= told_most) return;
    wrong_->push_back({code, "", {{"rule", rule_}, {"key", key}, {"given", std::move(given)}}});
  }
  std::string text(const toml::table& from, const char* key, bool needed = true) {
    const auto value = from[key].value<std::string>();
    if (needed && (!value || value->empty())) refuse("rule.file.missing", key);
    return value.value_or("");
  }
  template <class E>
  E word(const toml::table& from, const char* key, const std::map<std::string, E>& known) {
    const std::string given = text(from, key);
    const auto at = known.find(given);
    if (at != known.end()) return at->second;
    if (!given.empty()) refuse("rule.file.not_a_word", key, given);
    return known.begin()->second;
  }
  Conditions conditions(const toml::array& list, const char* key);

 private:
  Condition condition(const toml::table& from, const char* key);
  /// A number of the condition, in the unit of the fact.
  double bound(const toml::table& from, const char* key, const FactKind& kind, Condition& into);

  std::string rule_;
  std::vector<Remark>* wrong_;
};

/// What turns a number in a file into the fact's own unit: times `by`, after taking `less` away.
struct Scale {
  double less = 0.0, by = 1.0;
};
std::optional<Scale> scale(std::string_view unit, Dimension dimension) {
  static const std::map<std::string, std::pair<Dimension, Scale>, std::less<>> known = {
      {"h", {Dimension::duration, {0.0, 1.0}}},
      {"d", {Dimension::duration, {0.0, 24.0}}},
      {"min", {Dimension::duration, {0.0, 1.0 / 60.0}}},
      {"degC", {Dimension::temperature, {0.0, 1.0}}},
      {"degF", {Dimension::temperature, {32.0, 5.0 / 9.0}}},
      {"mm", {Dimension::length, {0.0, 0.001}}},
      {"share", {Dimension::share, {0.0, 1.0}}},
      {"1", {Dimension::number, {0.0, 1.0}}},
      {"1/g", {Dimension::number, {0.0, 1.0}}},
      {"1/100 mL", {Dimension::number, {0.0, 1.0}}},
  };
  const auto at = known.find(unit);
  if (at == known.end() || at->second.first != dimension) return std::nullopt;
  return at->second.second;
}

double Reader::bound(const toml::table& from, const char* key, const FactKind& kind, Condition& into) {
  if (!from.contains(key)) return unset;
  const auto value = from[key].value<double>();
  into.unit = from["unit"].value_or(std::string());
  const auto by = scale(into.unit, kind.dimension);
  if (!value || !std::isfinite(*value)) {
    refuse("rule.file.not_a_number", key);
    return unset;
  }
  // A limit of a count of germs is told per gram or per 100 mL, as the fact is: the two would pass for one another.
  const std::string of_count = kind.per.empty() ? "1" : "1/" + kind.per;
  if (!by || (kind.dimension == Dimension::number && into.unit != of_count)) {
    refuse("rule.file.unit", kind.name, into.unit);
    return unset;
  }
  if (std::isnan(into.number)) into.number = *value;
  return (*value - by->less) * by->by;
}

Condition Reader::condition(const toml::table& from, const char* key) {
  Condition condition{.fact = text(from, "fact")};
  const FactKind* kind = fact_kind(condition.fact);
  if (kind == nullptr) {
    refuse("rule.file.fact", key, condition.fact);
    return condition;
  }
  if (const toml::array* words = from["is"].as_array()) {
    for (const auto& node : *words) {
      const std::string word = node.value_or(std::string());
      if (std::find(kind->words.begin(), kind->words.end(), word) == kind->words.end())
        refuse("rule.file.not_a_word", condition.fact, word);
      condition.is.push_back(word);
    }
  }
  if (from.contains("curve")) {
    condition.curve =
        word<Condition::Curve>(from, "curve",
                               {{"sludge_seven_percent_or_more", Condition::Curve::sludge_seven_percent_or_more},
                                {"sludge_less_than_seven_percent", Condition::Curve::sludge_less_than_seven_percent}});
  }
  condition.least = bound(from, "least", *kind, condition);
  condition.most = bound(from, "most", *kind, condition);
  condition.above = bound(from, "above", *kind, condition);
  condition.below = bound(from, "below", *kind, condition);
  if (condition.least > condition.most) refuse("rule.file.range", condition.fact);
  const bool asks_number = !std::isnan(condition.number) || condition.curve != Condition::Curve::none;
  if (kind->is_number() != asks_number || kind->is_number() == !condition.is.empty())
    refuse("rule.file.condition", condition.fact);
  return condition;
}

Conditions Reader::conditions(const toml::array& list, const char* key) {
  Conditions all;
  for (const auto& node : list) {
    if (const toml::table* table = node.as_table()) {
      all.push_back(condition(*table, key));
    } else {
      refuse("rule.file.condition", key);
    }
  }
  return all;
}

const std::map<std::string, Status> status_words = {
    {"in_force", Status::in_force},  {"reserved", Status::reserved}, {"recommendation", Status::recommendation},
    {"guidance", Status::guidance},  {"practice", Status::practice}, {"voluntary_standard", Status::voluntary_standard},
    {"criterion", Status::criterion}};
const std::map<std::string, Seen> seen_words = {
    {"look-up", Seen::looked_up}, {"memory", Seen::memory}, {"part", Seen::part}};
const std::map<std::string, Statistic> statistic_words = {{"below", Statistic::below},
                                                          {"each_at_most", Statistic::each_at_most},
                                                          {"mean_at_most", Statistic::mean_at_most},
                                                          {"not_found", Statistic::not_found}};
const std::set<std::string> subjects = {"lot", "water", "recipe", "brew", "bed", "harvest"};

Test read_test(Reader& reader, const toml::table& from) {
  Test test{.of = reader.text(from, "of"), .unit = reader.text(from, "unit")};
  if (const FactKind* kind = fact_kind(test.of)) {
    const bool is_count = !kind->per.empty() && (test.unit == "CFU/" + kind->per || test.unit == "MPN/" + kind->per);
    if (!is_count) reader.refuse("rule.file.unit", test.of, test.unit);
  } else {
    reader.refuse("rule.file.fact", "test", test.of);
  }
  test.statistic = reader.word(from, "statistic", statistic_words);
  if (const auto samples = from["samples"].value<int>()) test.samples = samples;
  test.limit = from["limit"].value_or(unset);
  test.detects = from["detects"].value_or(unset);
  test.instead_of = reader.text(from, "instead_of", false);
  const bool needs_limit = test.statistic != Statistic::not_found;
  if (needs_limit && !(test.limit > 0.0)) reader.refuse("rule.file.not_a_number", "test.limit");
  return test;
}

void read_asks(Reader& reader, const toml::table& from, Rule& rule) {
  if (const toml::array* asks = from["asks"].as_array()) rule.asks.push_back(reader.conditions(*asks, "asks"));
  if (const toml::array* any = from["any_of"].as_array()) {
    for (const auto& node : *any) {
      if (const toml::array* one = node.as_array()) rule.asks.push_back(reader.conditions(*one, "any_of"));
    }
  }
  const bool is_empty = rule.asks.empty() || std::any_of(rule.asks.begin(), rule.asks.end(),
                                                         [](const Conditions& all) { return all.empty(); });
  if (rule.definition != rule.asks.empty() || (!rule.definition && is_empty)) reader.refuse("rule.file.asks", "asks");
}

Rule read_rule(const toml::table& from, const std::string& id, std::vector<Remark>& wrong) {
  Reader reader(id, wrong);
  Rule rule{.id = id};
  rule.citation = reader.text(from, "citation");
  rule.about = reader.text(from, "about");
  if (!rule.about.empty() && !subjects.contains(rule.about)) reader.refuse("rule.file.not_a_word", "about", rule.about);
  rule.definition = from["definition"].value_or(false);
  if (const toml::array* applies = from["applies"].as_array()) rule.applies = reader.conditions(*applies, "applies");
  if (rule.applies.empty()) reader.refuse("rule.file.missing", "applies");
  read_asks(reader, from, rule);
  const std::string wait = reader.text(from, "wait", false);
  rule.wait_is_reserved = wait == "reserved";
  if (!wait.empty() && !rule.wait_is_reserved) reader.refuse("rule.file.not_a_word", "wait", wait);
  if (const toml::table* test = from["test"].as_table()) rule.test = read_test(reader, *test);
  rule.text_en = reader.text(from, "text_en");
  rule.text_es = reader.text(from, "text_es");
  rule.next_en = reader.text(from, "next_en", false);
  rule.next_es = reader.text(from, "next_es", false);
  if (rule.next_en.empty() != rule.next_es.empty()) reader.refuse("rule.file.missing", "next_en, next_es");
  rule.status = reader.word(from, "status", status_words);
  rule.seen = reader.word(from, "seen", seen_words);
  rule.source = reader.text(from, "source");
  if (const auto date = from["reviewed_on"].value<toml::date>()) {
    rule.reviewed_on = std::chrono::year_month_day{std::chrono::year{date->year}, std::chrono::month{date->month},
                                                   std::chrono::day{date->day}};
  } else {
    reader.refuse("rule.file.missing", "reviewed_on");
  }
  return rule;
}

}  // namespace

std::optional<double> Rule::wait_d() const {
  for (const auto& all : asks) {
    for (const auto& condition : all) {
      constexpr double h_per_d = 24.0;
      if (condition.fact == "days_to_harvest" && !std::isnan(condition.least)) return condition.least / h_per_d;
    }
  }
  return std::nullopt;
}

Answer<RuleSet> read_rules(const std::string& name, std::string_view toml_text) {
  std::vector<Remark> wrong;
  toml::table root;
  try {
    root = toml::parse(toml_text);
  } catch (const toml::parse_error& error) {
    return Answer<RuleSet>::refused(
        {{"rule.file.not_toml",
          "",
          {{"given", std::string(error.description())}, {"line", std::to_string(error.source().begin.line)}}}});
  }
  RuleSet set{.name = name};
  Reader reader(name, wrong);
  set.jurisdiction = reader.text(root, "jurisdiction");
  set.english = reader.text(root, "en");
  set.spanish = reader.text(root, "es");
  std::set<std::string> ids;
  const toml::array* rules = root["rule"].as_array();
  if (rules == nullptr || rules->empty()) reader.refuse("rule.file.missing", "[[rule]]");
  for (std::size_t i = 0; rules != nullptr && i < rules->size(); ++i) {
    const toml::table* table = rules->get(i)->as_table();
    const std::string id = table == nullptr ? std::string() : (*table)["id"].value_or(std::string());
    if (id.empty()) {
      reader.refuse("rule.file.missing", "rule " + std::to_string(i + 1) + ": id");
      continue;
    }
    if (!ids.insert(id).second) reader.refuse("rule.file.twice", "id", id);
    set.rules.push_back(read_rule(*table, id, wrong));
    set.rules.back().set = name;
    set.rules.back().jurisdiction = set.jurisdiction;
  }
  if (!wrong.empty()) return Answer<RuleSet>::refused(std::move(wrong));
  return set;
}

}  // namespace barm::rule
