// barm brew forecast: what a brew will do, narrowed by its own readings.
#include <cmath>

#include "cards/brew_card.h"
#include "operations/brew_plan_inputs.h"
#include "operations/driver_told.h"
#include "operations/registry.h"

namespace barm::operations {
namespace {

Quantity of_100(double share) {
  return {std::round(100.0 * share), Dimension::number};
}

Answer<PlanAnswer> foretold(const PlanInput& in, const World& world) {
  PlanInput without_mends = in;
  without_mends.ask.wants_mends = false;  // none of them is told
  return planned(without_mends, world);
}

std::string tell(const PlanAnswer& answer, const Voice& voice) {
  const recipe::BrewPlan& plan = answer.plan;
  const cards::CardOptions options{.zone = answer.zone, .language = voice.language};
  const cards::BrewCard card = cards::brew_card(plan, options, *voice.words);
  std::string text = card.headline + "\n";
  for (const auto& sentence : card.picture_says) text += sentence + "\n";
  for (const brew::Driver& driver : plan.forecast.drivers)
    text += voice.say(driver.raises ? "operations.forecast.driver_raises" : "operations.forecast.driver_lowers",
                      {{"what", driver_text(driver, voice)}, {"share", of_100(driver.share)}}) +
            "\n";
  return text;
}

}  // namespace

Operation brew_forecast() {
  return define<PlanInput, PlanAnswer>(
      {.noun = "brew",
       .verb = "forecast",
       .inputs = forecast_inputs(),
       .outputs = forecast_outputs(),
       .answer = foretold,
       .look_up = unknown_names,
       .tell = tell,
       .examples = {{"brew forecast examples/allotment_bucket.toml --readings examples/allotment_bucket_log.csv"}},
       .takes_document = true,
       .words_of = "brew plan"});
}

}  // namespace barm::operations
