// What a batch costs: foods, compost, water, electricity and the minutes of whoever brews.
#pragma once

#include <string>

#include "quantity/text.h"

namespace barm::recipe {

/// What was paid, and for how much of it; nothing paid: counts as nothing.
struct Price {
  double paid = 0.0;
  Amount amount = {{unset, Dimension::mass}};  // mass [g] or volume [L]; unset: the stock
};

struct Tariffs {
  std::string currency;  // as the garden writes it; empty: none
  double electricity_per_kwh = 0.0;
  double pump_w = 0.0;
  double water_per_m3 = 0.0;
  double labour_minutes = 0.0;  // to mix, watch, spread and clean
  double labour_per_h = 0.0;
};

struct BatchCost {
  double foods = 0.0, compost = 0.0, water = 0.0, electricity = 0.0, labour = 0.0;
  double batch = 0.0;  // all of it
  double per_l = unset;
  double per_100m2 = unset;  // unset when no rate is told
  double labour_minutes = 0.0;
};

struct BatchUse {
  double foods = 0.0, compost = 0.0;  // what they cost
  double volume_l = unset;
  double length_h = unset;
  double rate_l_per_ha = unset;
};
/// (1) electricity = W / 1000 x h x tariff; (2) the rest by amount. docs/recipe/cost.md
BatchCost batch_cost(const BatchUse& use, const Tariffs& tariffs);

}  // namespace barm::recipe
