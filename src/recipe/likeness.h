// What an amount of a food brings to a brew, and how like another amount of another food that is.
// Model: docs/recipe/substitute.md, 1 to 4
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "brew/priors.h"
#include "food/food.h"

namespace barm::recipe {

/// What a food is in a brew for, told from its figures. Trace elements and hormones are not known of any food.
enum class Part : std::uint8_t {
  sugar,     // most of what can be eaten is eaten at once
  slow,      // most of it is starch, protein or alginate
  nitrogen,  // brings more nitrogen than its own food can build into cells
  colour,    // hardly anything of it is eaten
  surface,   // changes foam, and hinders oxygen
};
Part part_of(const food::Food& food, const brew::Priors& priors);

/// Nitrogen in the cells that are built of so much oxygen demand [g/g]. Source: M10, as in data/model.toml.
double nitrogen_of_cells(const brew::Priors& priors);

/// What an amount of a food brings to each litre.
struct Brings {
  double ready_mg_per_l = unset, slow_mg_per_l = unset;  // oxygen demand that can be eaten
  double nitrogen_mg_per_l = unset;                      // all of it
  double usable_nitrogen_mg_per_l = unset;               // mineral or dissolved
  double eaten_mg_per_l() const { return ready_mg_per_l + slow_mg_per_l; }
};
Brings brings(const food::Food& food, double mass_g, double volume_l);

/// How far one is from the other: what can be eaten, what is eaten at once, and nitrogen, each as a share of the
/// first's food. 0: the same.
double misfit(const Brings& from, const Brings& to, const brew::Priors& priors);

/// Carbon to nitrogen by mass, from oxygen demand; unset without nitrogen. Exact for carbohydrates; protein holds up to
/// a fifth less carbon by oxygen demand, fat up to a quarter.
double carbon_to_nitrogen(double cod_g, double nitrogen_g);

}  // namespace barm::recipe
