// Reading answers in the tests of this room. Wherever a code is met, its words must find every fact they name.
#pragma once

#include <gtest/gtest.h>

#include <string>

#include "data/embedded.h"
#include "quantity/answer.h"

namespace barm::air {

/// The entry of data/messages/air.toml for a code, from its head to the next; empty when there is none.
inline std::string words_of(const std::string& code) {
  const std::string all(data::file("messages/air.toml"));
  const auto at = all.find("[\"" + code + "\"]");
  return at == std::string::npos ? std::string() : all.substr(at, all.find("\n[\"", at) - at);
}

inline void expect_words_fit(const Remark& remark) {
  const std::string words = words_of(remark.code);
  EXPECT_FALSE(words.empty()) << remark.code << " has no words";
  for (auto open = words.find('{'); open != std::string::npos; open = words.find('{', open + 1)) {
    const std::string name = words.substr(open + 1, words.find('}', open) - open - 1);
    EXPECT_TRUE(remark.facts.contains(name)) << remark.code << " names {" << name << "} and has no such fact";
  }
}

inline bool names(const Remarks& remarks, const std::string& code) {
  bool found = false;
  for (const Remark& remark : remarks) {
    expect_words_fit(remark);
    found = found || remark.code == code;
  }
  return found;
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
