// barm units convert: a quantity as people write it, in another unit.
#include <fmt/format.h>

#include "operations/registry.h"

namespace barm::operations {
namespace {

struct In {
  std::string quantity;
  std::string unit;
  Customs customs;
};
struct Out {
  double value = unset;
  std::string unit;
  std::string quantity;  // as it was written
};

Answer<Out> answer(const In& in, const World&) {
  Findings findings;
  auto converted = findings.take(retarget(convert(in.quantity, in.unit, in.customs), {{"", "quantity"}}));
  if (!converted) return std::move(findings).refusal<Out>();
  return std::move(findings).answer(Out{converted->value, converted->unit, in.quantity});
}

std::string tell(const Out& out, const Voice&) {
  return fmt::format("{} = {:.6g} {}\n", out.quantity, out.value, out.unit);
}

}  // namespace

Operation units_convert() {
  Inputs<In> inputs;
  inputs.text("quantity", at(&In::quantity), "4 tbsp").required().positional();
  inputs.text("unit", at(&In::unit), "mL").required().positional();
  inputs.customs(at(&In::customs));
  Outputs<Out> outputs;
  outputs.number("value", at(&Out::value), "").text("unit", at(&Out::unit)).text("quantity", at(&Out::quantity));
  return define<In, Out>({.noun = "units",
                          .verb = "convert",
                          .inputs = inputs,
                          .outputs = outputs,
                          .answer = answer,
                          .tell = tell,
                          .examples = {{"units convert \"4 tbsp\" mL"}, {"units convert \"68 degF\" degC"}}});
}

}  // namespace barm::operations
