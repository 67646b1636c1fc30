// barm brew plan: a brew planned end to end, told as its card.
#include "cards/brew_card_pdf.h"
#include "cards/brew_card_text.h"
#include "operations/brew_plan_inputs.h"
#include "operations/registry.h"

namespace barm::operations {
namespace {

Answer<PlanAnswer> answer(const PlanInput& in, const World& world) {
  recipe::PlanAsk ask = in.ask;
  ask.air.tube_bore_mm = in.tube_bore_m * 1000.0;
  Findings findings;
  auto plan = findings.take(recipe::plan_brew(ask, world.knowledge()));
  if (!plan) return std::move(findings).refusal<PlanAnswer>();
  return std::move(findings).answer(PlanAnswer{std::move(*plan), in.zone});
}

Answer<bool> write_card(const PlanInput& in, const PlanAnswer& answer, const World& world, const Voice& voice) {
  if (in.card.empty()) return true;
  const auto bytes = cards::brew_card_pdf(answer.plan, {.zone = answer.zone, .language = voice.language}, *voice.words);
  const std::string_view content(reinterpret_cast<const char*>(bytes.data()), bytes.size());
  return retarget(world.write_file(in.card, content), {{"", "card"}});
}

std::string tell(const PlanAnswer& answer, const Voice& voice) {
  return cards::brew_card_text(answer.plan, {.zone = answer.zone, .language = voice.language}, *voice.words);
}

}  // namespace

Operation brew_plan() {
  return define<PlanInput, PlanAnswer>(
      {.noun = "brew",
       .verb = "plan",
       .inputs = plan_inputs(),
       .outputs = plan_outputs(),
       .answer = answer,
       .act = write_card,
       .tell = tell,
       .examples = {{"brew plan examples/allotment.toml"},
                    {"brew plan examples/allotment.toml --water.temperature \"24 degC\" --card card.pdf"}},
       .takes_document = true});
}

}  // namespace barm::operations
