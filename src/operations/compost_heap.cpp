// barm compost heap: how warm a pile will get and when to turn it. Indicative.
#include "compost/heap.h"

#include "data/embedded.h"
#include "operations/count_told.h"
#include "operations/registry.h"

namespace barm::operations {
namespace {

using compost::HeapAsk;
using compost::HeapTold;

struct In {
  HeapAsk ask;
  double volume_l = unset, length_h = 720.0, turn_rest_h = 72.0;
};

Answer<HeapTold> answer(const In& in, const World&) {
  static const auto figures = compost::HeapFigures::read(data::file("heap.toml"));
  HeapAsk ask = in.ask;
  ask.volume_m3 = in.volume_l / 1000.0;
  ask.length_d = in.length_h / 24.0;
  ask.turn_rest_d = in.turn_rest_h / 24.0;
  return compost::foretell_heap(ask, figures);
}

Remarks cautions(const HeapTold&) {
  return {{"compost.heap.caution.probes", "", {}},
          {"compost.heat.caution.fire", "", {}},
          {"compost.heat.caution.dust", "", {}}};
}

std::string tell(const HeapTold& out, const Voice& voice) {
  const auto warm = [&](double c) { return write({std::round(c), Dimension::temperature}, voice.customs, 2); };
  std::string text =
      voice.say("operations.compost.heap.peak",
                {{"middle", warm(out.peak_c)}, {"low", warm(out.peak_low_c)}, {"high", warm(out.peak_high_c)}}) +
      "\n";
  text += voice.say("operations.compost.heap.hot", {{"middle", two_digits(out.above_55_d)},
                                                    {"low", two_digits(out.above_55_low_d)},
                                                    {"high", two_digits(out.above_55_high_d)},
                                                    {"hot", warm(55.0)}}) +
          "\n";
  std::string days;
  for (const double day : out.turns_d) days += (days.empty() ? "" : ", ") + std::to_string(std::lround(std::ceil(day)));
  text += (days.empty() ? voice.say("operations.compost.heap.no_turn")
                        : voice.say("operations.compost.heap.turns", {{"days", days}})) +
          "\n";
  for (const Remark& caution : cautions(out)) text += voice.say(caution) + "\n";
  return text;
}

}  // namespace

Operation compost_heap() {
  Inputs<In> inputs;
  inputs.quantity("volume", at(&In::volume_l), Dimension::volume, "2000 L").required().above(0.0);
  inputs.quantity("air_temperature", at(&In::ask, &HeapAsk::air_c), Dimension::temperature, "15 degC").required();
  inputs.quantity("start_temperature", at(&In::ask, &HeapAsk::start_c), Dimension::temperature, "18 degC");
  inputs.quantity("moisture", at(&In::ask, &HeapAsk::moisture_share), Dimension::share, "55 %").least(0.0).most(1.0);
  inputs.quantity("bulk_density", at(&In::ask, &HeapAsk::bulk_density_kg_per_m3), Dimension::density, "550 kg/m3");
  inputs.quantity("length", at(&In::length_h), Dimension::duration, "30 d");
  inputs.quantity("turn_at", at(&In::ask, &HeapAsk::turn_at_c), Dimension::temperature, "65 degC");
  inputs.quantity("turn_below", at(&In::ask, &HeapAsk::turn_below_c), Dimension::temperature, "50 degC");
  inputs.quantity("turn_rest", at(&In::turn_rest_h), Dimension::duration, "3 d");
  Outputs<HeapTold> outputs;
  outputs.number("peak_c", at(&HeapTold::peak_c), Dimension::temperature)
      .number("peak_low_c", at(&HeapTold::peak_low_c), Dimension::temperature)
      .number("peak_high_c", at(&HeapTold::peak_high_c), Dimension::temperature)
      .number("above_55_d", at(&HeapTold::above_55_d), "d")
      .number("above_55_low_d", at(&HeapTold::above_55_low_d), "d")
      .number("above_55_high_d", at(&HeapTold::above_55_high_d), "d")
      .series("turns_d", at(&HeapTold::turns_d), "d")
      .number("degraded_share", at(&HeapTold::degraded_share), Dimension::share)
      .series("time_d", at(&HeapTold::time_d), "d")
      .series("low_c", at(&HeapTold::low_c), Dimension::temperature)
      .series("middle_c", at(&HeapTold::middle_c), Dimension::temperature)
      .series("high_c", at(&HeapTold::high_c), Dimension::temperature)
      .remarks("cautions", cautions);
  return define<In, HeapTold>({.noun = "compost",
                               .verb = "heap",
                               .inputs = inputs,
                               .outputs = outputs,
                               .answer = answer,
                               .tell = tell,
                               .examples = {{"compost heap --volume \"2000 L\" --air-temperature \"15 degC\""}}});
}

}  // namespace barm::operations
