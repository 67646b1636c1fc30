// What a plan answers, key by key. Meanings: data/messages/operations.toml
#include <cmath>

#include "operations/air_told.h"
#include "operations/brew_plan_inputs.h"
#include "operations/cost_told.h"
#include "operations/driver_told.h"
#include "operations/water_told.h"
#include "operations/amounts_told.h"

namespace barm::operations {
namespace {

using brew::Band;
using brew::Forecast;
using brew::ReadyWindow;
using brew::Spread;
using recipe::AmountLine;
using recipe::BrewPlan;
using recipe::Mend;
using recipe::PlanAsk;
using recipe::Step;

std::optional<Moment> moment(const PlanAnswer& answer, double at_h) {
  constexpr double ms_per_h = 3'600'000.0;
  if (!std::isfinite(at_h)) return std::nullopt;
  return Moment{answer.plan.ask.start_at + std::llround(at_h * ms_per_h), answer.zone};
}

Outputs<Band> band(AnswerUnit unit) {
  Outputs<Band> outputs;
  outputs.series("p05", at(&Band::p05), unit).series("p25", at(&Band::p25), unit).series("p50", at(&Band::p50), unit);
  outputs.series("p75", at(&Band::p75), unit).series("p95", at(&Band::p95), unit);
  return outputs;
}

Outputs<Spread> spread(AnswerUnit unit) {
  Outputs<Spread> outputs;
  outputs.number("p05", at(&Spread::p05), unit)
      .number("p25", at(&Spread::p25), unit)
      .number("p50", at(&Spread::p50), unit);
  outputs.number("p75", at(&Spread::p75), unit).number("p95", at(&Spread::p95), unit);
  return outputs;
}

/// One step or night as it is told, on the garden's clock.
struct TimedStep {
  Step step;
  Moment at;
  std::optional<Moment> until;
};
struct TimedNight {
  Moment from, to;
};

std::vector<TimedStep> timed_steps(const PlanAnswer& answer) {
  std::vector<TimedStep> all;
  for (const auto& step : answer.plan.steps) {
    all.push_back({step, moment(answer, step.at_h).value_or(Moment{answer.plan.ask.start_at, answer.zone}),
                   moment(answer, step.until_h)});
  }
  return all;
}

std::vector<TimedNight> timed_nights(const PlanAnswer& answer) {
  std::vector<TimedNight> all;
  for (const auto& night : answer.plan.nights)
    all.push_back({{night.from_at, answer.zone}, {night.to_at, answer.zone}});
  return all;
}

struct Window {
  const PlanAnswer* answer;
  const ReadyWindow* ready;
};

Outputs<Window> window() {
  const auto known = [](const Window& of, double at_h) { return of.ready->exists ? at_h : unset; };
  Outputs<Window> outputs;
  outputs.flag("exists", [](const Window& of) { return of.ready->exists; })
      .instant("from", [=](const Window& of) { return moment(*of.answer, known(of, of.ready->from_h)); })
      .instant("to", [=](const Window& of) { return moment(*of.answer, known(of, of.ready->to_h)); })
      .number(
          "from_h", [=](const Window& of) { return known(of, of.ready->from_h); }, Dimension::duration)
      .number(
          "to_h", [=](const Window& of) { return known(of, of.ready->to_h); }, Dimension::duration)
      .text("why_from", [](const Window& of) { return of.ready->why_from; })
      .text("why_to", [](const Window& of) { return of.ready->why_to; });
  return outputs;
}

Outputs<recipe::Change> changes() {
  Outputs<recipe::Change> outputs;
  outputs.text("field", at(&recipe::Change::field)).text("value", at(&recipe::Change::value));
  return outputs;
}

Outputs<Mend> mends() {
  Outputs<Mend> outputs;
  outputs.text("code", at(&Mend::code))
      .told("text", [](const Mend& mend, const Voice& voice) { return voice.say(mend.code, mend.facts); })
      .flag("mends", at(&Mend::mends))
      .number("probability_oxygen_stays_above_6", at(&Mend::probability_oxygen_stays_above_6), "")
      .number("probability_oxygen_below_2", at(&Mend::probability_oxygen_below_2), "")
      .list("changes", at(&Mend::changes), changes());
  return outputs;
}

Outputs<TimedStep> steps() {
  Outputs<TimedStep> outputs;
  outputs.text("code", at(&TimedStep::step, &Step::code))
      .instant("at", [](const TimedStep& timed) { return std::optional(timed.at); })
      .instant("until", at(&TimedStep::until))
      .number("at_h", at(&TimedStep::step, &Step::at_h), Dimension::duration)
      .number("until_h", at(&TimedStep::step, &Step::until_h), Dimension::duration)
      .told("text",
            [](const TimedStep& timed, const Voice& voice) { return voice.say(timed.step.code, timed.step.facts); });
  return outputs;
}

Outputs<TimedNight> nights() {
  Outputs<TimedNight> outputs;
  outputs.instant("from", [](const TimedNight& night) { return std::optional(night.from); })
      .instant("to", [](const TimedNight& night) { return std::optional(night.to); });
  return outputs;
}

/// One reading as it is told.
struct TimedReading {
  brew::Heard heard;
  Moment at;
};
struct TimedAdvice {
  brew::NextReading next;
  Moment at;
};

std::vector<TimedReading> timed_readings(const PlanAnswer& answer) {
  std::vector<TimedReading> all;
  if (!answer.plan.watched) return all;
  for (const brew::Heard& heard : answer.plan.watched->heard)
    all.push_back({heard, moment(answer, heard.reading.at_h).value_or(Moment{answer.plan.ask.start_at, answer.zone})});
  return all;
}

Outputs<TimedReading> readings() {
  using brew::LogReading;
  const auto of = [](auto member) { return at(&TimedReading::heard, &brew::Heard::reading, member); };
  Outputs<TimedReading> outputs;
  outputs.instant("at", [](const TimedReading& one) { return std::optional(one.at); })
      .number("at_h", of(&LogReading::at_h), Dimension::duration)
      .text("what", [](const TimedReading& one) { return measured_word(one.heard.reading.what); })
      .number("value", of(&LogReading::value), "")
      .text("fate", [](const TimedReading& one) { return fate_word(one.heard.fate); })
      .number("out_of_line_share", at(&TimedReading::heard, &brew::Heard::out_of_line_share), "")
      .whole("line", of(&LogReading::line));
  return outputs;
}

/// None or one.
std::vector<TimedAdvice> next_readings(const PlanAnswer& answer) {
  const auto& next = answer.plan.forecast.next_reading;
  if (!next) return {};
  return {{*next, *moment(answer, next->at_h)}};
}

Outputs<TimedAdvice> advice() {
  Outputs<TimedAdvice> outputs;
  outputs.text("what", [](const TimedAdvice& one) { return measured_word(one.next.what); })
      .instant("at", [](const TimedAdvice& one) { return std::optional(one.at); })
      .number("at_h", at(&TimedAdvice::next, &brew::NextReading::at_h), Dimension::duration)
      .number("narrows_share", at(&TimedAdvice::next, &brew::NextReading::narrows_share), Dimension::share);
  return outputs;
}

Outputs<brew::Driver> drivers() {
  Outputs<brew::Driver> outputs;
  outputs.text("symbol", at(&brew::Driver::symbol))
      .told("text", [](const brew::Driver& driver, const Voice& voice) { return driver_text(driver, voice); })
      .number("share", at(&brew::Driver::share), Dimension::share)
      .flag("raises", at(&brew::Driver::raises));
  return outputs;
}

template <class Member>
auto forecast(Member member) {
  return at(&PlanAnswer::plan, &BrewPlan::forecast, member);
}

void bands(Outputs<PlanAnswer>& outputs) {
  outputs.series("time_h", forecast(&Forecast::time_h), Dimension::duration)
      .object("oxygen_mg_per_l", forecast(&Forecast::oxygen_mg_per_l), band(Dimension::concentration))
      .series("saturation_mg_per_l", forecast(&Forecast::saturation_mg_per_l), Dimension::concentration)
      .object("temperature_c", forecast(&Forecast::temperature_c), band(Dimension::temperature))
      .object("bacteria_per_ml", forecast(&Forecast::bacteria_per_ml), band(Dimension::cell_density))
      .object("fungi_ug_per_ml", forecast(&Forecast::fungi_ug_per_ml), band("ug/mL"))
      .object("protozoa_per_ml", forecast(&Forecast::protozoa_per_ml), band(Dimension::cell_density))
      .object("uptake_mg_per_l_per_h", forecast(&Forecast::uptake_mg_per_l_per_h), band("mg/L/h"))
      .object("oxygen_minimum_mg_per_l", forecast(&Forecast::oxygen_minimum_mg_per_l), spread(Dimension::concentration))
      .object("oxygen_minimum_at_h", forecast(&Forecast::oxygen_minimum_at_h), spread(Dimension::duration))
      .object("minutes_to_2_after_air_off", forecast(&Forecast::minutes_to_2_after_air_off), spread("min"))
      .whole("members_count", forecast(&Forecast::members_count))
      .whole("failed_members_count", forecast(&Forecast::failed_members_count));
}

/// What the readings taught, and what to read next.
void learned(Outputs<PlanAnswer>& outputs) {
  const auto watched = [](auto get, auto otherwise) {
    return [get, otherwise](const PlanAnswer& answer) {
      return answer.plan.watched ? (*answer.plan.watched).*get : otherwise;
    };
  };
  outputs.list("readings", timed_readings, readings())
      .whole("readings_used_count", watched(&recipe::Watched::used_count, 0))
      .number("effective_members", watched(&recipe::Watched::effective_count, unset), "")
      .list("next_reading", next_readings, advice())
      .list("drivers", forecast(&Forecast::drivers), drivers());
}

void head(Outputs<PlanAnswer>& outputs) {
  using recipe::Verdict;
  const Choices<Verdict> verdicts = {
      {"holds", Verdict::holds}, {"doubtful", Verdict::doubtful}, {"fails", Verdict::fails}};
  outputs.text("name", at(&PlanAnswer::plan, &BrewPlan::ask, &PlanAsk::name))
      .instant("start", [](const PlanAnswer& answer) { return moment(answer, 0.0); })
      .choice("verdict", at(&PlanAnswer::plan, &BrewPlan::verdict), verdicts)
      .told("headline", [](const PlanAnswer& answer, const Voice& voice) { return voice.say(answer.plan.headline); })
      .number("probability_oxygen_stays_above_6", forecast(&Forecast::probability_oxygen_stays_above_6), "")
      .number("probability_oxygen_below_2", forecast(&Forecast::probability_oxygen_below_2), "")
      .object(
          "ready_window",
          [](const PlanAnswer& answer) {
            return Window{&answer, &answer.plan.forecast.ready};
          },
          window())
      .remarks("warnings", at(&PlanAnswer::plan, &BrewPlan::warnings));
}

}  // namespace

Outputs<PlanAnswer> forecast_outputs() {
  Outputs<PlanAnswer> outputs;
  head(outputs);
  bands(outputs);
  learned(outputs);
  return outputs;
}

Outputs<PlanAnswer> plan_outputs() {
  Outputs<PlanAnswer> outputs;
  head(outputs);
  outputs.list("mends", at(&PlanAnswer::plan, &BrewPlan::mends), mends())
      .list("amounts", at(&PlanAnswer::plan, &BrewPlan::amounts), amount_outputs())
      .list("steps", timed_steps, steps())
      .list("clearing", at(&PlanAnswer::plan, &BrewPlan::clearing), clearing_outputs())
      .object("air", at(&PlanAnswer::plan, &BrewPlan::air), delivered_outputs())
      .object("kla", at(&PlanAnswer::plan, &BrewPlan::kla), kla_outputs())
      .number("uptake_peak_mg_per_l_per_h", at(&PlanAnswer::plan, &BrewPlan::uptake_peak_mg_per_l_per_h), "mg/L/h")
      .number("supply_at_6_mg_per_l_per_h", at(&PlanAnswer::plan, &BrewPlan::supply_at_6_mg_per_l_per_h), "mg/L/h")
      .number("conductivity_rise_ms_per_cm", at(&PlanAnswer::plan, &BrewPlan::conductivity_rise_ms_per_cm),
              Dimension::conductivity)
      .number("nitrogen_mg_per_l", at(&PlanAnswer::plan, &BrewPlan::nitrogen_mg_per_l), Dimension::concentration)
      .number("sugar_share", at(&PlanAnswer::plan, &BrewPlan::sugar_share), Dimension::share);
  outputs
      .list(
          "legal",
          [](const PlanAnswer& answer) {
            return answer.legal ? std::vector<ClassTold>{*answer.legal} : std::vector<ClassTold>{};
          },
          class_outputs())
      .object("cost", at(&PlanAnswer::cost, &recipe::PlanCost::cost), cost_outputs())
      .text("currency", at(&PlanAnswer::currency))
      .texts("not_priced", at(&PlanAnswer::cost, &recipe::PlanCost::not_priced))
      .number("contaminant_decades", at(&PlanAnswer::growth, &rule::Growth::decades), "");
  bands(outputs);
  learned(outputs);
  outputs.list("nights", timed_nights, nights())
      .remarks("notes", at(&PlanAnswer::plan, &BrewPlan::notes))
      .remarks("cautions", at(&PlanAnswer::plan, &BrewPlan::cautions))
      .texts("sources", at(&PlanAnswer::plan, &BrewPlan::sources));
  return outputs;
}

}  // namespace barm::operations
