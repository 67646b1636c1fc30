// barm recipe scale: a plan told in another size, beside what it was and what mere multiplying would give.
#include <algorithm>
#include <cmath>

#include "operations/amounts_told.h"
#include "operations/brew_plan_inputs.h"
#include "operations/plan_file.h"
#include "operations/registry.h"
#include "operations/shipped.h"
#include "recipe/lines.h"
#include "recipe/resize.h"

namespace barm::operations {
namespace {

using recipe::BrewPlan;
using recipe::Resized;
using recipe::Size;

struct ScaleInput : PlanInput {
  double wanted_l = unset, wanted_diameter_m = unset;  // unset: as the plan, of its shape
};
struct Scaled {
  Resized all;
  std::string plan;  // the proposal, as a plan file
};
/// One of the three, its size beside it.
struct Side {
  const BrewPlan* plan;
  const Size* size;
};

Answer<Scaled> answer(const ScaleInput& in, const World& world) {
  Findings findings;
  const recipe::PlanAsk ask = ask_of(in, findings);
  const double volume_l = std::isfinite(in.wanted_l) ? in.wanted_l : ask.volume_l;
  const auto& parallel = world.parallel ? world.parallel : brew::one_after_the_other;
  auto all = findings.take(recipe::resize(ask, volume_l, in.wanted_diameter_m, shipped_knowledge(), parallel));
  if (!all || findings.refused()) return std::move(findings).refusal<Scaled>();
  std::string plan = plan_toml(all->proposed.ask, in.zone);
  return std::move(findings).answer(Scaled{std::move(*all), std::move(plan)});
}

double last(const std::vector<double>& series, const BrewPlan& plan) {
  const auto& time_h = plan.forecast.time_h;
  const auto after = std::upper_bound(time_h.begin(), time_h.end(), plan.ask.length_h + 1e-9) - time_h.begin();
  return after > 0 ? series[static_cast<std::size_t>(after - 1)] : unset;
}

Outputs<Side> side() {
  const auto size = [](double Size::*member) { return [=](const Side& of) { return of.size->*member; }; };
  Outputs<Side> outputs;
  outputs.number("volume_l", size(&Size::volume_l), Dimension::volume)
      .number("diameter_m", size(&Size::diameter_m), Dimension::length)
      .number("depth_m", size(&Size::depth_m), Dimension::length)
      .number("surface_m2_per_m3", size(&Size::surface_m2_per_m3), "m²/m³")
      .number("walls_m2_per_m3", size(&Size::walls_m2_per_m3), "m²/m³")
      .number("rated_flow_l_per_h", size(&Size::rated_flow_l_per_h), Dimension::flow)
      .number("kla20_per_h", size(&Size::kla20_per_h), Dimension::rate)
      .list(
          "amounts", [](const Side& of) { return of.plan->amounts; }, amount_outputs())
      .number(
          "probability_oxygen_stays_above_6",
          [](const Side& of) { return of.plan->forecast.probability_oxygen_stays_above_6; }, "")
      .number(
          "oxygen_low_mg_per_l", [](const Side& of) { return of.plan->forecast.oxygen_minimum_mg_per_l.p05; },
          Dimension::concentration)
      .number(
          "bacteria_per_ml", [](const Side& of) { return last(of.plan->forecast.bacteria_per_ml.p50, *of.plan); },
          "1/mL")
      .number(
          "ready_from_h",
          [](const Side& of) { return of.plan->forecast.ready.exists ? of.plan->forecast.ready.from_h : unset; },
          Dimension::duration);
  return outputs;
}

Outputs<Scaled> outputs() {
  Outputs<Scaled> outputs;
  outputs
      .number(
          "factor", [](const Scaled& of) { return of.all.factor; }, "")
      .object(
          "was",
          [](const Scaled& of) {
            return Side{&of.all.was, &of.all.was_size};
          },
          side())
      .object(
          "naive",
          [](const Scaled& of) {
            return Side{&of.all.naive, &of.all.naive_size};
          },
          side())
      .object(
          "proposed",
          [](const Scaled& of) {
            return Side{&of.all.proposed, &of.all.proposed_size};
          },
          side())
      .remarks("sentences", [](const Scaled& of) { return of.all.sentences; })
      .remarks("naive_refusals", [](const Scaled& of) { return of.all.naive_refusals; })
      .text("plan", at(&Scaled::plan));
  return outputs;
}

std::string row(const char* code, const BrewPlan& plan, const Voice& voice) {
  return voice.say(code, {{"water", Quantity{plan.ask.volume_l, Dimension::volume}},
                          {"pump", Quantity{plan.ask.air.rated_flow_l_per_h, Dimension::flow}},
                          {"of_100", Quantity{std::round(100.0 * plan.forecast.probability_oxygen_stays_above_6),
                                              Dimension::number}},
                          {"low", Quantity{plan.forecast.oxygen_minimum_mg_per_l.p05, Dimension::concentration}}}) +
         "\n";
}

std::string tell(const Scaled& of, const Voice& voice) {
  std::string text = row("operations.scale.was", of.all.was, voice);
  if (of.all.naive_refusals.empty()) text += row("operations.scale.naive", of.all.naive, voice);
  text += row("operations.scale.proposed", of.all.proposed, voice) + "\n";
  for (const Remark& one : of.all.sentences) text += voice.say(one) + "\n";
  for (const Remark& why : of.all.naive_refusals) text += "- " + voice.say(why) + "\n";
  return text + "\n" + voice.say("operations.scale.plan") + "\n\n" + of.plan;
}

}  // namespace

Operation recipe_scale() {
  Inputs<ScaleInput> inputs(brew_inputs());
  inputs.quantity("scale.volume", at(&ScaleInput::wanted_l), Dimension::volume, "200 L")
      .least(recipe::resized_least_l)
      .most(recipe::resized_most_l);
  inputs.quantity("scale.diameter", at(&ScaleInput::wanted_diameter_m), Dimension::length, "58 cm")
      .least(recipe::lines::diameter_least_m)
      .most(recipe::lines::diameter_most_m);
  return define<ScaleInput, Scaled>(
      {.noun = "recipe",
       .verb = "scale",
       .inputs = inputs,
       .outputs = outputs(),
       .answer = answer,
       .look_up = unknown_names,
       .tell = tell,
       .examples = {{"recipe scale examples/allotment_bucket.toml --scale.volume \"200 L\""}},
       .takes_document = true,
       .words_of = "brew plan"});
}

}  // namespace barm::operations
