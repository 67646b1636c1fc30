#include "operations/cost_told.h"

#include <fmt/format.h>

namespace barm::operations {

using recipe::BatchCost;

namespace {

std::string money(double value, const std::string& currency) {
  const std::string number = fmt::format("{:.2f}", value);
  return currency.empty() ? number : number + " " + currency;
}

}  // namespace

Outputs<BatchCost> cost_outputs() {
  Outputs<BatchCost> outputs;
  outputs.number("batch", at(&BatchCost::batch), "")
      .number("per_l", at(&BatchCost::per_l), "")
      .number("per_100m2", at(&BatchCost::per_100m2), "")
      .number("foods", at(&BatchCost::foods), "")
      .number("compost", at(&BatchCost::compost), "")
      .number("water", at(&BatchCost::water), "")
      .number("electricity", at(&BatchCost::electricity), "")
      .number("labour", at(&BatchCost::labour), "")
      .number("labour_minutes", at(&BatchCost::labour_minutes), "min");
  return outputs;
}

std::string cost_text(const BatchCost& cost, const std::string& currency, const Voice& voice) {
  std::map<std::string, Remark::Fact> facts{{"batch", money(cost.batch, currency)},
                                            {"per_l", money(cost.per_l, currency)}};
  if (!std::isfinite(cost.per_100m2)) return voice.say("operations.cost.batch", facts);
  facts.emplace("per_area", money(cost.per_100m2, currency));
  return voice.say("operations.design.cost", facts);
}

}  // namespace barm::operations
