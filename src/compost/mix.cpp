#include "compost/mix.h"

#include <cmath>
#include <limits>

namespace barm::compost {
namespace {

constexpr double solids_kg_per_m3 = 1500.0;  // judged; docs/compost/blend.md
constexpr double water_kg_per_m3 = 1000.0;
constexpr double settles_to_share = 0.85;  // practice; docs/compost/blend.md

struct Sums {
  double mass_kg = 0.0, water_kg = 0.0, carbon_kg = 0.0, nitrogen_kg = 0.0, volume_m3 = 0.0, cost = 0.0;
};

Sums sums_of(const std::vector<Material>& materials, const std::vector<double>& mass_kg) {
  expects(materials.size() == mass_kg.size(), "a mass for each material");
  Sums sums;
  for (std::size_t i = 0; i < materials.size(); ++i) {
    const Material& of = materials[i];
    sums.mass_kg += mass_kg[i];
    sums.water_kg += mass_kg[i] * of.moisture_share;
    sums.carbon_kg += mass_kg[i] * of.carbon_kg_per_kg();
    sums.nitrogen_kg += mass_kg[i] * of.nitrogen_kg_per_kg();
    sums.volume_m3 += mass_kg[i] * of.volume_m3_per_kg();
    sums.cost += mass_kg[i] * of.price_per_kg;
  }
  return sums;
}

double positive_or_unset(double mass_kg) {
  return mass_kg >= 0.0 && std::isfinite(mass_kg) ? mass_kg : unset;
}

}  // namespace

Mix mix_of(const std::vector<Material>& materials, const std::vector<double>& mass_kg) {
  const Sums sums = sums_of(materials, mass_kg);
  Mix mix{.mass_kg = sums.mass_kg, .volume_m3 = sums.volume_m3, .cost = sums.cost};
  if (!(sums.mass_kg > 0.0)) return mix;
  mix.moisture_share = sums.water_kg / sums.mass_kg;                       // S62
  if (sums.nitrogen_kg > 0.0) mix.cn = sums.carbon_kg / sums.nitrogen_kg;  // S62
  if (!(sums.volume_m3 > 0.0)) return mix;
  mix.bulk_density_kg_per_m3 = sums.mass_kg / sums.volume_m3;
  const double filled_m3 = sums.water_kg / water_kg_per_m3 + (sums.mass_kg - sums.water_kg) / solids_kg_per_m3;
  mix.free_air_share = 1.0 - filled_m3 / sums.volume_m3;
  mix.free_air_settled_share = 1.0 - filled_m3 / (settles_to_share * sums.volume_m3);
  return mix;
}

Remarks off_limits(const Mix& mix, const MixLimits& limits) {
  Remarks off;
  const auto say = [&](bool is_off, const char* code, double given, double allowed, Dimension dimension) {
    if (is_off)
      off.push_back({code, "", {{"given", Quantity{given, dimension}}, {"line", Quantity{allowed, dimension}}}});
  };
  constexpr double slack = 1e-6;  // an optimum lies on its limits
  say(mix.cn < limits.cn_least - slack, "compost.blend.cn_low", mix.cn, limits.cn_least, Dimension::number);
  say(mix.cn > limits.cn_most + slack, "compost.blend.cn_high", mix.cn, limits.cn_most, Dimension::number);
  say(mix.moisture_share < limits.moisture_least_share - slack, "compost.blend.too_dry", mix.moisture_share,
      limits.moisture_least_share, Dimension::share);
  say(mix.moisture_share > limits.moisture_most_share + slack, "compost.blend.too_wet", mix.moisture_share,
      limits.moisture_most_share, Dimension::share);
  say(mix.bulk_density_kg_per_m3 > limits.bulk_density_most_kg_per_m3 + 1e-3, "compost.blend.too_dense",
      mix.bulk_density_kg_per_m3, limits.bulk_density_most_kg_per_m3, Dimension::density);
  say(mix.free_air_share < limits.free_air_least_share - slack, "compost.blend.too_airless", mix.free_air_share,
      limits.free_air_least_share, Dimension::share);
  return off;
}

double mass_for_cn_kg(const std::vector<Material>& materials, const std::vector<double>& mass_kg, const Material& added,
                      double cn) {
  const Sums sums = sums_of(materials, mass_kg);
  return positive_or_unset((cn * sums.nitrogen_kg - sums.carbon_kg) /
                           (added.carbon_kg_per_kg() - cn * added.nitrogen_kg_per_kg()));
}

double mass_for_moisture_kg(const std::vector<Material>& materials, const std::vector<double>& mass_kg,
                            const Material& added, double moisture_share) {
  const Sums sums = sums_of(materials, mass_kg);
  return positive_or_unset((moisture_share * sums.mass_kg - sums.water_kg) / (added.moisture_share - moisture_share));
}

Material water() {
  return {.name = "water",
          .moisture_share = 1.0,
          .nitrogen_share = 0.0,
          .cn = 0.0,
          .bulk_density_kg_per_m3 = std::numeric_limits<double>::infinity()};
}

}  // namespace barm::compost
