// barm rule class: what the produce-safety law calls a tea, where it may go, and the ways out.
#include "operations/registry.h"
#include "operations/rule_class_told.h"
#include "operations/rule_inputs.h"

namespace barm::operations {
namespace {

struct In {
  RuleFacts facts{};
};

Answer<ClassTold> answer(const In& in, const World&) {
  Findings findings;
  const auto facts = in.facts.facts(findings);
  return std::move(findings).answer(ClassTold::of(rule::tea_facts(facts), rule::contact_facts(facts)));
}

std::string tell(const ClassTold& told, const Voice& voice) {
  std::string text = class_text(told, voice);
  for (const auto& caution : rule_cautions()) text += voice.say(caution) + "\n";
  return text;
}

}  // namespace

Operation rule_class() {
  Inputs<In> inputs;
  fact_inputs(inputs, "", class_facts(), [](In& in) -> RuleFacts& { return in.facts; });
  Outputs<ClassTold> outputs = class_outputs();
  outputs.remarks("cautions", [](const ClassTold&) { return rule_cautions(); });
  return define<In, ClassTold>(
      {.noun = "rule",
       .verb = "class",
       .inputs = inputs,
       .outputs = outputs,
       .answer = answer,
       .tell = tell,
       .examples = {{"rule class --animal-origin yes --process composted --food yes --held \"20 h\" --water-source "
                     "municipal --water-e-coli no --recontaminated no"}},
       .words_of = "rule check"});
}

}  // namespace barm::operations
