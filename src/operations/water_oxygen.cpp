// barm water oxygen: how much oxygen open water can hold.
#include "operations/registry.h"
#include "water/oxygen.h"
#include "water/pressure.h"

namespace barm::operations {
namespace {

struct In {
  double temperature_c = unset;
  double pressure_kpa = unset;
  double altitude_m = unset;
  double salinity_g_per_kg = 0.0;
};
struct Out {
  double saturation_mg_per_l = unset;
  double pressure_kpa = unset;
};

Answer<Out> answer(const In& in, const World&) {
  double pressure_kpa = std::isfinite(in.pressure_kpa) ? in.pressure_kpa : water::Surface{}.pressure_kpa;
  if (std::isfinite(in.altitude_m)) pressure_kpa = water::pressure_at_altitude_kpa(in.altitude_m);
  Findings findings;
  const auto saturation = findings.take(water::saturation_mg_per_l(
      {.temperature_c = in.temperature_c, .pressure_kpa = pressure_kpa, .salinity_g_per_kg = in.salinity_g_per_kg}));
  return std::move(findings).answer(Out{saturation.value_or(unset), pressure_kpa});
}

}  // namespace

Operation water_oxygen() {
  Inputs<In> inputs;
  inputs.quantity("temperature", at(&In::temperature_c), Dimension::temperature, "20 degC").required();
  inputs.quantity("pressure", at(&In::pressure_kpa), Dimension::pressure, "101.325 kPa").above(0.0);
  inputs.quantity("altitude", at(&In::altitude_m), Dimension::length, "300 m")
      .least(-500.0)
      .most(11'000.0);  // S04: range
  inputs.quantity("salinity", at(&In::salinity_g_per_kg), Dimension::salinity, "0").least(0.0).bare("g/kg");
  inputs.alternatives({"pressure", "altitude"});
  Outputs<Out> outputs;
  outputs.number("saturation_mg_per_l", at(&Out::saturation_mg_per_l), Dimension::concentration)
      .number("pressure_kpa", at(&Out::pressure_kpa), Dimension::pressure);
  return define<In, Out>({.noun = "water",
                          .verb = "oxygen",
                          .inputs = inputs,
                          .outputs = outputs,
                          .answer = answer,
                          .examples = {{"water oxygen --temperature \"20 degC\" --altitude \"300 m\""}}});
}

}  // namespace barm::operations
