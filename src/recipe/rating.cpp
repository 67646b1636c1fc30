#include "recipe/rating.h"

#include <cmath>

#include "recipe/lines.h"

namespace barm::recipe {

std::vector<double> lowest_oxygen_mg_per_l(const Brewing& brewing, const Aeration& aeration, const Knowledge& knowledge,
                                           const brew::Parallel& parallel) {
  const brew::Setup setup = set_up(brewing, aeration);
  const brew::Unknowns unknowns(setup, knowledge.priors);
  auto members = brew::draw_members(setup, knowledge.priors, unknowns, brewing.ask.members_count, brewing.ask.seed);
  const brew::Stretch stretch = brew::run(members, 0.0, setup.length_h, {}, {}, parallel);
  std::vector<double> lowest;
  for (std::size_t i = 0; i < stretch.lowest.size(); i += 2) lowest.push_back(stretch.lowest[i]);
  return lowest;
}

double least_rating_l_per_h(const Brewing& brewing, const Knowledge& knowledge, const brew::Parallel& parallel,
                            int halvings_count, const std::function<bool(const std::vector<double>&)>& is_enough) {
  enum class Does { too_little, enough, too_much };
  const double rating_l_per_h = brewing.ask.air.rated_flow_l_per_h;
  const auto does = [&](double times) {
    Brewing other = brewing;
    other.ask.air.rated_flow_l_per_h = rating_l_per_h * times;
    const auto aeration = aerate(other);
    if (!aeration.ok()) return Does::too_little;  // it cannot push air down there
    if (aeration->air.vvm > lines::air_most_vvm) return Does::too_much;
    return is_enough(lowest_oxygen_mg_per_l(other, *aeration, knowledge, parallel)) ? Does::enough : Does::too_little;
  };
  double low_ln = -std::log(64.0), high_ln = std::log(64.0);
  bool found = false;
  for (int i = 0; i < halvings_count; ++i) {
    const double middle_ln = 0.5 * (low_ln + high_ln);
    const Does now = does(std::exp(middle_ln));
    found = found || now == Does::enough;
    (now == Does::too_little ? low_ln : high_ln) = middle_ln;
  }
  return found ? rating_l_per_h * std::exp(high_ln) : unset;
}

}  // namespace barm::recipe
