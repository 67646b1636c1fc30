// The rules the program carries, read once, and facts to hold them to.
#pragma once

#include <gtest/gtest.h>

#include <algorithm>

#include "data/embedded.h"
#include "rule/judge.h"
#include "rule/rule.h"

namespace barm::rule {

inline const std::vector<RuleSet>& all_sets() {
  static const auto sets = [] {
    std::vector<RuleSet> all;
    for (const auto& file : data::files()) {
      if (!file.starts_with("rules/")) continue;
      const std::string name(file.substr(6, file.size() - 6 - 5));
      auto set = read_rules(name, data::file(file));
      EXPECT_TRUE(set.ok()) << file;
      for (const auto& why : set.refusals()) {
        for (const auto& [key, fact] : why.facts)
          ADD_FAILURE() << why.code << " " << key << "="
                        << (std::get_if<std::string>(&fact) ? std::get<std::string>(fact) : "");
      }
      if (set.ok()) all.push_back(std::move(set.value()));
    }
    return all;
  }();
  return sets;
}

inline const Rule& rule_of(const std::string& id) {
  for (const auto& set : all_sets()) {
    for (const auto& rule : set.rules) {
      if (rule.id == id) return rule;
    }
  }
  throw BrokenPromise("no rule " + id);
}

inline const Day today = *read_day("2026-11-25");

inline Verdict verdict(const std::string& id, const Facts& facts) {
  return judge(rule_of(id), facts, today).verdict;
}

}  // namespace barm::rule
