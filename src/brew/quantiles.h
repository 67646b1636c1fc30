// Quantiles of members, equal or weighted.
#pragma once

#include <span>

#include "brew/forecast.h"

namespace barm::brew {

/// 5, 25, 50, 75 and 95 % of the values, by straight lines between the sorted values (type 7 of Hyndman and Fan 1996, from
/// memory). Not-a-numbers are left out; all of them: nothing is set. Reorders `values`.
Spread spread_of(std::span<double> values);

}  // namespace barm::brew
