// barm recipe design: from what is to be treated and what is owned to a brew that keeps every line.
#include <algorithm>
#include <cmath>

#include "cards/voice.h"
#include "data/embedded.h"
#include "operations/air_told.h"
#include "operations/cost_told.h"
#include "operations/plan_file.h"
#include "operations/recipe_design_inputs.h"
#include "operations/registry.h"
#include "recipe/crop.h"
#include "operations/shipped.h"

namespace barm::operations {
namespace {

/// Of all its lots together: any is enough, all must be told to have none.
std::optional<bool> animal_origin_of(const recipe::DesignAsk& ask) {
  std::optional<bool> all = false;
  for (const recipe::CompostLot& lot : ask.composts) {
    if (lot.is_animal_origin == true) return true;
    if (!lot.is_animal_origin) all.reset();
  }
  return all;
}

Answer<DesignTold> answer(const DesignInput& in, const World& world) {
  recipe::DesignAsk ask = in.ask;
  ask.air.tube_bore_mm = in.tube_bore_m * mm_per_m;
  if (in.has_start_until) ask.start_until_at = in.start_until_at;
  if (in.has_finish_from) ask.finish_from_at = in.finish_from_at;
  if (in.has_finish_until) ask.finish_until_at = in.finish_until_at;
  ask.tariffs.labour_minutes = in.labour_h * 60.0;
  for (const LotRow& row : in.composts) {
    ask.composts.push_back(row.lot);
    if (row.origin_is_told) ask.composts.back().is_animal_origin = row.is_animal_origin;
    if (std::isfinite(row.price_for_g)) ask.composts.back().price.amount = {{row.price_for_g, Dimension::mass}};
  }
  for (const FoodRow& row : in.foods) ask.foods.push_back(row.food);
  Findings findings;
  ask.room_day = read_room_day(in.room, ask.room_temperature_c, in.zone, ask.start_from_at, findings,
                               std::max({in.start_until_at, in.finish_from_at, in.finish_until_at}));
  std::optional<Remark> crop;
  if (!in.crop.empty()) {
    static const auto crops = recipe::Crops::read(data::file("crops.toml"));
    if (const auto group = findings.take(retarget(crops.find(in.crop), {{"name", "crop.group"}})))
      crop = (*group)->said();
  }
  recipe::DesignHelp help{.progress = world.progress, .should_stop = world.should_stop};
  if (world.parallel) help.parallel = world.parallel;
  if (findings.refused()) return std::move(findings).refusal<DesignTold>();
  auto designed = findings.take(recipe::design_brew(ask, shipped_knowledge(), help));
  if (!designed) return std::move(findings).refusal<DesignTold>();
  DesignTold told{std::move(*designed), in.zone, ask.tariffs.currency, {}};
  told.notes = told.answer.notes;
  told.beside = {.tariffs = ask.tariffs, .rate_l_per_ha = ask.rate_l_per_ha, .is_animal_origin = animal_origin_of(ask)};
  if (crop) told.notes.push_back(*crop);
  return std::move(findings).answer(std::move(told));
}

Answer<bool> write_plan(const DesignInput& in, const DesignTold& told, const World& world, const Voice&) {
  if (in.plan.empty()) return true;
  const auto text = plan_toml(told.answer.designs.front().plan.ask, told.zone, told.beside);
  return retarget(world.write_file(in.plan, text), {{"", "plan"}});
}

/// Where nothing is priced the cheapest is the one of the least stuff.
std::string role_word(const recipe::Design& design) {
  if (design.role == recipe::Role::best) return "best";
  if (design.role == recipe::Role::least_risk) return "least_risk";
  return design.cost.batch > 0.0 ? "cheapest" : "least_stuff";
}

std::string tell_one(const recipe::Design& design, const DesignTold& told, const Voice& voice) {
  const recipe::BrewPlan& plan = design.plan;
  const cards::Voice clock(
      *voice.words,
      {.zone = told.zone, .language = voice.language, .customs = plan.ask.customs, .start_at = plan.ask.start_at});
  const auto& ready = plan.forecast.ready;
  std::string text = voice.say("operations.design." + role_word(design)) + "\n";
  text += "  " +
          voice.say("operations.design.clock", {{"start", clock.clock(0.0)},
                                                {"finish", clock.clock(plan.ask.length_h)},
                                                {"length", Quantity{plan.ask.length_h, Dimension::duration}}}) +
          "\n";
  for (const recipe::AmountLine& line : plan.amounts) {
    const bool is_spanish = voice.language == cards::Language::spanish;
    text +=
        fmt::format("  - {} {} ({})\n", line.amount.text, is_spanish ? line.spanish : line.english, line.amount.beside);
  }
  text += "  " +
          voice.say("operations.design.odds",
                    {{"odds", clock.odds(plan.forecast.probability_oxygen_stays_above_6)},
                     {"low", Quantity{plan.forecast.oxygen_minimum_mg_per_l.p05, Dimension::concentration}}}) +
          "\n";
  if (ready.exists && ready.from_h <= plan.ask.length_h)
    text +=
        "  " +
        voice.say("operations.design.ready", {{"from", clock.clock(ready.from_h)}, {"to", clock.clock(ready.to_h)}}) +
        "\n";
  if (design.role != recipe::Role::best)
    text += "  " +
            voice.say("operations.design.share",
                      {{"share", Quantity{std::round(100.0 * design.yield_share), Dimension::number}}}) +
            "\n";
  if (design.cost.batch > 0.0) text += "  " + cost_text(design.cost, told.currency, voice) + "\n";
  for (const Remark& why : design.reasons) text += "  " + clock.say(why) + "\n";
  return text;
}

std::string tell(const DesignTold& told, const Voice& voice) {
  std::string text = voice.say("operations.design.where",
                               {{"vessel", told.answer.vessel},
                                {"water", Quantity{told.answer.designs.front().plan.ask.volume_l, Dimension::volume}},
                                {"area", Quantity{told.answer.area_m2, Dimension::area}}}) +
                     "\n\n";
  for (const recipe::Design& design : told.answer.designs) text += tell_one(design, told, voice) + "\n";
  for (const recipe::Bargain& bargain : told.answer.bargains)
    text += voice.say("operations.design.bargain",
                      {{"tolerance", Quantity{std::round(100.0 * bargain.tolerance), Dimension::number}},
                       {"share", Quantity{std::round(100.0 * bargain.yield_share), Dimension::number}}}) +
            "\n";
  text += "\n";
  const auto& plan = told.answer.designs.front().plan;
  const cards::Voice clock(
      *voice.words,
      {.zone = told.zone, .language = voice.language, .customs = plan.ask.customs, .start_at = plan.ask.start_at});
  for (const Remarks& remarks : {told.notes, plan.warnings, plan.cautions})
    for (const Remark& remark : remarks) text += "- " + clock.say(remark) + "\n";
  return text;
}

}  // namespace

Operation recipe_design() {
  return define<DesignInput, DesignTold>(
      {.noun = "recipe",
       .verb = "design",
       .inputs = design_inputs(),
       .outputs = design_outputs(),
       .answer = answer,
       .act = write_plan,
       .tell = tell,
       .examples = {{"recipe design examples/saturday_beans.toml"},
                    {"recipe design examples/saturday_beans.toml --brew.tolerance \"95 %\" --plan saturday.toml"}},
       .takes_document = true});
}

}  // namespace barm::operations
