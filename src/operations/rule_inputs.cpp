#include "operations/rule_inputs.h"

#include <fmt/format.h>

#include <algorithm>

#include "data/embedded.h"
#include "operations/operation.h"
#include "rule/tea_class.h"

namespace barm::operations {
namespace {

constexpr std::string_view folder = "rules/", ending = ".toml";

std::vector<std::string> set_names() {
  std::vector<std::string> names;
  for (const auto& file : data::files()) {
    if (file.starts_with(folder))
      names.emplace_back(file.substr(folder.size(), file.size() - folder.size() - ending.size()));
  }
  return names;
}

const rule::RuleSet& carried_set(const std::string& name) {
  static const auto all = [] {
    std::map<std::string, rule::RuleSet> sets;
    for (const auto& one : set_names()) {
      auto set = rule::read_rules(one, data::file(std::string(folder) + one + std::string(ending)));
      expects(set.ok(), "the rules the program carries are well formed");
      sets.emplace(one, std::move(set.value()));
    }
    return sets;
  }();
  return all.at(name);
}

std::vector<std::string> parted(std::string_view text) {
  std::vector<std::string> parts;
  while (!text.empty()) {
    const auto comma = std::min(text.find(','), text.size());
    auto part = text.substr(0, comma);
    while (part.starts_with(' ')) part.remove_prefix(1);
    while (part.ends_with(' ')) part.remove_suffix(1);
    if (!part.empty()) parts.emplace_back(part);
    text.remove_prefix(std::min(comma + 1, text.size()));
  }
  return parts;
}

}  // namespace

rule::Facts RuleFacts::facts() const {
  rule::Facts facts;
  for (const auto& [name, number] : numbers) facts.set(name, number.value);
  for (const auto& [name, word] : words) facts.set(name, word);
  return facts;
}

rule::Facts RuleFacts::facts(Findings& findings) const {
  auto facts = this->facts();
  for (auto& why : rule::contradictions(facts)) findings.refuse(std::move(why));
  return facts;
}

std::vector<std::string> fact_names() {
  std::vector<std::string> names;
  for (const auto& kind : rule::all_facts()) {
    if (!kind.derived) names.push_back(kind.name);
  }
  return names;
}

Answer<std::vector<rule::RuleSet>> chosen_rules(const RuleChoice& choice, const World& world) {
  Findings findings;
  std::vector<rule::RuleSet> sets;
  const auto names = set_names();
  for (const auto& name : parted(choice.rules)) {
    if (name == "none") continue;
    if (std::find(names.begin(), names.end(), name) != names.end()) {
      const auto is_there = [&](const rule::RuleSet& set) { return set.name == name; };
      if (std::none_of(sets.begin(), sets.end(), is_there)) sets.push_back(carried_set(name));
      continue;
    }
    Remark why{
        "operations.rule.no_set", "rules", {{"given", name}, {"allowed", fmt::format("{}", fmt::join(names, ", "))}}};
    if (const auto near = likely(name, names); !near.empty()) why.facts.emplace("suggestion", near);
    findings.refuse(std::move(why));
  }
  if (!choice.own.empty()) {
    const auto text = findings.take(retarget(world.read_file(choice.own), {{"", "own"}}));
    auto own = text ? findings.take(retarget(rule::read_rules("own", *text), {{"", "own"}})) : std::nullopt;
    if (own) sets.push_back(std::move(*own));
  }
  if (sets.empty() && !findings.refused())
    findings.refuse({"operations.rule.no_rules", "rules", {{"allowed", fmt::format("{}", fmt::join(names, ", "))}}});
  return std::move(findings).answer(std::move(sets));
}

rule::Day today(const World& world) {
  expects(world.now != nullptr, "a world with rules has a clock");
  return rule::day_of(world.now());
}

std::optional<rule::Day> read_day_input(const std::string& given, const char* field, Findings& findings) {
  if (given.empty()) return std::nullopt;
  const auto day = rule::read_day(given);
  if (!day) findings.refuse({"operations.rule.not_a_day", field, {{"given", given}}});
  return day;
}

}  // namespace barm::operations
