// Reading answers in the tests of this room.
#pragma once

#include <algorithm>
#include <string>

#include "quantity/answer.h"

namespace barm::air {

inline bool names(const Remarks& remarks, const std::string& code) {
  return std::any_of(remarks.begin(), remarks.end(), [&](const Remark& remark) { return remark.code == code; });
}

template <class T>
bool refuses(const Answer<T>& answer, const std::string& code) {
  return !answer.ok() && names(answer.refusals(), code);
}

template <class T>
bool doubts(const Answer<T>& answer, const std::string& code) {
  return answer.ok() && names(answer.doubts(), code);
}

inline double fact(const Remark& remark, const std::string& name) {
  return std::get<Quantity>(remark.facts.at(name)).value;
}

}  // namespace barm::air
