// barm brew day: a brew of the record on its clock: what was, what is next, and how it stands.
#include "cards/local_time.h"
#include "operations/brew_day.h"
#include "operations/brew_fitness.h"
#include "operations/registry.h"
#include "records/named.h"

namespace barm::operations {
namespace {

struct In {
  std::string brew, store = usual_store;
  std::optional<std::int64_t> at{};
};

Answer<BrewDay> answer(const In& in, const World& world) {
  Findings findings;
  auto store = findings.take(open_store(in.store, world));
  const auto id = store ? take_about(findings, records::id_named(*store, {"brew"}, in.brew), "brew") : std::nullopt;
  auto day = id ? findings.take(retarget(day_of(*store, *id, in.at.value_or(world.now()), world), {{"id", "brew"}}))
                : std::nullopt;
  if (!day) return std::move(findings).refusal<BrewDay>();
  return std::move(findings).answer(std::move(*day));
}

/// The steps that are still to come, the next one first.
std::vector<DayStep> to_come(const BrewDay& day) {
  std::vector<DayStep> all;
  for (const auto& step : day.steps) {
    if (!step.is_past) all.push_back(step);
  }
  return all;
}
std::vector<DayStep> next_step(const BrewDay& day) {
  auto all = to_come(day);
  if (all.size() > 1) all.resize(1);
  return all;
}

Outputs<DayStep> step_outputs() {
  Outputs<DayStep> outputs;
  outputs.text("code", at(&DayStep::step, &recipe::Step::code))
      .instant("at", [](const DayStep& one) { return std::optional(one.at); })
      .instant("until", at(&DayStep::until))
      .number("at_h", at(&DayStep::step, &recipe::Step::at_h), Dimension::duration)
      .flag("is_past", at(&DayStep::is_past))
      .told("text", [](const DayStep& one, const Voice& voice) { return voice.say(one.step.code, one.step.facts); });
  return outputs;
}

Outputs<DayReading> reading_outputs() {
  const Choices<BandPlace> places = {{"unknown", BandPlace::unknown},
                                     {"under", BandPlace::under},
                                     {"within", BandPlace::within},
                                     {"over", BandPlace::over}};
  Outputs<DayReading> outputs;
  outputs.text("id", at(&DayReading::id))
      .instant("at", [](const DayReading& one) { return std::optional(one.at); })
      .number("oxygen_mg_per_l", at(&DayReading::oxygen_mg_per_l), Dimension::concentration)
      .number("temperature_c", at(&DayReading::temperature_c), Dimension::temperature)
      .number("ph", at(&DayReading::ph), "")
      .number("conductivity_ms_per_cm", at(&DayReading::conductivity_ms_per_cm), Dimension::conductivity)
      .number("promised_p05_mg_per_l", at(&DayReading::p05_mg_per_l), Dimension::concentration)
      .number("promised_p50_mg_per_l", at(&DayReading::p50_mg_per_l), Dimension::concentration)
      .number("promised_p95_mg_per_l", at(&DayReading::p95_mg_per_l), Dimension::concentration)
      .choice("place", place_of, places);
  return outputs;
}

Outputs<DayObservation> observation_outputs() {
  Outputs<DayObservation> outputs;
  outputs.text("id", at(&DayObservation::id))
      .instant("at", [](const DayObservation& one) { return std::optional(one.at); })
      .text("smell", at(&DayObservation::smell))
      .text("foam", at(&DayObservation::foam))
      .text("look", at(&DayObservation::look));
  return outputs;
}

std::string tell(const BrewDay& day, const Voice& voice) {
  std::string text =
      voice.say("operations.day.elapsed", {{"name", day.name},
                                           {"given", Quantity{day.elapsed_h, Dimension::duration}},
                                           {"at", cards::local_text(day.now.at, day.zone, voice.language)}}) +
      "\n";
  for (const auto& one : day.last_reading) {
    if (!std::isfinite(one.oxygen_mg_per_l)) continue;
    std::map<std::string, Remark::Fact> facts{{"given", Quantity{one.oxygen_mg_per_l, Dimension::concentration}}};
    const char* codes[] = {"operations.day.read", "operations.day.read_under", "operations.day.read_within",
                           "operations.day.read_over"};
    text += voice.say(codes[static_cast<std::size_t>(place_of(one))], std::move(facts)) + "\n";
  }
  for (const auto& one : to_come(day))
    text +=
        cards::local_text(one.at.at, day.zone, voice.language) + "  " + voice.say(one.step.code, one.step.facts) + "\n";
  return text + judged_text(day.judged, voice);
}

}  // namespace

Operation brew_day() {
  Inputs<In> inputs;
  inputs.text("brew", at(&In::brew), "May night brew").required().positional();
  inputs.instant("at", at(&In::at), "2026-05-02T23:00:00-05:00");
  store_input(inputs, &In::store);
  Outputs<BrewDay> outputs;
  outputs.text("id", at(&BrewDay::id))
      .text("name", at(&BrewDay::name))
      .text("zone", at(&BrewDay::zone))
      .instant("at", [](const BrewDay& day) { return std::optional(day.now); })
      .instant("air_on_at", [](const BrewDay& day) { return std::optional(day.air_on); })
      .instant("air_off_at", at(&BrewDay::air_off))
      .number("elapsed_h", at(&BrewDay::elapsed_h), Dimension::duration)
      .list("steps", at(&BrewDay::steps), step_outputs())
      .list("next_step", next_step, step_outputs())
      .whole("readings_count", at(&BrewDay::readings_count))
      .whole("counts_count", at(&BrewDay::counts_count))
      .number("start_bacteria_per_g", at(&BrewDay::bacteria_per_g), "1/g")
      .list("last_reading", at(&BrewDay::last_reading), reading_outputs())
      .list("last_observation", at(&BrewDay::last_observation), observation_outputs())
      .object("fitness", at(&BrewDay::judged), judged_outputs())
      .list("forecast", at(&BrewDay::forecast), forecast_outputs());
  auto operation = define<In, BrewDay>({.noun = "brew",
                                        .verb = "day",
                                        .inputs = inputs,
                                        .outputs = outputs,
                                        .answer = answer,
                                        .tell = tell,
                                        .examples = {{"brew day \"May night brew\""}}});
  share_meanings(operation.answer, "fitness", "operations.help.brew.judge.answer.");
  share_meanings(operation.answer, "forecast", "operations.help.brew.plan.answer.");
  share_meanings(operation.answer, "next_step", "operations.help.brew.day.answer.steps.");
  return operation;
}

}  // namespace barm::operations
