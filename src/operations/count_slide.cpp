// barm count slide: cells or protozoa per mL from fields under the microscope.
#include "count/slide.h"

#include "count/tables.h"
#include "operations/registry.h"
#include "operations/shipped.h"

namespace barm::operations {
namespace {

using count::Slide;
using count::SlideCount;
using count::SlideInterval;

struct In {
  Slide slide;
  std::string chamber;
};

const Choices<SlideInterval>& intervals() {
  static const Choices<SlideInterval> all = {{"poisson_exact", SlideInterval::poisson_exact},
                                             {"ln_student", SlideInterval::ln_student}};
  return all;
}

Answer<SlideCount> answer(const In& in, const World&) {
  Findings findings;
  Slide slide = in.slide;
  if (!in.chamber.empty()) {
    const auto chamber = findings.take(shipped_count_tables().chamber(in.chamber));
    if (!chamber) return std::move(findings).refusal<SlideCount>();
    slide.square_volume_ml = (*chamber)->square_volume_ml;
  }
  return count::count_slide(slide);
}

std::string tell(const SlideCount& out, const Voice& voice) {
  const auto amount = [&](double value) { return write({value, Dimension::cell_density}, voice.customs, 2); };
  std::map<std::string, Remark::Fact> facts{{"estimate", amount(out.per_ml)},
                                            {"low", amount(out.low_95)},
                                            {"high", amount(out.high_95)},
                                            {"counted", std::to_string(out.counted_count)}};
  const bool is_exact = out.interval_method == SlideInterval::poisson_exact;
  facts["method"] = voice.say(is_exact ? "operations.count.poisson_exact" : "operations.count.ln_student");
  if (out.counted_count == 0) return voice.say("operations.count.slide_below", std::move(facts)) + "\n";
  if (out.more_fields_count > 0) facts["more"] = std::to_string(out.more_fields_count);
  return voice.say("operations.count.slide", std::move(facts)) + "\n";
}

}  // namespace

Operation count_slide() {
  Inputs<In> inputs;
  inputs.wholes("counted", at(&In::slide, &Slide::counted), "12,9,15").required().least(0);
  inputs.quantity("field_area", at(&In::slide, &Slide::field_area_m2), Dimension::area, "0.159 mm2").above(0.0);
  inputs.quantity("field_diameter", at(&In::slide, &Slide::field_diameter_m), Dimension::length, "0.45 mm").above(0.0);
  inputs.quantity("covered_area", at(&In::slide, &Slide::covered_area_m2), Dimension::area, "324 mm2").above(0.0);
  inputs.quantity("volume", at(&In::slide, &Slide::volume_l), Dimension::volume, "10 uL").above(0.0);
  inputs.text("chamber", at(&In::chamber), "neubauer_medium");
  inputs.quantity("dilution_factor", at(&In::slide, &Slide::dilution_factor), Dimension::number, "10").least(1.0);
  inputs.quantity("precision", at(&In::slide, &Slide::precision_share), Dimension::share, "10 %")
      .least(0.001)
      .most(1.0);
  inputs.alternatives({"field_area", "field_diameter", "chamber"});
  inputs.alternatives({"covered_area", "chamber"});  // a chamber tells both
  inputs.alternatives({"volume", "chamber"});
  Outputs<SlideCount> outputs;
  outputs.number("estimate_per_ml", at(&SlideCount::per_ml), Dimension::cell_density)
      .number("low_95", at(&SlideCount::low_95), Dimension::cell_density)
      .number("high_95", at(&SlideCount::high_95), Dimension::cell_density)
      .choice("interval_method", at(&SlideCount::interval_method), intervals())
      .number("ln_standard_error", at(&SlideCount::ln_standard_error), "")
      .whole("counted_count", at(&SlideCount::counted_count))
      .number("dispersion_index", at(&SlideCount::dispersion_index), "")
      .number("dispersion_probability", at(&SlideCount::dispersion_probability), "")
      .number("clumping_k", at(&SlideCount::clumping_k), "")
      .whole("more_fields_count", at(&SlideCount::more_fields_count));
  return define<In, SlideCount>(
      {.noun = "count",
       .verb = "slide",
       .inputs = inputs,
       .outputs = outputs,
       .answer = answer,
       .tell = tell,
       .examples = {{"count slide --counted 12,9,15,8,14 --field-diameter \"0.45 mm\" --covered-area \"324 mm2\" "
                     "--volume \"10 uL\" --dilution-factor 10"}}});
}

}  // namespace barm::operations
