// barm count tubes: most probable number from tubes that grew.
#include "count/tubes.h"
#include "operations/count_told.h"
#include "operations/registry.h"

namespace barm::operations {
namespace {

using count::MostProbable;
using count::TubesInterval;

struct In {
  count::Tubes tubes;
  TubesInterval interval = TubesInterval::likelihood_ratio;
  bool is_corrected = false;
};
struct Out {
  MostProbable most;
  TubesInterval interval = TubesInterval::likelihood_ratio;
  std::string reported;
};

const Choices<TubesInterval>& intervals() {
  static const Choices<TubesInterval> all = {{"likelihood_ratio", TubesInterval::likelihood_ratio},
                                             {"ln_normal", TubesInterval::ln_normal}};
  return all;
}

Answer<Out> answer(const In& in, const World&) {
  Findings findings;
  auto most = findings.take(count::most_probable_number(in.tubes, in.interval));
  if (!most) return std::move(findings).refusal<Out>();
  if (!in.is_corrected) most->corrected_per_unit = unset;
  const char* mark = most->beside == count::Beside::below ? "<" : most->beside == count::Beside::above ? ">" : "";
  return std::move(findings).answer(Out{*most, in.interval, mark + two_digits(most->reported_per_unit)});
}

std::string tell(const Out& out, const Voice& voice) {
  const auto& most = out.most;
  std::map<std::string, Remark::Fact> facts{{"reported", out.reported}};
  if (std::isfinite(most.low_95) && most.low_95 > 0.0) facts["low"] = two_digits(most.low_95);
  if (std::isfinite(most.high_95)) facts["high"] = two_digits(most.high_95);
  if (std::isfinite(most.corrected_per_unit)) facts["corrected"] = two_digits(most.corrected_per_unit);
  const bool is_likelihood = out.interval == TubesInterval::likelihood_ratio;
  facts["method"] = voice.say(is_likelihood ? "operations.count.likelihood_ratio" : "operations.count.ln_normal");
  if (most.rarity_index < 0.001)
    facts["rarity"] = std::string("<0.001");
  else
    facts["rarity"] = Quantity{most.rarity_index, Dimension::number};
  return voice.say("operations.count.tubes", std::move(facts)) + "\n";
}

}  // namespace

Operation count_tubes() {
  using count::Tubes;
  Inputs<In> inputs;
  inputs.list("inoculum", at(&In::tubes, &Tubes::inoculum), Dimension::number, "0.1,0.01,0.001").required().above(0.0);
  inputs.wholes("tubes", at(&In::tubes, &Tubes::tubes), "3,3,3").required().least(1);
  inputs.wholes("positive", at(&In::tubes, &Tubes::positive), "3,1,0").required().least(0);
  inputs.wholes("sample", at(&In::tubes, &Tubes::sample), "1,1,2");
  inputs.choice("interval", at(&In::interval), intervals());
  inputs.flag("corrected", at(&In::is_corrected));
  Outputs<Out> outputs;
  outputs.number("estimate_per_unit", at(&Out::most, &MostProbable::per_unit), "1/unit")
      .number("low_95", at(&Out::most, &MostProbable::low_95), "1/unit")
      .number("high_95", at(&Out::most, &MostProbable::high_95), "1/unit")
      .choice("interval_method", at(&Out::interval), intervals())
      .number("rarity_index", at(&Out::most, &MostProbable::rarity_index), "")
      .text("reported_per_unit", at(&Out::reported))
      .number("ln_standard_error", at(&Out::most, &MostProbable::ln_standard_error), "")
      .number("corrected_per_unit", at(&Out::most, &MostProbable::corrected_per_unit), "1/unit")
      .whole("samples_count", at(&Out::most, &MostProbable::samples_count))
      .number("samples_agree_probability", at(&Out::most, &MostProbable::samples_agree_probability), "");
  return define<In, Out>({.noun = "count",
                          .verb = "tubes",
                          .inputs = inputs,
                          .outputs = outputs,
                          .answer = answer,
                          .tell = tell,
                          .examples = {{"count tubes --inoculum 0.1,0.01,0.001 --tubes 3,3,3 --positive 3,1,0"}}});
}

}  // namespace barm::operations
