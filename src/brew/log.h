// What was read and done while a brew ran.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "brew/setup.h"
#include "quantity/answer.h"

namespace barm::brew {

enum class Measured : std::uint8_t {
  oxygen,        // mg/L
  oxygen_share,  // of saturation, 1 is full
  temperature,   // of the liquid, degC
  bacteria,      // per mL, counted
  protozoa       // flagellates and amoebae per mL, counted
};

struct LogReading {
  Measured what = Measured::oxygen;
  double at_h = 0.0;     // since air on
  double value = unset;  // in the unit above
  double error = unset;  // standard deviation, in the unit above; of a count relative; unset: the instrument's usual
  int line = 0;          // where it stands in a file; 0: nowhere
};

struct BrewLog {
  std::vector<LogReading> readings;
  std::vector<Act> acts;
};

/// What became of a reading.
enum class Fate : std::uint8_t {
  used,
  out_of_line,   // learned from as good as nothing: no brew the model knows would show it
  stuck,         // the meter stood still while the brew must have moved
  impossible,    // no such water: most likely another unit
  repeated,      // there already
  merged,        // with others of about the same time
  before_start,  // the brew did not run yet
};

struct Heard {
  LogReading reading;
  Fate fate = Fate::used;
  double out_of_line_share = 0.0;  // probability that it is out of line, 0 to 1
  double noise = unset;  // standard deviation it was heard with, in its unit, of a count relative; unset: not heard
};

}  // namespace barm::brew
