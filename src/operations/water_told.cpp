#include "operations/water_told.h"

namespace barm::operations {

using water::Clearing;
using water::ClearingMethod;

const Choices<ClearingMethod>& clearing_methods() {
  static const Choices<ClearingMethod> methods = {{"stand", ClearingMethod::stand},
                                                  {"bubble", ClearingMethod::bubble},
                                                  {"carbon_filter", ClearingMethod::carbon_filter},
                                                  {"ascorbic_acid", ClearingMethod::ascorbic_acid},
                                                  {"sodium_ascorbate", ClearingMethod::sodium_ascorbate},
                                                  {"sodium_thiosulfate", ClearingMethod::sodium_thiosulfate},
                                                  {"humic_acid", ClearingMethod::humic_acid}};
  return methods;
}

Outputs<Clearing> clearing_outputs() {
  Outputs<Clearing> outputs;
  outputs.choice("method", at(&Clearing::method), clearing_methods())
      .flag("works", at(&Clearing::works))
      .number("dose_g", at(&Clearing::dose_g), Dimension::mass)
      .number("wait_low_h", at(&Clearing::wait_low_h), Dimension::duration)
      .number("wait_high_h", at(&Clearing::wait_high_h), Dimension::duration)
      .number("trade_wait_h", at(&Clearing::trade_wait_h), Dimension::duration)
      .remarks("notes", at(&Clearing::notes));
  return outputs;
}

std::string tell_clearing(const Clearing& clearing, const Voice& voice) {
  std::string method;
  for (const auto& [word, value] : clearing_methods()) {
    if (value == clearing.method) method = word;
  }
  std::map<std::string, Remark::Fact> facts{{"method", voice.say("operations.clearing." + method)}};
  const auto put = [&](const char* name, double value, Dimension dimension) {
    if (std::isfinite(value) && value > 0.0) facts.emplace(name, Quantity{value, dimension});
  };
  put("dose", clearing.dose_g, Dimension::mass);
  put("wait", clearing.wait_high_h, Dimension::duration);
  put("trade", clearing.trade_wait_h, Dimension::duration);
  std::string text =
      voice.say(clearing.works ? "operations.clearing.works" : "operations.clearing.falls_short", facts) + "\n";
  for (const auto& note : clearing.notes) text += "  " + voice.say(note) + "\n";
  return text;
}

}  // namespace barm::operations
