// The answer to a question: a value with what may be doubted about it, or the reasons why there is none.
#pragma once

#include <limits>
#include <map>
#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "quantity/dimension.h"
#include "quantity/expects.h"

namespace barm {

/// A number nobody has set yet. Forgetting to set it shows, since nothing computed from it is finite.
inline constexpr double unset = std::numeric_limits<double>::quiet_NaN();

/// Something the program has to say, without its words: a stable code, the input field it is about, and the facts to
/// fill in. The words, in each language, stand in data/messages/*.toml under the code. Quantities stay numbers until
/// they are printed, so that each garden reads them in its own measures.
struct Remark {
  using Fact = std::variant<std::string, Quantity>;
  std::string code;
  std::string field = {};  // path of the input field ("water.volume", "food[2].amount"); empty when about no single one
  std::map<std::string, Fact> facts = {};
  bool operator==(const Remark&) const = default;
};

using Remarks = std::vector<Remark>;

/// Value with doubts, or refusals. Refusals name everything that is wrong, not only the first thing.
template <class T>
class Answer {
 public:
  Answer(T value)
      : value_(std::move(value)) {}  // NOLINT(google-explicit-constructor): an answer is returned as its value
  Answer(T value, Remarks doubts) : value_(std::move(value)), remarks_(std::move(doubts)) {}
  static Answer refused(Remarks why) {
    expects(!why.empty(), "a refusal gives a reason");
    return Answer(std::move(why));
  }

  bool ok() const { return value_.has_value(); }
  explicit operator bool() const { return ok(); }

  const T& value() const {
    expects(ok(), "value of a refused answer");
    return *value_;
  }
  T& value() {
    expects(ok(), "value of a refused answer");
    return *value_;
  }
  const T& operator*() const { return value(); }
  const T* operator->() const { return &value(); }

  /// What may be doubted about the value; empty when refused.
  const Remarks& doubts() const { return ok() ? remarks_ : none(); }
  /// Why there is no value; empty when there is one.
  const Remarks& refusals() const { return ok() ? none() : remarks_; }

 private:
  explicit Answer(Remarks why) : remarks_(std::move(why)) {}
  static const Remarks& none() {
    static const Remarks empty;
    return empty;
  }
  std::optional<T> value_;
  Remarks remarks_;
};

/// Collects what is wrong or doubtful while a question is looked at, then becomes an answer.
class Findings {
 public:
  void refuse(Remark why) { refusals_.push_back(std::move(why)); }
  void doubt(Remark what) { doubts_.push_back(std::move(what)); }
  bool refused() const { return !refusals_.empty(); }
  const Remarks& refusals() const { return refusals_; }
  const Remarks& doubts() const { return doubts_; }

  /// Keeps the refusals or doubts of a part and gives its value, or nothing when it was refused.
  template <class T>
  std::optional<T> take(Answer<T> part) {
    const Remarks& from = part.ok() ? part.doubts() : part.refusals();
    Remarks& to = part.ok() ? doubts_ : refusals_;
    to.insert(to.end(), from.begin(), from.end());
    if (!part.ok()) return std::nullopt;
    return std::move(part.value());
  }

  template <class T>
  Answer<T> answer(T value) && {
    if (refused()) return Answer<T>::refused(std::move(refusals_));
    return Answer<T>(std::move(value), std::move(doubts_));
  }
  template <class T>
  Answer<T> refusal() && {
    return Answer<T>::refused(std::move(refusals_));
  }

 private:
  Remarks refusals_;
  Remarks doubts_;
};

}  // namespace barm
