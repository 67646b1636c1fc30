// The best pile that what is on hand can make within limits, or which limit stands in the way. docs/compost/blend.md
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "compost/mix.h"

namespace barm::compost {

enum class BlendAim : std::uint8_t { most_use, least_cost };

struct OnHand {
  Material material;
  double mass_kg = unset;  // at most this much
};

struct BlendAsk {
  std::vector<OnHand> on_hand;
  MixLimits limits;
  BlendAim aim = BlendAim::most_use;  // of the dry matter on hand, so that water is no gain
  double mass_kg = unset;             // of the pile, water in it; least cost needs it
  bool may_add_water = true;
};

/// A single material from outside that would make the limits reachable, and the least of it.
struct BlendMend {
  Material material;
  double mass_kg = unset;
};

struct Blend {
  std::vector<double> mass_kg;  // of each on hand
  double water_kg = 0.0;
  Mix mix;
};

/// Solves the linear programme. Refuses what no mix can meet, naming each limit without which there would be one
/// (compost.blend.no_mix_for.*), or that none alone is the trouble; and the least single addition among `others` that
/// would mend it. Refuses less than nothing of a material, moisture of all or more, and a pile without nitrogen.
Answer<Blend> blend(const BlendAsk& ask, const std::vector<Material>& others);

}  // namespace barm::compost
