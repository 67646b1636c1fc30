// Amounts in measures people own: spoons, cups, jugs and a kitchen scale, with the error the rounding makes.
#pragma once

#include <string>

#include "quantity/text.h"

namespace barm {

/// An amount as it can be measured out, and how far that is from what was asked.
struct KitchenAmount {
  Quantity exact;            // what was asked: mass [g] or volume [L]
  Quantity rounded;          // what the text says, in the same dimension
  std::string text;          // in owned measures: "2 tbsp 1½ tsp", "1½ lb", "700 g"
  std::string beside;        // the same in grams, millilitres or litres: "48 mL"
  double error_share = 0.0;  // (rounded - exact) / exact
};

/// Rounds to measures people own, to the plainest amount within 5 %, else the nearest (judged;
/// docs/quantity/kitchen.md). Volumes: 1/8 tsp steps below half a teaspoon, 1/4 tsp steps up to a tablespoon, then
/// spoons up to a quarter cup; above that cups (quarters and thirds), quarts and gallons, or a metric jug's marks.
/// Masses: whole grams, or ounces and pounds. A food given by mass whose bulk density [g/mL] is known and which fills
/// no more than four cups is given by the spoon or cup, with grams beside; pass 0 when it is not known. Spoons and cups
/// are US customary in either custom. Refuses an amount too small to be measured (under 1/8 tsp or 0.5 g), too large to
/// be meant (over 1e9), or not finite.
Answer<KitchenAmount> round_for_kitchen(Quantity amount, const Customs& customs, double bulk_density_g_per_ml = 0.0);

}  // namespace barm
