// The rating of a pump with which a brew does what is wanted.
#pragma once

#include <functional>
#include <vector>

#include "recipe/planning.h"

namespace barm::recipe {

/// Lowest oxygen of each brew over the length [mg/L], in the order they are drawn.
std::vector<double> lowest_oxygen_mg_per_l(const Brewing& brewing, const Aeration& aeration, const Knowledge& knowledge,
                                           const brew::Parallel& parallel);

/// The smallest rating [L/h] with which the lowest oxygen of the brews is enough, within a 64th to 64 times what the
/// pump has; by `halvings_count` halvings on the logarithm. Unset: none up to lines::air_most_vvm.
double least_rating_l_per_h(const Brewing& brewing, const Knowledge& knowledge, const brew::Parallel& parallel,
                            int halvings_count,
                            const std::function<bool(const std::vector<double>& lowest_mg_per_l)>& is_enough);

}  // namespace barm::recipe
