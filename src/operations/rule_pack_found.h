// What an inspector's pack holds, gathered from the record; not yet in words.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "operations/photo_told.h"
#include "operations/rule_class_told.h"
#include "operations/rule_record.h"
#include "records/verify.h"

namespace barm::operations {

struct PackAsk {
  std::optional<rule::Day> from{}, to{};  // of the applications, both included, by the garden's clock
  std::string harvest{};                  // or all that led to this one
};

/// An entry of the record with what its references are called.
struct PackEntry {
  records::Entry entry{};
  std::string name{};
  std::map<std::string, std::string> called{};  // reference field: name of what it names
};

/// A photo of a brew; the entry is without the picture, which stands in `file`.
struct PackPhoto {
  PackEntry entry{};
  PhotoFile file{};
  Seen seen{};
};

struct PackApplication {
  PackEntry application{};
  std::vector<PackEntry> lots{};  // what its brew was mixed of
  rule::Facts facts{};
  ClassTold legal{};
  std::vector<RuleTold> rules{};
};

struct Pack {
  std::string garden{}, zone{};
  PackAsk ask{};
  std::vector<PackApplication> applications{};
  std::vector<PackEntry> harvests{}, tests{}, cleaning{}, people{}, corrections{};
  std::vector<PackPhoto> photos{};
  records::Verified verified{};
};

/// Refuses a harvest nobody knows and a record that cannot be read.
Answer<Pack> gather_pack(records::Store& store, const PackAsk& ask, const std::vector<rule::RuleSet>& sets,
                         const rule::Facts& told, const World& world);

}  // namespace barm::operations
