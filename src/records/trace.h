// What came of a lot, and what a harvest came from.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "records/store.h"

namespace barm::records {

/// One entry on the way. Its thing is named by `id`, the id of its first entry.
struct Traced {
  std::string kind{}, id{};
  std::string name{};                // what people call it: a bed's name, the crop of a harvest
  std::optional<std::int64_t> at{};  // ms UTC; of a bed, when it was first treated
  std::string from_id{}, to_id{};    // of an application: the brew and the bed; of a harvest: the bed
  std::int64_t readings_count = 0;   // of a brew
  std::optional<double> oxygen_lowest_mg_per_l{}, oxygen_highest_mg_per_l{};
};

/// Forward from a compost lot, food lot, water source or brew, through every brew and lot it went into, to the
/// applications, the beds, and the harvests picked there after the first application. One query.
Answer<std::vector<Traced>> trace_forward(Store& store, const std::string& id, std::int64_t known_at = known_now);

/// Back from a harvest, an application or a brew: applications on its bed up to the harvest, the brews with their
/// readings, what they were mixed of, the tests and verdicts on all that, and the people. One query.
Answer<std::vector<Traced>> trace_back(Store& store, const std::string& id, std::int64_t known_at = known_now);

}  // namespace barm::records
