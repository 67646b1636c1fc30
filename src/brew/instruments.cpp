#include "brew/instruments.h"

#include <toml++/toml.h>

#include <string>

#include "quantity/expects.h"

namespace barm::brew {
namespace {

Instrument instrument(const toml::table& file, std::string_view name) {
  const auto of = file[name];
  const Instrument read{.noise = of["noise"].value_or(unset),
                        .offset = of["offset"].value_or(0.0),
                        .slope = of["slope"].value_or(0.0),
                        .drift_per_h = of["drift"].value_or(0.0),
                        .lag_h = of["lag"].value_or(0.0)};
  if (!(read.noise > 0.0)) throw BrokenPromise("data/instruments.toml: no noise for " + std::string(name));
  return read;
}

}  // namespace

Instruments Instruments::read(std::string_view text) {
  try {
    const toml::table file = toml::parse(text);
    Instruments all{.oxygen = instrument(file, "oxygen"),
                    .oxygen_share = instrument(file, "oxygen_share"),
                    .temperature = instrument(file, "temperature"),
                    .bacteria = instrument(file, "bacteria"),
                    .protozoa = instrument(file, "protozoa"),
                    .gross_share = file["gross"]["share"].value_or(unset)};
    if (!(all.gross_share > 0.0 && all.gross_share < 1.0))
      throw BrokenPromise("data/instruments.toml: the share of gross errors lies between 0 and 1");
    return all;
  } catch (const toml::parse_error& e) {
    throw BrokenPromise("data/instruments.toml: " + std::string(e.description()));
  }
}

}  // namespace barm::brew
