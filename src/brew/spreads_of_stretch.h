// Quantiles of what the members of an ensemble were seen to do, hour by hour.
#pragma once

#include <cstddef>
#include <vector>

#include "brew/quantiles.h"
#include "brew/run.h"

namespace barm::brew {

/// One spread for each output hour of the stretch. `shown` turns what a member is seen with, and its place, into what
/// is told of it.
template <class Shown>
std::vector<Spread> spreads_of_stretch(const Stretch& stretch, int member_count, tea::Observed what, Shown shown) {
  const auto fill = [&](int first, int count, const Columns& into) {
    for (std::size_t m = 0; m < static_cast<std::size_t>(member_count); ++m)
      for (std::size_t at = 0; at < static_cast<std::size_t>(count); ++at)
        into.at(m, at) = shown(stretch.of(static_cast<int>(m), static_cast<std::size_t>(first) + at, what), m);
  };
  return spreads_of_columns(member_count, static_cast<int>(stretch.at_h.size()), fill);
}

}  // namespace barm::brew
