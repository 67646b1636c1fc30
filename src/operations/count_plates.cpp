// barm count plates: colonies per mL by the rule of a standard.
#include "count/plates.h"
#include "count/plates_likely.h"

#include "operations/count_told.h"
#include "operations/registry.h"
#include "operations/shipped.h"

namespace barm::operations {
namespace {

using count::PlateCount;
using count::Plates;
using count::PlatesInterval;
using count::PlatesKind;
using count::PlatesLimits;

struct In {
  Plates plates;
  double volume_l = 0.001;
  std::string standard = "bam";
};
struct Out {
  PlateCount count;
  count::LikelyCount likely;
};

const Choices<PlatesKind>& kinds() {
  static const Choices<PlatesKind> all = {{"countable", PlatesKind::countable},
                                          {"estimated", PlatesKind::estimated},
                                          {"below", PlatesKind::below},
                                          {"above", PlatesKind::above}};
  return all;
}

const Choices<PlatesInterval>& intervals() {
  static const Choices<PlatesInterval> all = {{"poisson_exact", PlatesInterval::poisson_exact},
                                              {"ln_student", PlatesInterval::ln_student}};
  return all;
}

const Choices<PlatesLimits>& limits() {
  static const Choices<PlatesLimits> all = {{"by_test", PlatesLimits::by_test}, {"by_spread", PlatesLimits::by_spread}};
  return all;
}

Answer<Out> answer(const In& in, const World&) {
  Findings findings;
  const auto rule = findings.take(shipped_count_tables().plate_rule(in.standard));
  if (!rule) return std::move(findings).refusal<Out>();
  Plates plates = in.plates;
  plates.volume_ml = in.volume_l * 1000.0;
  const auto counted = findings.take(count::count_plates(plates, **rule));
  if (!counted) return std::move(findings).refusal<Out>();
  count::LikelyPlates likely{.colonies = plates.colonies};
  for (const double dilution : plates.dilution) likely.amount_ml.push_back(dilution * plates.volume_ml);
  for (const double dilution : plates.too_many) likely.crowded_ml.push_back(dilution * plates.volume_ml);
  likely.crowded_above.assign(likely.crowded_ml.size(), std::llround((*rule)->high_count));
  std::map<std::string, std::string> places;
  for (std::size_t i = 1; i <= plates.too_many.size(); ++i)
    places["crowded[" + std::to_string(i) + "]"] = "too_many[" + std::to_string(i) + "]";
  const auto all = findings.take(retarget(count::count_plates_likely(likely), places));
  if (!all) return std::move(findings).refusal<Out>();
  return std::move(findings).answer(Out{*counted, *all});
}

std::string tell(const Out& answer, const Voice& voice) {
  const PlateCount& out = answer.count;
  const auto amount = [&](double value) { return write({value, Dimension::cell_density}, voice.customs, 2); };
  std::string kind;
  for (const auto& [word, value] : kinds()) {
    if (value == out.kind) kind = word;
  }
  std::map<std::string, Remark::Fact> facts{{"reported", amount(out.reported_per_ml)},
                                            {"plates", std::to_string(out.plates_used_count)}};
  if (std::isfinite(out.low_95)) facts["low"] = amount(out.low_95);
  if (std::isfinite(out.high_95)) facts["high"] = amount(out.high_95);
  return voice.say("operations.count.plates." + kind, std::move(facts)) + "\n";
}

}  // namespace

Operation count_plates() {
  Inputs<In> inputs;
  inputs.list("dilution", at(&In::plates, &Plates::dilution), Dimension::number, "0.01,0.01,0.001,0.001")
      .above(0.0)
      .most(1.0);
  inputs.wholes("colonies", at(&In::plates, &Plates::colonies), "232,244,33,28").least(0);
  inputs.list("too_many", at(&In::plates, &Plates::too_many), Dimension::number, "0.1,0.1").above(0.0).most(1.0);
  inputs.list("spreaders", at(&In::plates, &Plates::spreaders), Dimension::number, "0.01").above(0.0).most(1.0);
  inputs.quantity("volume", at(&In::volume_l), Dimension::volume, "1 mL").above(0.0);
  inputs.text("standard", at(&In::standard), "bam");
  inputs.choice("limits", at(&In::plates, &Plates::limits), limits());
  Outputs<Out> outputs;
  outputs.number("estimate_per_ml", at(&Out::count, &PlateCount::per_ml), Dimension::cell_density)
      .number("low_95", at(&Out::count, &PlateCount::low_95), Dimension::cell_density)
      .number("high_95", at(&Out::count, &PlateCount::high_95), Dimension::cell_density)
      .choice("interval_method", at(&Out::count, &PlateCount::interval_method), intervals())
      .choice("kind", at(&Out::count, &PlateCount::kind), kinds())
      .number("reported_per_ml", at(&Out::count, &PlateCount::reported_per_ml), Dimension::cell_density)
      .number("ln_standard_error", at(&Out::count, &PlateCount::ln_standard_error), "")
      .whole("plates_used_count", at(&Out::count, &PlateCount::plates_used_count))
      .whole("colonies_used_count", at(&Out::count, &PlateCount::colonies_used_count))
      .whole("spreaders_count", at(&Out::count, &PlateCount::spreaders_count))
      .number("dispersion_index", at(&Out::count, &PlateCount::dispersion_index), "")
      .number("dispersion_probability", at(&Out::count, &PlateCount::dispersion_probability), "")
      .number("likely_per_ml", at(&Out::likely, &count::LikelyCount::per_ml), Dimension::cell_density)
      .number("likely_low_95", at(&Out::likely, &count::LikelyCount::low_95), Dimension::cell_density)
      .number("likely_high_95", at(&Out::likely, &count::LikelyCount::high_95), Dimension::cell_density);
  return define<In, Out>({.noun = "count",
                          .verb = "plates",
                          .inputs = inputs,
                          .outputs = outputs,
                          .answer = answer,
                          .tell = tell,
                          .examples = {{"count plates --dilution 0.01,0.01,0.001,0.001 --colonies 232,244,33,28"}}});
}

}  // namespace barm::operations
