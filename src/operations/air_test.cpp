// barm air test: KLa from a logged re-aeration test.
#include "air/reaeration.h"
#include "operations/readings_csv.h"
#include "operations/registry.h"

namespace barm::operations {
namespace {

struct In {
  std::string readings;
  double probe_lag_h = unset;
  double temperature_c = unset;
};

Answer<air::Reaeration> answer(const In& in, const World& world) {
  Findings findings;
  const auto text = findings.take(retarget(world.read_file(in.readings), {{"", "readings"}}));
  if (!text) return std::move(findings).refusal<air::Reaeration>();
  const auto readings = findings.take(read_readings(*text, "readings"));
  if (!readings) return std::move(findings).refusal<air::Reaeration>();
  air::ReaerationOptions options{.temperature_c = in.temperature_c};
  if (std::isfinite(in.probe_lag_h)) options.probe_lag_s = in.probe_lag_h * 3600.0;
  auto fitted = findings.take(retarget(air::fit_reaeration(*readings, options), {{"", "readings"}}));
  if (!fitted) return std::move(findings).refusal<air::Reaeration>();
  return std::move(findings).answer(*fitted);
}

}  // namespace

Operation air_test() {
  using air::Reaeration;
  Inputs<In> inputs;
  inputs.text("readings", at(&In::readings), "readings.csv", Kind::file_read).required();
  inputs.quantity("probe_lag", at(&In::probe_lag_h), Dimension::duration, "10 s").least(0.0).most(0.5);
  inputs.quantity("temperature", at(&In::temperature_c), Dimension::temperature, "20 degC").least(0.0).most(60.0);
  Outputs<Reaeration> outputs;
  outputs.number("kla_per_h", at(&Reaeration::kla_per_h), Dimension::rate)
      .number("kla_standard_error_per_h", at(&Reaeration::kla_standard_error_per_h), Dimension::rate)
      .number("kla20_per_h", at(&Reaeration::kla20_per_h), Dimension::rate)
      .number("saturation_mg_per_l", at(&Reaeration::saturation_mg_per_l), Dimension::concentration)
      .number("saturation_standard_error_mg_per_l", at(&Reaeration::saturation_standard_error_mg_per_l),
              Dimension::concentration)
      .number("start_mg_per_l", at(&Reaeration::start_mg_per_l), Dimension::concentration)
      .number("start_standard_error_mg_per_l", at(&Reaeration::start_standard_error_mg_per_l), Dimension::concentration)
      .number("probe_lag_s", at(&Reaeration::probe_lag_s), "s")
      .number("residual_mg_per_l", at(&Reaeration::residual_mg_per_l), Dimension::concentration)
      .whole("readings_used_count", at(&Reaeration::readings_used_count))
      .number("covered_share", at(&Reaeration::covered_share), Dimension::share);
  return define<In, Reaeration>({.noun = "air",
                                 .verb = "test",
                                 .inputs = inputs,
                                 .outputs = outputs,
                                 .answer = answer,
                                 .examples = {{"air test --readings readings.csv --temperature \"21 degC\""}}});
}

}  // namespace barm::operations
