#include "rule/contaminant.h"

#include <algorithm>
#include <cmath>

#include "quantity/data_entry.h"

namespace barm::rule {
namespace {

/// The fastest any strain grows anywhere between two temperatures [1/h].
double fastest_per_h(const std::vector<Strain>& strains, double low_c, double high_c) {
  double fastest = 0.0;
  for (const Strain& strain : strains) {
    const double best_c = std::clamp(strain.t_opt_c, low_c, high_c);
    fastest = std::max(fastest, growth_rate_per_h(strain, best_c));
  }
  return fastest;
}

struct Change {
  double cooler_by_c = 0.0;
  double length_h = unset;
  bool without_food = false;
};

double share_fed(const GrowthAsk& ask, bool without_food) {
  const double food = ask.compost_cod_g_per_l + (without_food ? 0.0 : ask.food_cod_g_per_l);
  return food / (ask.half_saturation_g_per_l + food);
}

double decades(const GrowthAsk& ask, const std::vector<Strain>& strains, const Change& change) {
  const auto& at = ask.warmth;
  double sum = 0.0;
  const auto rate = [&](std::size_t i) {
    return fastest_per_h(strains, at.low_c[i] - change.cooler_by_c, at.high_c[i] - change.cooler_by_c);
  };
  for (std::size_t i = 1; i < at.time_h.size(); ++i) {
    const double from_h = at.time_h[i - 1], to_h = std::min(at.time_h[i], change.length_h);
    if (to_h > from_h) sum += (to_h - from_h) * std::max(rate(i - 1), rate(i));
  }
  return sum * share_fed(ask, change.without_food) / std::log(10.0);
}

}  // namespace

std::vector<Strain> read_strains(std::string_view toml) {
  std::vector<Strain> strains;
  each_data_entry(toml, "strain", "indicator.toml", [&](DataEntry entry, const std::string& id) {
    Strain strain{.id = id};
    strain.t_min_c = entry.number("t_min", "degC");
    strain.t_opt_c = entry.number("t_opt", "degC");
    strain.t_max_c = entry.number("t_max", "degC");
    strain.mu_opt_per_h = entry.number("mu_opt", "1/h");
    entry.promise(strain.t_min_c < strain.t_opt_c && strain.t_opt_c < strain.t_max_c && strain.mu_opt_per_h > 0.0,
                  "temperatures are not in order");
    strain.source = entry.sources();
    strains.push_back(std::move(strain));
  });
  return strains;
}

double growth_rate_per_h(const Strain& strain, double temperature_c) {
  const double t = temperature_c, low = strain.t_min_c, best = strain.t_opt_c, high = strain.t_max_c;
  if (!(t > low && t < high)) return 0.0;
  const double above = (t - high) * (t - low) * (t - low);  // S55, equation 1
  const double below = (best - low) * ((best - low) * (t - best) - (best - high) * (best + low - 2.0 * t));
  return strain.mu_opt_per_h * above / below;
}

Growth growth(const GrowthAsk& ask, const std::vector<Strain>& strains) {
  expects(!strains.empty() && ask.warmth.time_h.size() == ask.warmth.high_c.size() &&
              ask.warmth.time_h.size() == ask.warmth.low_c.size(),
          "growth is asked of strains and of a warmth that is whole");
  Growth grown;
  grown.decades = decades(ask, strains, {.length_h = ask.length_h});
  grown.without_food_decades = decades(ask, strains, {.length_h = ask.length_h, .without_food = true});
  grown.cooler_decades = decades(ask, strains, {.cooler_by_c = cooler_by_c, .length_h = ask.length_h});
  grown.shorter_decades = decades(ask, strains, {.length_h = ask.length_h * (1.0 - shorter_by_share)});
  double fastest = 0.0;
  for (std::size_t i = 0; i < ask.warmth.time_h.size(); ++i)
    fastest = std::max(fastest, fastest_per_h(strains, ask.warmth.low_c[i], ask.warmth.high_c[i]));
  const double rate_per_h = fastest * share_fed(ask, false);
  if (rate_per_h > 0.0) grown.doubling_h = std::log(2.0) / rate_per_h;
  return grown;
}

}  // namespace barm::rule
