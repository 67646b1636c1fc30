#include "operations/air_told.h"

namespace barm::operations {

using air::Delivered;
using air::KlaEstimate;

const Choices<air::Diffuser>& diffusers() {
  static const Choices<air::Diffuser> all = {
      {"stone", air::Diffuser::stone}, {"fine", air::Diffuser::fine}, {"open tube", air::Diffuser::open_tube}};
  return all;
}

Outputs<Delivered> delivered_outputs() {
  Outputs<Delivered> outputs;
  outputs.number("flow_l_per_h", at(&Delivered::flow_l_per_h), Dimension::flow)
      .number("flow_low_l_per_h", at(&Delivered::flow_low_l_per_h), Dimension::flow)
      .number("flow_high_l_per_h", at(&Delivered::flow_high_l_per_h), Dimension::flow)
      .number("vvm", at(&Delivered::vvm), "1/min")
      .number("back_pressure_kpa", at(&Delivered::back_pressure_kpa), Dimension::pressure)
      .number("water_head_kpa", at(&Delivered::water_head_kpa), Dimension::pressure)
      .number("line_loss_kpa", at(&Delivered::line_loss_kpa), Dimension::pressure)
      .number("diffuser_loss_kpa", at(&Delivered::diffuser_loss_kpa), Dimension::pressure);
  return outputs;
}

Outputs<KlaEstimate> kla_outputs() {
  Outputs<KlaEstimate> outputs;
  outputs.number("kla20_per_h", at(&KlaEstimate::kla20_per_h), Dimension::rate)
      .number("spread_ln", at(&KlaEstimate::spread_ln), "")
      .number("small_vessel_per_h", at(&KlaEstimate::small_vessel_per_h), Dimension::rate)
      .number("column_deckwer_per_h", at(&KlaEstimate::column_deckwer_per_h), Dimension::rate)
      .number("column_heijnen_per_h", at(&KlaEstimate::column_heijnen_per_h), Dimension::rate)
      .number("efficiency_per_h", at(&KlaEstimate::efficiency_per_h), Dimension::rate);
  return outputs;
}

}  // namespace barm::operations
