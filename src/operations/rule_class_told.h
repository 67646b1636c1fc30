// How the legal class of a tea is told: by its own question, and on a plan.
#pragma once

#include <string>
#include <vector>

#include "operations/rule_told.h"

namespace barm::operations {

struct ClassTold {
  rule::TeaFacts facts{};
  rule::TeaClass tea{};
  rule::Permission permission{};
  std::vector<rule::WayOut> ways{};

  static ClassTold of(const rule::TeaFacts& facts, const rule::Contact& contact);
  /// Whether it may go where it is meant to; not known counts as no.
  bool is_allowed() const { return permission.permitted == rule::Known::yes; }
};

/// The facts a class rests on.
std::vector<std::string> class_facts();

/// The one sentence: the class and its consequence.
Remark class_headline(const ClassTold& told);
std::string class_text(const ClassTold& told, const Voice& voice);
Outputs<ClassTold> class_outputs();

}  // namespace barm::operations
