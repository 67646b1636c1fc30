#include "operations/amounts_told.h"

namespace barm::operations {

using recipe::AmountLine;

Outputs<AmountLine> amount_outputs() {
  Outputs<AmountLine> outputs;
  outputs.text("id", at(&AmountLine::id))
      .told("name",
            [](const AmountLine& line, const Voice& voice) {
              return voice.language == cards::Language::spanish ? line.spanish : line.english;
            })
      .number("exact", at(&AmountLine::amount, &KitchenAmount::exact, &Quantity::value), "")
      .number("rounded", at(&AmountLine::amount, &KitchenAmount::rounded, &Quantity::value), "")
      .text("unit", [](const AmountLine& line) { return std::string(unit_inside(line.amount.exact.dimension)); })
      .text("text", at(&AmountLine::amount, &KitchenAmount::text))
      .text("beside", at(&AmountLine::amount, &KitchenAmount::beside))
      .number("error_share", at(&AmountLine::amount, &KitchenAmount::error_share), "")
      .number("per_l", at(&AmountLine::per_l), "");
  return outputs;
}

}  // namespace barm::operations
