// barm brew plan: a brew planned end to end, told as its card.
#include "cards/brew_card_pdf.h"
#include "cards/brew_card_text.h"
#include "operations/brew_log_csv.h"
#include "operations/brew_plan_inputs.h"
#include "operations/brew_plan_rules.h"
#include "operations/cost_told.h"
#include "operations/registry.h"
#include "operations/shipped.h"

namespace barm::operations {
namespace {
constexpr double min_per_h = 60.0;
}

Answer<PlanAnswer> planned(const PlanInput& in, const World& world) {
  Findings findings;
  recipe::PlanAsk ask = ask_of(in, findings);
  if (!in.readings.empty()) {
    const auto text = findings.take(retarget(world.read_file(in.readings), {{"", "readings"}}));
    LogClock clock{.start_at = ask.start_at, .zone = in.zone, .now_at = {}};
    if (world.now) clock.now_at = world.now();
    auto log = text ? findings.take(read_brew_log(*text, clock, "readings")) : std::nullopt;
    if (!log) return std::move(findings).refusal<PlanAnswer>();
    ask.log = std::move(*log);
  }
  const auto sets = findings.take(retarget(chosen_rules(in.rules, world), {{"rules", "rule.sets"}}));
  recipe::Tariffs tariffs = in.tariffs;
  tariffs.labour_minutes = in.labour_h * min_per_h;
  auto cost = findings.take(recipe::plan_cost(ask, tariffs, in.rate_l_per_ha, shipped_knowledge()));
  auto plan = findings.take(recipe::plan_brew(ask, shipped_knowledge()));
  if (!plan || !sets || !cost || findings.refused()) return std::move(findings).refusal<PlanAnswer>();
  PlanAnswer answer{.plan = std::move(*plan), .zone = in.zone, .cost = std::move(*cost), .currency = tariffs.currency};
  hold_to_rules(in, *sets, answer);
  return std::move(findings).answer(std::move(answer));
}

/// A name that was not given is empty, and has been refused already.
Remarks unknown_names(const PlanInput& in, const World&) {
  Remarks refusals;
  const auto keep = [&](const auto& found, const std::string& list, std::size_t row, const char* column) {
    for (Remark why : found.refusals()) {
      why.field = list + "[" + std::to_string(row + 1) + "]." + column;
      refusals.push_back(std::move(why));
    }
  };
  const auto& composts = in.ask.composts;
  for (std::size_t i = 0; i < composts.size(); ++i) {
    if (!composts[i].kind.empty()) keep(shipped_knowledge().composts.find(composts[i].kind), "compost", i, "kind");
  }
  const auto& foods = in.ask.foods;
  for (std::size_t i = 0; i < foods.size(); ++i) {
    if (!foods[i].name.empty()) keep(shipped_knowledge().foods.find(foods[i].name), "food", i, "name");
  }
  return refusals;
}

namespace {

Answer<bool> write_card(const PlanInput& in, const PlanAnswer& answer, const World& world, const Voice& voice) {
  if (in.card.empty()) return true;
  const auto bytes = cards::brew_card_pdf(answer.plan, {.zone = answer.zone, .language = voice.language}, *voice.words);
  const std::string_view content(reinterpret_cast<const char*>(bytes.data()), bytes.size());
  return retarget(world.write_file(in.card, content), {{"", "card"}});
}

std::string tell(const PlanAnswer& answer, const Voice& voice) {
  const auto card = cards::brew_card_text(answer.plan, {.zone = answer.zone, .language = voice.language}, *voice.words);
  return answer.cost.is_priced() ? card + "\n" + cost_text(answer.cost.cost, answer.currency, voice) + "\n" : card;
}

}  // namespace

Operation brew_plan() {
  auto operation = define<PlanInput, PlanAnswer>(
      {.noun = "brew",
       .verb = "plan",
       .inputs = plan_inputs(),
       .outputs = plan_outputs(),
       .answer = planned,
       .look_up = unknown_names,
       .act = write_card,
       .tell = tell,
       .examples = {{"brew plan examples/allotment.toml"},
                    {"brew plan examples/allotment.toml --water.temperature \"24 degC\" --card card.pdf"}},
       .takes_document = true});
  share_meanings(operation.answer, "cost", "operations.help.recipe.design.answer.designs.cost.");
  return operation;
}

}  // namespace barm::operations
