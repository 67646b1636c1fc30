// How warm the place is, hour by hour of the garden's clock, as a file tells it.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "quantity/answer.h"
#include "recipe/room_day.h"

namespace barm::operations {

/// The day from 24 temperatures, from midnight on, for brews that start at an instant or within the ten days after.
/// None: not told. Any other number is refused (field "room.by_hour").
recipe::RoomDay read_room_day(const std::vector<double>& by_hour_c, const std::string& zone, std::int64_t start_at,
                              Findings& findings);

}  // namespace barm::operations
