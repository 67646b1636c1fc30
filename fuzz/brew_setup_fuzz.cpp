// Any brew, with unknowns drawn from the very edges of their priors, is refused or forecast: no member is given up, no
// mass is negative, nothing is other than a number.
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string>

#include "brew/ensemble.h"
#include "data/embedded.h"

namespace {
using namespace barm;

class Bytes {
 public:
  Bytes(const std::uint8_t* data, std::size_t size) : at_(data), left_(size) {}
  unsigned next() {
    if (left_ == 0) return 0;
    --left_;
    return *at_++;
  }
  double share() { return (256.0 * next() + next()) / 65535.0; }
  double between(double low, double high) { return low + share() * (high - low); }
  double spread(double low, double high) { return std::exp(between(std::log(low), std::log(high))); }

 private:
  const std::uint8_t* at_;
  std::size_t left_;
};

brew::Setup setup_of(Bytes& bytes) {
  static const auto foods = food::Library::read(data::file("foods.toml"));
  static const auto composts = compost::Kinds::read(data::file("composts.toml"));
  const char* kinds[] = {"mixed", "bacterial", "fungal", "worm"};
  brew::Setup setup;
  setup.volume_l = bytes.spread(0.5, 5000.0);
  setup.diameter_m = bytes.spread(0.05, 3.0);
  setup.water_temperature_c = bytes.between(-5.0, 50.0);
  setup.room_temperature_c = bytes.between(-15.0, 50.0);
  setup.room_humidity_share = bytes.between(-0.1, 1.1);
  setup.pressure_kpa = bytes.between(45.0, 115.0);
  setup.air_flow_l_per_h = bytes.spread(0.1, 1e6);
  setup.kla20_per_h = bytes.spread(1e-3, 1e3);
  setup.kla20_spread_ln = bytes.between(0.0, 2.1);
  setup.length_h = bytes.between(0.0, 80.0);
  setup.composts = {{.kind = **composts.find(kinds[bytes.next() % 4]),
                     .mass_g = setup.volume_l * bytes.spread(1e-3, 1e3),
                     .in_bag = bytes.next() % 2 == 0}};
  for (unsigned n = bytes.next() % 4; n > 0; --n)
    setup.foods.push_back({.food = foods.foods()[bytes.next() % foods.foods().size()],
                           .mass_g = setup.volume_l * bytes.spread(1e-4, 1e2),
                           .at_h = bytes.between(0.0, 60.0)});
  for (unsigned n = bytes.next() % 4; n > 0; --n)
    setup.acts.push_back(
        {.at_h = bytes.between(0.0, 60.0), .air_is_on = bytes.next() % 2 == 0, .bag_is_in = bytes.next() % 2 == 0});
  std::sort(setup.acts.begin(), setup.acts.end(), [](const auto& a, const auto& b) { return a.at_h < b.at_h; });
  return setup;
}

void check(const std::vector<double>& values, double least) {
  for (const double value : values)
    if (!(std::isfinite(value) && value >= least)) std::abort();
}
void check(const brew::Band& band, double least) {
  for (const auto* edge : {&band.p05, &band.p25, &band.p50, &band.p75, &band.p95}) check(*edge, least);
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const auto priors = brew::Priors::read(data::file("model.toml"));
  Bytes bytes(data, size);
  const brew::Setup setup = setup_of(bytes);
  brew::EnsembleOptions options{.members_count = 16, .output_step_h = 1.0};
  Findings findings;
  brew::check(setup, options, findings);
  if (findings.refused()) return 0;

  const brew::Unknowns unknowns(setup, priors);
  std::vector<double> values;
  for (int m = 0; m < options.members_count; ++m) {
    std::vector<double> point(static_cast<std::size_t>(unknowns.count()));
    for (double& u : point) {
      const unsigned where = bytes.next() % 4;
      u = where == 0 ? 1e-9 : where == 1 ? 1.0 - 1e-9 : std::clamp(bytes.share(), 1e-9, 1.0 - 1e-9);
    }
    const auto member = unknowns.values(point);
    values.insert(values.end(), member.begin(), member.end());
  }
  const auto told = brew::forecast_of(setup, brew::members_of(setup, priors, unknowns, values), options);
  if (told.failed_members_count != 0) std::abort();
  check(told.oxygen_mg_per_l, 0.0);
  check(told.bacteria_per_ml, 0.0);
  check(told.protozoa_per_ml, 0.0);
  check(told.fungi_ug_per_ml, 0.0);
  check(told.temperature_c, -60.0);
  check(told.uptake_mg_per_l_per_h, 0.0);
  check(told.saturation_mg_per_l, 0.0);
  return 0;
}
