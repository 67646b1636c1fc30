// Facts told beside a record: those of each application come first, and where the two differ that is said.
#pragma once

#include <map>
#include <string>

#include "quantity/answer.h"
#include "rule/facts.h"

namespace barm::operations {

class ToldFacts {
 public:
  explicit ToldFacts(rule::Facts told) : told_(std::move(told)) {}

  /// What is told, with what the record keeps of one application in its place; raw manure stays raw manure.
  rule::Facts beside(const rule::Facts& kept);
  /// Doubts each fact once of which the record said otherwise in any application so far, and what raw manure cannot be.
  void doubt(Findings& findings) const;

 private:
  rule::Facts told_;
  std::map<std::string, Remark> doubts_{};  // by fact
};

}  // namespace barm::operations
