#include "brew/instruments.h"

#include <string>

#include "quantity/data_entry.h"

namespace barm::brew {
namespace {

/// `unit`: of what is read.
Instrument instrument(const DataEntry& file, std::string_view name, const std::string& unit) {
  DataEntry of = file.inside(name);
  const Instrument read{.noise = of.number("noise", unit),
                        .offset = of.number_or("offset", unit, 0.0),
                        .slope = of.number_or("slope", "share", 0.0),
                        .drift_per_h = of.number_or("drift", unit + "/h", 0.0),
                        .lag_h = of.number_or("lag", "h", 0.0)};
  of.promise(read.noise > 0.0, "no noise");
  return read;
}

}  // namespace

Instruments Instruments::read(std::string_view text) {
  Instruments all;
  whole_data_file(text, "instruments.toml", [&](const DataEntry& file) {
    all = {.oxygen = instrument(file, "oxygen", "mg/L"),
           .oxygen_share = instrument(file, "oxygen_share", "share"),
           .temperature = instrument(file, "temperature", "degC"),
           .bacteria = instrument(file, "bacteria", "ln"),
           .protozoa = instrument(file, "protozoa", "ln"),
           .gross_share = file.inside("gross").number("share", "share")};
    file.promise(all.gross_share > 0.0 && all.gross_share < 1.0, "the share of gross errors lies between 0 and 1");
  });
  return all;
}

}  // namespace barm::brew
