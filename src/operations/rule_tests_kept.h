// What the record keeps of laboratory results, as the tests of the rules ask for them.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "records/store.h"
#include "rule/day.h"
#include "rule/testing.h"

namespace barm::operations {

struct KeptAsk {
  std::string about{};               // name or id of a water, a lot of compost or a brew; empty: all
  std::optional<rule::Day> since{};  // by the garden's clock
};

/// A water, a lot of compost or a brew.
struct TestedThing {
  std::int64_t number = 0;  // the same for every version of it
  std::string kind{}, name{};
};
/// One result of an entry that stands: what was withdrawn is left out.
struct KeptResult {
  std::string id{}, kind{};  // of the entry
  TestedThing thing{};
  std::string thing_id{};  // as the entry refers to it
  std::int64_t at = 0;     // ms UTC
  rule::Sample sample{};   // in the unit the rules' tests have
};
struct KeptResults {
  std::string zone{};
  std::vector<TestedThing> parts{};                     // lots and waters of the brew that was asked about
  std::map<std::string, std::vector<KeptResult>> of{};  // by the fact they are of, the oldest first
};

/// `about` a lot takes in the brews made of it, a brew its lots and waters. Refuses a name nobody has (field "about")
/// and a record that cannot be read. Which entries tell which fact: docs/rule/tests.md
Answer<KeptResults> kept_results(records::Store& store, const KeptAsk& ask);

}  // namespace barm::operations
