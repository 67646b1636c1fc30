// How warm the place is, hour by hour of the garden's clock, as a file tells it.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "operations/inputs.h"
#include "recipe/lines.h"
#include "recipe/room_day.h"

namespace barm::operations {

/// How a file tells it: 24 temperatures from midnight on the garden's clock, or the coldest of the night beside the
/// warmest of the day. Neither: it does not swing.
struct RoomTold {
  std::vector<double> by_hour_c{};
  double night_c = unset;
  bool warmest_is_told = false;  // whether room.temperature was given
};

/// The day of brews that start at an instant or within the ten days after, or after `last_at` where that is later.
/// Refuses a day of other than 24 hours (field "room.by_hour"), and a night that is warmer than the day or told twice
/// ("room.night"). Doubts a temperature beside the hours, which is not used, and a night without the warmest of its day
/// ("room.temperature").
recipe::RoomDay read_room_day(const RoomTold& told, double warmest_c, const std::string& zone, std::int64_t start_at,
                              Findings& findings, std::int64_t last_at = 0);

/// The inputs "room.temperature", kept where `temperature` says, "room.by_hour" and "room.night". `of` gives the
/// RoomTold of an input.
template <class In, class Temperature, class Of>
void room_inputs(Inputs<In>& inputs, Temperature temperature, Of of) {
  namespace lines = recipe::lines;
  inputs.quantity("room.temperature", temperature, Dimension::temperature, "20 degC")
      .least(lines::room_coldest_c)
      .most(lines::room_warmest_c)
      .marks([of](In& in) { of(in).warmest_is_told = true; });
  inputs
      .list(
          "room.by_hour", [of](In & in) -> auto& { return of(in).by_hour_c; }, Dimension::temperature,
          "12 degC,11 degC,14 degC")
      .least(lines::room_coldest_c)
      .most(lines::room_warmest_c);
  inputs
      .quantity(
          "room.night", [of](In& in) -> double& { return of(in).night_c; }, Dimension::temperature, "11 degC")
      .least(lines::room_coldest_c)
      .most(lines::room_warmest_c);
}

}  // namespace barm::operations
