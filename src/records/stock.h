// What is left of a lot.
#pragma once

#include <cstdint>
#include <string>

#include "records/store.h"

namespace barm::records {

struct Stock {
  double begun = unset, used = 0.0, changed = 0.0, left = unset;  // all in `unit`
  Dimension measured = Dimension::mass;  // mass [g] or volume [L], whichever the lot was entered in
  std::int64_t uses_count = 0;
};

/// Begun with, less what went into brews and other lots, and with every change of stock. A use measured the other way
/// is reckoned with the lot's density; without one it is doubted and left out. Doubts a lot of which more was used than
/// there was. Refuses a lot entered without an amount.
Answer<Stock> stock_of(Store& store, const std::string& lot_id, std::int64_t known_at = known_now);

}  // namespace barm::records
