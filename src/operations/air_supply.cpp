// barm air supply: what a pump delivers at the bottom of a vessel, and the oxygen transfer to expect of it.
#include "operations/air_told.h"
#include "operations/registry.h"
#include "water/pressure.h"

namespace barm::operations {
namespace {

struct In {
  air::Supply supply;
  air::Vessel vessel;
  double tube_bore_m = air::Supply{}.tube_bore_mm / mm_per_m;
  double temperature_c = 20.0;
  double altitude_m = 0.0;
};
struct Out {
  air::Delivered air;
  air::KlaEstimate kla;
};

const std::map<std::string, std::string>& fields_below() {
  static const std::map<std::string, std::string> names = {{"rated_flow_l_per_h", "rated_flow"},
                                                           {"maximum_pressure_kpa", "maximum_pressure"},
                                                           {"volume_l", "volume"},
                                                           {"diameter_m", "diameter"},
                                                           {"tube_length_m", "tube_length"},
                                                           {"tube_bore_mm", "tube_bore"},
                                                           {"temperature_c", "temperature"},
                                                           {"air_pressure_kpa", "altitude"}};
  return names;
}

Answer<Out> answer(const In& in, const World&) {
  air::Supply supply = in.supply;
  supply.tube_bore_mm = in.tube_bore_m * mm_per_m;
  Findings findings;
  const double pressure_kpa = water::pressure_at_altitude_kpa(in.altitude_m);
  const auto air =
      findings.take(retarget(air::deliver(supply, in.vessel, in.temperature_c, pressure_kpa), fields_below()));
  if (!air) return std::move(findings).refusal<Out>();
  const auto kla = findings.take(retarget(air::estimate_kla(*air, in.vessel, supply.diffuser), fields_below()));
  if (!kla) return std::move(findings).refusal<Out>();
  return std::move(findings).answer(Out{*air, *kla});
}

}  // namespace

Operation air_supply() {
  using air::Delivered;
  using air::KlaEstimate;
  using air::Supply;
  Inputs<In> inputs;
  inputs.quantity("rated_flow", at(&In::supply, &Supply::rated_flow_l_per_h), Dimension::flow, "570 L/h")
      .required()
      .above(0.0);
  inputs.quantity("maximum_pressure", at(&In::supply, &Supply::maximum_pressure_kpa), Dimension::pressure, "20 kPa")
      .above(0.0);
  inputs.choice("diffuser", at(&In::supply, &Supply::diffuser), diffusers());
  inputs.quantity("volume", at(&In::vessel, &air::Vessel::volume_l), Dimension::volume, "19 L").required().above(0.0);
  inputs.quantity("diameter", at(&In::vessel, &air::Vessel::diameter_m), Dimension::length, "28 cm")
      .required()
      .above(0.0);
  inputs.quantity("tube_length", at(&In::supply, &Supply::tube_length_m), Dimension::length, "1.5 m")
      .least(0.0)
      .most(100.0);
  inputs.quantity("tube_bore", at(&In::tube_bore_m), Dimension::length, "4 mm").least(0.001).most(0.1);
  inputs.quantity("temperature", at(&In::temperature_c), Dimension::temperature, "20 degC").least(0.0).most(60.0);
  inputs.quantity("altitude", at(&In::altitude_m), Dimension::length, "0 m")
      .least(-500.0)
      .most(11'000.0);  // S04: range
  Outputs<Out> outputs;
  outputs.number("delivered_l_per_h", at(&Out::air, &Delivered::flow_l_per_h), Dimension::flow)
      .number("vvm", at(&Out::air, &Delivered::vvm), "L/L/min")
      .number("kla20_per_h", at(&Out::kla, &KlaEstimate::kla20_per_h), Dimension::rate)
      .object("air", at(&Out::air), delivered_outputs())
      .object("kla", at(&Out::kla), kla_outputs());
  return define<In, Out>(
      {.noun = "air",
       .verb = "supply",
       .inputs = inputs,
       .outputs = outputs,
       .answer = answer,
       .examples = {{"air supply --rated_flow \"570 gph\" --volume \"19 L\" --diameter \"28 cm\""}}});
}

}  // namespace barm::operations
