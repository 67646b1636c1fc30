#include "operations/driver_told.h"

#include <algorithm>
#include <cctype>

#include "quantity/expects.h"

namespace barm::operations {

std::string measured_word(brew::Measured what) {
  switch (what) {
    case brew::Measured::oxygen:
      return "oxygen";
    case brew::Measured::oxygen_share:
      return "oxygen_share";
    case brew::Measured::temperature:
      return "temperature";
    case brew::Measured::bacteria:
      return "bacteria";
    case brew::Measured::protozoa:
      return "protozoa";
  }
  throw BrokenPromise("a reading is of one of the named kinds");
}

std::string fate_word(brew::Fate fate) {
  switch (fate) {
    case brew::Fate::used:
      return "used";
    case brew::Fate::out_of_line:
      return "out_of_line";
    case brew::Fate::stuck:
      return "stuck";
    case brew::Fate::impossible:
      return "impossible";
    case brew::Fate::repeated:
      return "repeated";
    case brew::Fate::merged:
      return "merged";
    case brew::Fate::before_start:
      return "before_start";
  }
  throw BrokenPromise("a reading has one of the named fates");
}

std::string driver_text(const brew::Driver& driver, const Voice& voice) {
  std::string key = driver.symbol;
  std::transform(key.begin(), key.end(), key.begin(), [](unsigned char c) { return std::tolower(c); });
  // "compost2.cells" is what the second compost holds of cells, "food1.cod" how strong the first food is.
  const auto dot = key.find('.');
  if (dot == std::string::npos) return voice.say("brew.driver." + key);
  const auto digit = key.find_first_of("0123456789");
  const std::string number = key.substr(digit, dot - digit);
  return voice.say("brew.driver." + key.substr(0, digit) + "_" + key.substr(dot + 1), {{"number", number}});
}

}  // namespace barm::operations
