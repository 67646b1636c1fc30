// barm brew judge: a first verdict on a brew by what was read, smelt and seen.
#include "operations/brew_fitness.h"
#include "operations/registry.h"
#include "operations/rule_inputs.h"

namespace barm::operations {

using recipe::Fitness;
using recipe::Foam;
using recipe::Judged;
using recipe::Look;
using recipe::Reason;
using recipe::Seen;
using recipe::Smell;

Choices<Smell> smells() {
  return {{"not_told", Smell::not_told}, {"earthy", Smell::earthy}, {"none", Smell::none},
          {"sweet", Smell::sweet},       {"yeasty", Smell::yeasty}, {"sour", Smell::sour},
          {"ammonia", Smell::ammonia},   {"rotten", Smell::rotten}};
}
Choices<Foam> foams() {
  return {{"not_told", Foam::not_told},
          {"none", Foam::none},
          {"thin", Foam::thin},
          {"thick", Foam::thick},
          {"overflowing", Foam::overflowing}};
}
Choices<Look> looks() {
  return {{"not_told", Look::not_told},
          {"usual", Look::usual},
          {"pale", Look::pale},
          {"film", Look::film},
          {"slime", Look::slime}};
}
Choices<Fitness> fitnesses() {
  return {{"fit", Fitness::fit}, {"restricted", Fitness::restricted}, {"unfit", Fitness::unfit}};
}

namespace {

std::string headline(const Judged& judged, const Voice& voice) {
  const char* codes[] = {"recipe.fitness.fit", "recipe.fitness.restricted", "recipe.fitness.unfit"};
  return voice.say(codes[static_cast<std::size_t>(judged.fitness)]);
}

}  // namespace

void hold_to_rules(Seen& seen, const World& world) {
  constexpr double ml_of_unit = 100.0;  // the only unit that reading a rule allows for a count of germs in a tea
  const auto sets = chosen_rules({}, world);
  if (!sets.ok()) return;
  for (const auto& set : *sets) {
    for (const auto& rule : set.rules) {
      if (!rule.test || rule.test->of != "tea_e_coli") continue;
      const double most_per_ml = rule.test->limit / ml_of_unit;
      if (most_per_ml >= seen.e_coli_most_per_ml) continue;
      seen.e_coli_most_per_ml = most_per_ml;
      seen.e_coli_rule = rule.citation;
      seen.e_coli_source = rule.source;
    }
  }
}

Outputs<Judged> judged_outputs() {
  Outputs<Reason> reason;
  reason.text("code", at(&Reason::what, &Remark::code))
      .choice("at_best", at(&Reason::at_best), fitnesses())
      .told("text", [](const Reason& one, const Voice& voice) { return voice.say(one.what); })
      .text("source", at(&Reason::source));
  Outputs<Judged> outputs;
  outputs.choice("verdict", at(&Judged::fitness), fitnesses())
      .told("headline", headline)
      .list("reasons", at(&Judged::reasons), reason)
      .remarks("advice", at(&Judged::advice))
      .remarks("cautions", at(&Judged::cautions));
  return outputs;
}

std::string judged_text(const Judged& judged, const Voice& voice) {
  std::string text = headline(judged, voice) + "\n";
  for (const auto& reason : judged.reasons) text += "- " + voice.say(reason.what) + "\n";
  for (const auto& advice : judged.advice) text += voice.say(advice) + "\n";
  for (const auto& caution : judged.cautions) text += "! " + voice.say(caution) + "\n";
  return text;
}

Operation brew_judge() {
  Inputs<Seen> inputs;
  inputs.choice("smell", at(&Seen::smell), smells());
  inputs.choice("foam", at(&Seen::foam), foams());
  inputs.choice("look", at(&Seen::look), looks());
  inputs.quantity("oxygen", at(&Seen::oxygen_mg_per_l), Dimension::concentration, "6.8 mg/L").least(0.0).most(60.0);
  inputs.quantity("oxygen_lowest", at(&Seen::oxygen_lowest_mg_per_l), Dimension::concentration, "5.9 mg/L")
      .least(0.0)
      .most(60.0);
  inputs.quantity("reading_age", at(&Seen::reading_age_h), Dimension::duration, "30 min")
      .least(0.0)
      .most(recipe::looks_back_h);
  inputs.quantity("brewed", at(&Seen::brewed_h), Dimension::duration, "20 h").least(0.0).most(recipe::looks_back_h);
  inputs.quantity("air_off", at(&Seen::air_off_h), Dimension::duration, "20 min").least(0.0).most(recipe::looks_back_h);
  inputs.quantity("flat_after_soon", at(&Seen::flat_after_soon_h), Dimension::duration, "8 min")
      .least(0.0)
      .most(recipe::looks_back_h);
  inputs.quantity("flat_after", at(&Seen::flat_after_h), Dimension::duration, "20 min")
      .least(0.0)
      .most(recipe::looks_back_h);
  inputs.quantity("below_2", at(&Seen::probability_below_2), Dimension::share, "5 %").least(0.0).most(1.0);
  inputs.quantity("ph", at(&Seen::ph), Dimension::number, "6.9").least(0.0).most(14.0);
  inputs.quantity("conductivity", at(&Seen::conductivity_ms_per_cm), Dimension::conductivity, "1.2 mS/cm")
      .least(0.0)
      .most(100.0);
  inputs.quantity("temperature", at(&Seen::water_temperature_c), Dimension::temperature, "20 degC")
      .least(-2.0)
      .most(60.0);
  inputs.quantity("bacteria", at(&Seen::bacteria_per_ml), Dimension::cell_density, "2e8 1/mL").least(0.0).most(1e13);
  inputs.quantity("protozoa", at(&Seen::protozoa_per_ml), Dimension::cell_density, "20000 1/mL").least(0.0).most(1e13);
  inputs.quantity("ciliates", at(&Seen::ciliates_per_ml), Dimension::cell_density, "500 1/mL").least(0.0).most(1e13);
  inputs.quantity("e_coli", at(&Seen::e_coli_per_ml), Dimension::cell_density, "900 1/L").least(0.0).most(1e13);
  inputs.flag("germ_found", at(&Seen::germ_found));
  return define<Seen, Judged>({.noun = "brew",
                               .verb = "judge",
                               .inputs = inputs,
                               .outputs = judged_outputs(),
                               .answer =
                                   [](Seen seen, const World& world) {
                                     hold_to_rules(seen, world);
                                     return recipe::judge_fitness(seen);
                                   },
                               .tell = judged_text,
                               .examples = {{"brew judge --smell earthy --oxygen \"6.8 mg/L\" --brewed \"20 h\""},
                                            {"brew judge --smell sour --oxygen \"4 mg/L\" --air-off \"2 h\""}}});
}

}  // namespace barm::operations
