// barm recipe substitute: what to put in place of a food that is not to be had, and what comes of it.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <sstream>

#include "cards/voice.h"
#include "operations/amounts_told.h"
#include "operations/brew_plan_inputs.h"
#include "operations/brew_plan_rules.h"
#include "operations/plan_file.h"
#include "operations/registry.h"
#include "operations/rule_record.h"
#include "operations/shipped.h"
#include "recipe/lines.h"
#include "recipe/substitute.h"

namespace barm::operations {
namespace {

using recipe::Brings;
using recipe::Coming;
using recipe::Substitute;
using recipe::Substituted;

struct SubstituteInput : PlanInput {
  std::string instead_of;
  std::string with;  // names parted by commas; empty: all that are known
};
/// One candidate with what the rules say of its plan.
struct Row {
  Substitute one{};
  std::optional<ClassTold> legal{};
  bool changes_class = false;
  std::string plan{};  // as a plan file
};
struct Exchanged {
  Substituted all{};
  std::optional<ClassTold> legal{};  // of the plan as it is
  std::vector<Row> rows{};           // the candidates, moved here
};

std::vector<std::string> names_in(const std::string& list) {
  std::vector<std::string> names;
  std::stringstream in(list);
  for (std::string name; std::getline(in >> std::ws, name, ',');)
    if (!name.empty()) names.push_back(name.substr(0, name.find_last_not_of(" \t") + 1));
  return names;
}

Answer<Exchanged> answer(const SubstituteInput& in, const World& world) {
  const auto& parallel = world.parallel ? world.parallel : brew::one_after_the_other;
  Findings findings;
  const recipe::PlanAsk ask = ask_of(in, findings);
  const auto sets = findings.take(retarget(chosen_rules(in.rules, world), {{"rules", "rule.sets"}}));
  auto all = findings.take(
      recipe::substitute(ask, {.instead_of = in.instead_of, .with = names_in(in.with)}, shipped_knowledge(), parallel));
  if (!all || !sets || findings.refused()) return std::move(findings).refusal<Exchanged>();
  const auto class_of = [&](const recipe::BrewPlan& plan) {
    PlanAnswer held{.plan = plan, .zone = in.zone};
    hold_to_rules(in, *sets, held);
    return held.legal;
  };
  Exchanged told{.all = std::move(*all)};
  told.legal = class_of(told.all.was.plan);
  for (Substitute& one : told.all.candidates) {
    Row row{.legal = class_of(one.coming.plan), .plan = plan_toml(one.coming.plan.ask, in.zone)};
    row.changes_class = row.legal && told.legal && row.legal->tea.status != told.legal->tea.status;
    row.one = std::move(one);
    told.rows.push_back(std::move(row));
  }
  return std::move(findings).answer(std::move(told));
}

const Choices<recipe::Part>& parts() {
  using recipe::Part;
  static const Choices<Part> all = {{"sugar", Part::sugar},
                                    {"slow", Part::slow},
                                    {"nitrogen", Part::nitrogen},
                                    {"colour", Part::colour},
                                    {"surface", Part::surface}};
  return all;
}

std::string part_text(recipe::Part part, const Voice& voice) {
  for (const auto& [word, value] : parts())
    if (value == part) return voice.say("operations.substitute.part_" + word);
  throw BrokenPromise("a part nobody knows");
}

std::string food_name(const food::Food& food, const Voice& voice) {
  return voice.language == cards::Language::spanish ? food.spanish : food.names.front();
}

Outputs<Brings> brought() {
  Outputs<Brings> outputs;
  outputs.number("ready_mg_per_l", at(&Brings::ready_mg_per_l), Dimension::concentration)
      .number("slow_mg_per_l", at(&Brings::slow_mg_per_l), Dimension::concentration)
      .number("food_nitrogen_mg_per_l", at(&Brings::nitrogen_mg_per_l), Dimension::concentration)
      .number("usable_nitrogen_mg_per_l", at(&Brings::usable_nitrogen_mg_per_l), Dimension::concentration);
  return outputs;
}

double ready_h(const Coming& of, double brew::ReadyWindow::*end) {
  return of.plan.forecast.ready.exists ? of.plan.forecast.ready.*end : unset;
}

Outputs<Coming> comes() {
  Outputs<Coming> outputs;
  outputs
      .number(
          "probability_oxygen_stays_above_6",
          [](const Coming& of) { return of.plan.forecast.probability_oxygen_stays_above_6; }, "")
      .number(
          "oxygen_low_mg_per_l", [](const Coming& of) { return of.plan.forecast.oxygen_minimum_mg_per_l.p05; },
          Dimension::concentration)
      .number("yield", at(&Coming::yield), "")
      .number("yield_share", at(&Coming::yield_share), "")
      .number(
          "ready_from_h", [](const Coming& of) { return ready_h(of, &brew::ReadyWindow::from_h); }, Dimension::duration)
      .number(
          "ready_to_h", [](const Coming& of) { return ready_h(of, &brew::ReadyWindow::to_h); }, Dimension::duration)
      .number("carbon_to_nitrogen", at(&Coming::carbon_to_nitrogen), "")
      .number(
          "sugar_share", [](const Coming& of) { return of.plan.sugar_share; }, Dimension::share)
      .number("ready_mg_per_l", at(&Coming::ready_mg_per_l), Dimension::concentration)
      .number("covered_mg_per_l", at(&Coming::covered_mg_per_l), Dimension::concentration);
  return outputs;
}

Outputs<Row> row() {
  const auto of = [](auto member) { return [=](const Row& row) { return row.one.*member; }; };
  Outputs<Row> outputs;
  outputs.text("food", [](const Row& row) { return row.one.food->id; })
      .told("name", [](const Row& row, const Voice& voice) { return food_name(*row.one.food, voice); })
      .choice("part", of(&Substitute::part), parts())
      .list(
          "amounts", [](const Row& row) { return std::vector{row.one.amount}; }, amount_outputs())
      .flag("adds_to_what_is_in", of(&Substitute::adds_to_what_is_in))
      .number("misfit", of(&Substitute::misfit), "")
      .object("brings", of(&Substitute::brings), brought())
      .object("coming", of(&Substitute::coming), comes())
      .flag("changes_class", at(&Row::changes_class))
      .list(
          "legal", [](const Row& row) { return row.legal ? std::vector{*row.legal} : std::vector<ClassTold>{}; },
          class_outputs())
      .remarks("sentences", of(&Substitute::sentences))
      .text("plan", at(&Row::plan));
  return outputs;
}

Outputs<Exchanged> outputs() {
  const auto all = [](auto member) { return at(&Exchanged::all, member); };
  Outputs<Exchanged> outputs;
  outputs.text("instead_of", [](const Exchanged& told) { return told.all.instead_of->id; })
      .choice("part", all(&Substituted::part), parts())
      .object("brings", all(&Substituted::brought), brought())
      .object("was", all(&Substituted::was), comes())
      .object("without", all(&Substituted::without), comes())
      .list("candidates", at(&Exchanged::rows), row())
      .remarks("notes", all(&Substituted::notes));
  return outputs;
}

Quantity number(double value) {
  return {value, Dimension::number};
}

std::string coming_text(const Coming& coming, const Voice& voice) {
  const cards::Voice clock(
      *voice.words,
      {.zone = {}, .language = voice.language, .customs = voice.customs, .start_at = coming.plan.ask.start_at});
  const auto& forecast = coming.plan.forecast;
  std::string text =
      "  " + voice.say("operations.substitute.odds",
                       {{"odds", clock.odds(forecast.probability_oxygen_stays_above_6)},
                        {"low", Quantity{forecast.oxygen_minimum_mg_per_l.p05, Dimension::concentration}},
                        {"yield", number(std::round(100.0 * coming.yield_share))}});
  const auto& ready = forecast.ready;
  text += " " + (ready.exists
                     ? voice.say("operations.substitute.ready", {{"from", Quantity{ready.from_h, Dimension::duration}},
                                                                 {"to", Quantity{ready.to_h, Dimension::duration}}})
                     : voice.say("operations.substitute.never_ready"));
  text += "\n  " + voice.say("operations.substitute.caps",
                             {{"sugar", fmt::format("{:.2f}", 100.0 * coming.plan.sugar_share)},
                              {"most", fmt::format("{:.1f}", 100.0 * recipe::lines::sugar_most_share)},
                              {"ready", Quantity{coming.ready_mg_per_l, Dimension::concentration}},
                              {"covered", Quantity{coming.covered_mg_per_l, Dimension::concentration}}});
  if (std::isfinite(coming.carbon_to_nitrogen))
    text += " " + voice.say("operations.substitute.ratio", {{"ratio", number(std::round(coming.carbon_to_nitrogen))}});
  return text + "\n";
}

std::string brings_text(const Brings& brings, const Voice& voice) {
  return voice.say("operations.substitute.brings",
                   {{"ready", Quantity{brings.ready_mg_per_l, Dimension::concentration}},
                    {"slow", Quantity{brings.slow_mg_per_l, Dimension::concentration}},
                    {"nitrogen", Quantity{brings.nitrogen_mg_per_l, Dimension::concentration}}});
}

std::string tell(const Exchanged& told, const Voice& voice) {
  const Substituted& all = told.all;
  std::string text = voice.say("operations.substitute.missing", {{"food", food_name(*all.instead_of, voice)},
                                                                 {"part", part_text(all.part, voice)},
                                                                 {"brings", brings_text(all.brought, voice)}}) +
                     "\n";
  text += voice.say("operations.substitute.was") + "\n" + coming_text(all.was, voice);
  text += voice.say("operations.substitute.without") + "\n" + coming_text(all.without, voice);
  int place = 0;
  for (const Row& row : told.rows) {
    const Substitute& one = row.one;
    text += fmt::format("\n{}. ", ++place) +
            voice.say(one.adds_to_what_is_in ? "operations.substitute.more_of" : "operations.substitute.take",
                      {{"food", food_name(*one.food, voice)},
                       {"amount", one.amount.amount.text},
                       {"beside", one.amount.amount.beside},
                       {"part", part_text(one.part, voice)},
                       {"brings", brings_text(one.brings, voice)}}) +
            "\n" + coming_text(one.coming, voice);
    if (row.changes_class)
      text += "  " +
              voice.say("operations.substitute.class_changes", {{"class", voice.say(class_headline(*row.legal))}}) +
              "\n";
    for (const Remark& remark : one.sentences) text += "  - " + voice.say(remark) + "\n";
  }
  text += "\n";
  const bool any_changes =
      std::any_of(told.rows.begin(), told.rows.end(), [](const Row& row) { return row.changes_class; });
  if (told.legal && !any_changes)
    text += "- " + voice.say("operations.substitute.class_same", {{"class", voice.say(class_headline(*told.legal))}}) +
            "\n";
  for (const Remark& remark : all.notes) text += "- " + voice.say(remark) + "\n";
  return text + "\n" + voice.say("operations.substitute.plan") + "\n\n" + told.rows.front().plan;
}

}  // namespace

Operation recipe_substitute() {
  Inputs<SubstituteInput> inputs(forecast_inputs());
  inputs.text("instead_of", at(&SubstituteInput::instead_of), "kelp meal").required();
  inputs.text("with", at(&SubstituteInput::with), "oat flour, alfalfa meal");
  Operation operation = define<SubstituteInput, Exchanged>(
      {.noun = "recipe",
       .verb = "substitute",
       .inputs = inputs,
       .outputs = outputs(),
       .answer = answer,
       .look_up = unknown_names,
       .tell = tell,
       .examples = {{"recipe substitute examples/allotment_bucket.toml --instead-of \"kelp meal\""}},
       .takes_document = true,
       .words_of = "brew plan"});
  const std::string answers = "operations.help.brew.plan.answer.";
  const auto share = [&](std::vector<AnswerField>& fields) {
    share_meanings(fields, "brings", answers + "brings.");
    share_meanings(fields, "legal", answers + "legal.");
    share_meanings(fields, "amounts", answers + "amounts.");
    for (const char* coming : {"coming", "was", "without"}) share_meanings(fields, coming, answers + "coming.");
  };
  share(operation.answer);
  for (AnswerField& field : operation.answer)
    if (field.name == "candidates") share(field.inside);
  return operation;
}

}  // namespace barm::operations
