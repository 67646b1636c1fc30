// barm water clear: how to rid water of chlorine and chloramine before microbes meet it.
#include "operations/registry.h"
#include "operations/water_told.h"

namespace barm::operations {
namespace {

struct In {
  double volume_l = unset;
  water::Disinfectant disinfectant;
};
struct Out {
  std::vector<water::Clearing> methods;
};

Answer<Out> answer(const In& in, const World&) {
  Findings findings;
  auto methods = findings.take(retarget(
      water::clear_water(in.volume_l, in.disinfectant),
      {{"free_chlorine_mg_per_l", "free_chlorine"}, {"chloramine_mg_per_l", "chloramine"}, {"volume_l", "volume"}}));
  return std::move(findings).answer(Out{std::move(methods).value_or(std::vector<water::Clearing>())});
}

std::string tell(const Out& out, const Voice& voice) {
  std::string text;
  for (const auto& method : out.methods) text += tell_clearing(method, voice);
  return text + voice.say("operations.clearing.confirm") + "\n";
}

}  // namespace

Operation water_clear() {
  Inputs<In> inputs;
  inputs.quantity("volume", at(&In::volume_l), Dimension::volume, "19 L").required().above(0.0);
  inputs
      .quantity("free_chlorine", at(&In::disinfectant, &water::Disinfectant::free_chlorine_mg_per_l),
                Dimension::concentration, "1 mg/L")
      .least(0.0);
  inputs
      .quantity("chloramine", at(&In::disinfectant, &water::Disinfectant::chloramine_mg_per_l),
                Dimension::concentration, "0 mg/L")
      .least(0.0);
  Outputs<Out> outputs;
  outputs.list("methods", at(&Out::methods), clearing_outputs());
  return define<In, Out>({.noun = "water",
                          .verb = "clear",
                          .inputs = inputs,
                          .outputs = outputs,
                          .answer = answer,
                          .tell = tell,
                          .examples = {{"water clear --volume \"19 L\" --free_chlorine \"1 mg/L\""}}});
}

}  // namespace barm::operations
