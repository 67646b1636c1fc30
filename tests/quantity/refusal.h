// What a refused answer says, for tests.
#pragma once

#include <string>

#include "quantity/answer.h"

namespace barm::test {

template <class T>
std::string code_of(const Answer<T>& answer) {
  return answer.ok() ? "(answered)" : answer.refusals().front().code;
}

/// A fact of the first refusal, as text; "(none)" when there is no such fact.
template <class T>
std::string fact_of(const Answer<T>& answer, const std::string& name) {
  if (answer.ok()) return "(answered)";
  const auto& facts = answer.refusals().front().facts;
  const auto at = facts.find(name);
  if (at == facts.end() || !std::holds_alternative<std::string>(at->second)) return "(none)";
  return std::get<std::string>(at->second);
}

}  // namespace barm::test
