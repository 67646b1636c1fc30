// What a design answers, key by key. Meanings: data/messages/operations_recipe.toml
#include <cmath>

#include "operations/recipe_design_inputs.h"
#include "operations/amounts_told.h"
#include "operations/cost_told.h"

namespace barm::operations {
namespace {

using recipe::AmountLine;
using recipe::BrewPlan;
using recipe::Design;
using recipe::DesignAnswer;

/// A design with the clock it is told by.
struct Timed {
  const Design* design;
  const std::string* zone;
  const BrewPlan& plan() const { return design->plan; }
  std::optional<Moment> moment(double at_h) const {
    constexpr double ms_per_h = 3'600'000.0;
    if (!std::isfinite(at_h)) return std::nullopt;
    return Moment{plan().ask.start_at + std::llround(at_h * ms_per_h), *zone};
  }
};

std::vector<Timed> timed(const DesignTold& told) {
  std::vector<Timed> all;
  for (const Design& design : told.answer.designs) all.push_back({&design, &told.zone});
  return all;
}

Outputs<Timed> designs() {
  using recipe::Role;
  Outputs<Timed> outputs;
  outputs
      .choice(
          "role", [](const Timed& of) { return of.design->role; },
          Choices<Role>{{"best", Role::best}, {"cheapest", Role::cheapest}, {"least risk", Role::least_risk}})
      .instant("start", [](const Timed& of) { return of.moment(0.0); })
      .instant("finish", [](const Timed& of) { return of.moment(of.plan().ask.length_h); })
      .number(
          "length_h", [](const Timed& of) { return of.plan().ask.length_h; }, Dimension::duration)
      .instant("ready_from", [](const Timed& of) { return of.moment(of.plan().forecast.ready.from_h); })
      .instant("ready_to", [](const Timed& of) { return of.moment(of.plan().forecast.ready.to_h); })
      .number(
          "room_temperature_c", [](const Timed& of) { return of.plan().ask.room_meanwhile_c(); },
          Dimension::temperature)
      .list(
          "amounts", [](const Timed& of) { return of.plan().amounts; }, amount_outputs())
      .number(
          "probability_oxygen_stays_above_6",
          [](const Timed& of) { return of.plan().forecast.probability_oxygen_stays_above_6; }, "")
      .number(
          "probability_oxygen_below_2", [](const Timed& of) { return of.plan().forecast.probability_oxygen_below_2; },
          "")
      .number(
          "oxygen_low_mg_per_l", [](const Timed& of) { return of.plan().forecast.oxygen_minimum_mg_per_l.p05; },
          Dimension::concentration)
      .number(
          "yield", [](const Timed& of) { return of.design->yield; }, "")
      .number(
          "yield_share", [](const Timed& of) { return of.design->yield_share; }, Dimension::share)
      .number(
          "nitrogen_mg_per_l", [](const Timed& of) { return of.plan().nitrogen_mg_per_l; }, Dimension::concentration)
      .number(
          "sugar_share", [](const Timed& of) { return of.plan().sugar_share; }, Dimension::share)
      .object(
          "cost", [](const Timed& of) { return of.design->cost; }, cost_outputs())
      .remarks("reasons", [](const Timed& of) { return of.design->reasons; })
      .remarks("warnings", [](const Timed& of) { return of.plan().warnings; });
  return outputs;
}

Outputs<recipe::Bargain> bargains() {
  Outputs<recipe::Bargain> outputs;
  outputs.number("tolerance", at(&recipe::Bargain::tolerance), Dimension::share)
      .number("yield_share", at(&recipe::Bargain::yield_share), Dimension::share);
  return outputs;
}

}  // namespace

Outputs<DesignTold> design_outputs() {
  Outputs<DesignTold> outputs;
  outputs.list("designs", timed, designs())
      .text("vessel", at(&DesignTold::answer, &DesignAnswer::vessel))
      .number("area_m2", at(&DesignTold::answer, &DesignAnswer::area_m2), Dimension::area)
      .list("bargains", at(&DesignTold::answer, &DesignAnswer::bargains), bargains())
      .text("currency", at(&DesignTold::currency))
      .remarks("notes", at(&DesignTold::notes))
      .whole("tried_count", at(&DesignTold::answer, &DesignAnswer::tried_count));
  return outputs;
}

}  // namespace barm::operations
