// What the record knows of an application, as facts for rules to ask about. What it does not hold stays not known.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "operations/world.h"
#include "records/store.h"
#include "rule/day.h"
#include "rule/facts.h"

namespace barm::operations {

/// The day it is at an instant [ms UTC] by the clock of a zone.
rule::Day local_day(std::int64_t at_ms, const std::string& zone);

/// The newest version of everything of a kind, found by any id it was ever referred to by.
class Things {
 public:
  explicit Things(records::Store& store) : store_(&store) {}
  const std::vector<records::Entry>& all(const std::string& kind);
  /// What a reference names, as it stands now; nothing when it was withdrawn.
  const records::Entry* named(const std::string& id);
  /// Entries of a kind whose reference `field` names that thing.
  std::vector<const records::Entry*> of(const std::string& kind, const std::string& field, const records::Entry& thing);

  std::string text(const records::Entry& entry, const std::string& field) const;
  std::optional<double> number(const records::Entry& entry, const std::string& field) const;
  std::optional<std::int64_t> whole(const records::Entry& entry, const std::string& field) const;  // instant or flag
  std::string name(const records::Entry* entry) const;
  /// Why something could not be read.
  const Remarks& failures() const { return failures_; }
  records::Store& store() { return *store_; }

 private:
  const records::Value* value(const records::Entry& entry, const std::string& field) const;
  records::Store* store_;
  std::map<std::string, std::vector<records::Entry>> kinds_;
  std::map<std::string, std::optional<records::Entry>> found_;
  Remarks failures_;
};

/// What one brew was mixed of.
struct Mixed {
  std::vector<const records::Entry*> composts{}, foods{}, waters{}, brews{};
  bool is_recorded = false;  // anything at all
};
Mixed mixed_into(Things& things, const records::Entry& brew);

/// Facts of an application: from its brew, what went into it, their tests up to the application, its bed. Where lots
/// differ the worse counts: any animal origin is animal origin, the least processed decides. A compost made here counts
/// as composted when its heat log meets the produce rule and it is finished.
rule::Facts facts_of_application(Things& things, const records::Entry& application);

/// Whether a food of this name is of animal origin; nothing where nobody knows the name.
std::optional<bool> is_animal_food(const std::string& name);

}  // namespace barm::operations
