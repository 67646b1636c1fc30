// The shelf as the numbers from 0 to 1 that an optimiser turns.
#pragma once

#include <algorithm>
#include <cmath>
#include <vector>

#include "recipe/tryouts.h"

namespace barm::recipe {

/// The unit cube over some of the shelf, nothing of the rest. Foods go by the square, since little of them already does
/// much.
class Cube {
 public:
  Cube(const Draft& draft, Branch branch) : draft_(draft) {
    for (std::size_t i = 0; i < draft.shelf.size(); ++i)
      if (branch != Branch::plain || draft.shelf[i].kind != nullptr) chosen_.push_back(i);
  }
  /// What a mix holds already, and all lots.
  Cube(const Draft& draft, const Mix& mix) : draft_(draft) {
    for (std::size_t i = 0; i < draft.shelf.size(); ++i)
      if (mix.amounts[i] > 0.0 || draft.shelf[i].kind != nullptr) chosen_.push_back(i);
  }
  std::size_t size() const { return chosen_.size() + (draft_.timetables.size() > 1 ? 1 : 0); }

  /// In measures people own, or as exact as the point.
  Mix mix_at(const double* x, bool is_measurable) const {
    Mix mix{.amounts = std::vector<double>(draft_.shelf.size(), 0.0)};
    for (std::size_t i = 0; i < chosen_.size(); ++i)
      mix.amounts[chosen_[i]] = amount(draft_.shelf[chosen_[i]], x[i], is_measurable);
    if (size() > chosen_.size()) {
      const double place = x[chosen_.size()] * static_cast<double>(draft_.timetables.size());
      mix.timetable = std::min(draft_.timetables.size() - 1, static_cast<std::size_t>(std::max(0.0, place)));
    }
    return mix;
  }
  std::vector<double> point_of(const Mix& mix) const {
    std::vector<double> x;
    for (const std::size_t i : chosen_) x.push_back(place(draft_.shelf[i], mix.amounts[i]));
    if (size() > chosen_.size())
      x.push_back((static_cast<double>(mix.timetable) + 0.5) / static_cast<double>(draft_.timetables.size()));
    return x;
  }

 private:
  static constexpr double none_below = 0.05;  // of the unit interval: nothing of this one
  double amount(const Choosable& what, double x, bool is_measurable) const {
    const bool may_be_none = what.food != nullptr || draft_.ask.composts.size() > 1;
    if (may_be_none && x < none_below) return 0.0;
    const double share = std::clamp((x - none_below) / (1.0 - none_below), 0.0, 1.0);
    const double raw = what.most * (what.food != nullptr ? share * share : share);
    if (raw < what.least) return what.least;
    return is_measurable ? std::min(what.most, measurable(what, raw, draft_.ask.customs)) : raw;
  }
  double place(const Choosable& what, double amount) const {
    if (!(amount > 0.0)) return none_below / 2.0;
    const double share = amount / what.most;
    return none_below + (1.0 - none_below) * (what.food != nullptr ? std::sqrt(share) : share);
  }

  const Draft& draft_;
  std::vector<std::size_t> chosen_;
};

}  // namespace barm::recipe
