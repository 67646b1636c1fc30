// Amounts in measures people own: spoons, cups, jugs and a kitchen scale, with the error the rounding makes.
#pragma once

#include <string>

#include "quantity/text.h"

namespace barm {

/// An amount as it can be measured out, and how far that is from what was asked.
struct KitchenAmount {
  Quantity exact;      // what was asked: mass [g] or volume [L]
  Quantity rounded;    // what the text says, in the same dimension
  std::string text;    // in owned measures: "3 1/4 tbsp", "1 1/2 lb", "700 g"
  std::string beside;  // the same in grams or millilitres: "48 mL"
  double error_share = 0.0;  // (rounded - exact) / exact
};

/// Rounds to measures people own: volumes to 1/4 tsp steps up to a spoonful, then spoons, cups (quarters and thirds),
/// litres or gallons; masses to what a kitchen scale shows. A dry food given by mass is also offered by the spoon when its
/// bulk density is known [g/mL]; pass 0 when it is not. Refuses an amount too small to be measured (under 1/8 tsp or 0.5 g).
Answer<KitchenAmount> round_for_kitchen(Quantity amount, const Customs& customs, double bulk_density_g_per_ml = 0.0);

}  // namespace barm
