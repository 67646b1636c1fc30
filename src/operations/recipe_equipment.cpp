// barm recipe equipment: what the air of a brew carries, and what other air would.
#include <algorithm>
#include <cmath>

#include "operations/brew_plan_inputs.h"
#include "operations/registry.h"
#include "recipe/equipment.h"
#include "recipe/lines.h"
#include "operations/shipped.h"

namespace barm::operations {
namespace {

using recipe::AirChange;
using recipe::Carried;
using recipe::Equipment;

Answer<Equipment> answer(const PlanInput& in, const World& world) {
  Findings findings;
  const recipe::PlanAsk ask = ask_of(in, findings);
  const auto& parallel = world.parallel ? world.parallel : brew::one_after_the_other;
  auto all = findings.take(recipe::equipment(ask, shipped_knowledge(), parallel));
  if (!all || findings.refused()) return std::move(findings).refusal<Equipment>();
  return std::move(findings).answer(std::move(*all));
}

Outputs<AirChange> change() {
  Outputs<AirChange> outputs;
  outputs.number("kla20_per_h", at(&AirChange::kla20_per_h), Dimension::rate)
      .number("stays_above_6", at(&AirChange::stays_above_6), "")
      .number("factor", at(&AirChange::factor), "");
  return outputs;
}

Outputs<Equipment> outputs() {
  Outputs<Carried> carried;
  carried.number("temperature_c", at(&Carried::temperature_c), Dimension::temperature)
      .number("factor", at(&Carried::factor), "")
      .number("food_g_per_l", at(&Carried::food_g_per_l), "g/L")
      .number("sugar_share", at(&Carried::sugar_share), Dimension::share);
  Outputs<Equipment> outputs;
  outputs.number("stays_above_6", at(&Equipment::stays_above_6), "")
      .number("factor", at(&Equipment::factor), "")
      .number("kla20_per_h", at(&Equipment::kla20_per_h), Dimension::rate)
      .list("frontier", at(&Equipment::frontier), carried)
      .number("pump_stone_l_per_h", at(&Equipment::pump_stone_l_per_h), Dimension::flow)
      .number("pump_fine_l_per_h", at(&Equipment::pump_fine_l_per_h), Dimension::flow)
      .object("second_stone", at(&Equipment::second_stone), change())
      .object("second_pump", at(&Equipment::second_pump), change())
      .object("measured", at(&Equipment::measured), change());
  return outputs;
}

Quantity percent(double share) {
  return {std::round(100.0 * share), Dimension::number};
}

/// Beyond the most that is tried it is told as at least that.
std::string factor_text(double factor) {
  return factor >= recipe::carried_most ? fmt::format("≥ {:.0f}", factor) : fmt::format("{:.2f}", factor);
}

/// A row for each temperature, with a bar as long as the food carried.
std::string frontier(const Equipment& all, const Voice& voice) {
  constexpr double bar_most = 40.0;
  const auto is_cut_off = [](const Carried& row) { return row.factor >= recipe::carried_most; };
  double most = 1e-9;  // of the rows that are not cut off, so that they can be told apart
  for (const Carried& row : all.frontier)
    if (!is_cut_off(row)) most = std::max(most, row.factor);
  std::string text = voice.say("operations.equipment.frontier") + "\n";
  for (const Carried& row : all.frontier) {
    std::string bar;
    const double length = std::min(bar_most, row.factor / most * bar_most);
    for (int i = 0; i < static_cast<int>(std::lround(length)); ++i) bar += "█";
    if (is_cut_off(row)) bar += "…";
    text +=
        fmt::format("{:>4.0f} °C {} {:>5.2f} ×  {:>5.2f} g/L  {}{}\n", row.temperature_c, is_cut_off(row) ? "≥" : " ",
                    row.factor, row.food_g_per_l, bar, row.sugar_share > recipe::lines::sugar_most_share ? " *" : "");
  }
  return text + voice.say("operations.equipment.star") + "\n";
}

std::string pump(const char* code, const char* code_of_none, double l_per_h, const Voice& voice) {
  if (!std::isfinite(l_per_h)) return voice.say(code_of_none) + "\n";
  return voice.say(code, {{"pump", Quantity{l_per_h, Dimension::flow}}}) + "\n";
}

std::string tell(const Equipment& all, const Voice& voice) {
  std::string text = voice.say("operations.equipment.now",
                               {{"of_100", percent(all.stays_above_6)}, {"factor", factor_text(all.factor)}}) +
                     "\n\n" + frontier(all, voice) + "\n";
  text +=
      pump("operations.equipment.pump_stone", "operations.equipment.pump_stone_none", all.pump_stone_l_per_h, voice);
  text += pump("operations.equipment.pump_fine", "operations.equipment.pump_fine_none", all.pump_fine_l_per_h, voice);
  const auto say_change = [&](const char* code, const AirChange& change) {
    if (!std::isfinite(change.factor)) return;
    text += voice.say(code, {{"of_100", percent(change.stays_above_6)}, {"factor", factor_text(change.factor)}}) + "\n";
  };
  say_change("operations.equipment.second_stone", all.second_stone);
  say_change("operations.equipment.second_pump", all.second_pump);
  const bool gains = all.measured.factor > all.factor && all.measured.stays_above_6 >= all.stays_above_6;
  say_change(gains ? "operations.equipment.measured" : "operations.equipment.measured_no_gain", all.measured);
  return text;
}

}  // namespace

Operation recipe_equipment() {
  return define<PlanInput, Equipment>({.noun = "recipe",
                                       .verb = "equipment",
                                       .inputs = brew_inputs(),
                                       .outputs = outputs(),
                                       .answer = answer,
                                       .look_up = unknown_names,
                                       .tell = tell,
                                       .examples = {{"recipe equipment examples/allotment_bucket.toml"}},
                                       .takes_document = true,
                                       .words_of = "brew plan"});
}

}  // namespace barm::operations
