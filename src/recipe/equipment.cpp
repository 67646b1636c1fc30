#include "recipe/equipment.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "recipe/lines.h"
#include "recipe/planning.h"
#include "recipe/rating.h"

namespace barm::recipe {
namespace {

constexpr std::array temperatures_c = {16.0, 18.0, 20.0, 22.0, 24.0, 26.0, 28.0};
constexpr double measured_spread_ln = 0.1;  // judged: two or three re-aerations that agree
constexpr int halvings_count = 11;          // to a hundredth of what is sought

double share_above_6(const std::vector<double>& lowest_mg_per_l) {
  const auto above =
      std::count_if(lowest_mg_per_l.begin(), lowest_mg_per_l.end(), [](double low) { return low >= 6.0; });
  return static_cast<double>(above) / static_cast<double>(lowest_mg_per_l.size());
}

class Bench {
 public:
  Bench(Brewing brewing, const Knowledge& knowledge, const brew::Parallel& parallel)
      : brewing_(std::move(brewing)), knowledge_(knowledge), parallel_(parallel) {}
  const Brewing& brewing() const { return brewing_; }

  double stays_above_6(const Brewing& brewing, const Aeration& aeration) const {
    return share_above_6(lowest_oxygen_mg_per_l(brewing, aeration, knowledge_, parallel_));
  }

  Brewing fed(const Brewing& brewing, double factor) const {
    Brewing other = brewing;
    for (FoodPortion& portion : other.foods) portion.mass_g *= factor;
    return other;
  }

  /// The largest factor of food that keeps the line.
  double carried(const Brewing& brewing, const Aeration& aeration) const {
    const auto keeps = [&](double factor) {
      return stays_above_6(fed(brewing, factor), aeration) >= lines::stays_above_6_least;
    };
    constexpr double least = 1.0 / 64.0;
    if (!keeps(least)) return 0.0;
    if (keeps(carried_most)) return carried_most;
    double low = std::log(least), high = std::log(carried_most);
    for (int i = 0; i < halvings_count; ++i) {
      const double middle = 0.5 * (low + high);
      (keeps(std::exp(middle)) ? low : high) = middle;
    }
    return std::exp(low);
  }

  AirChange changed(const Brewing& brewing, const Aeration& aeration) const {
    return {.kla20_per_h = aeration.kla.kla20_per_h,
            .stays_above_6 = stays_above_6(brewing, aeration),
            .factor = carried(brewing, aeration)};
  }

  /// The smallest rating that carries the food.
  double pump_l_per_h(air::Diffuser diffuser) const {
    Brewing brewing = brewing_;
    brewing.ask.air.diffuser = diffuser;
    brewing.ask.air.line_count = 0;
    brewing.ask.measured_kla20_per_h = unset;  // it was measured on the pump there is
    return least_rating_l_per_h(brewing, knowledge_, parallel_, halvings_count, [](const auto& lowest_mg_per_l) {
      return share_above_6(lowest_mg_per_l) >= lines::stays_above_6_least;
    });
  }

 private:
  Brewing brewing_;
  const Knowledge& knowledge_;
  const brew::Parallel& parallel_;
};

}  // namespace

Answer<Equipment> equipment(const PlanAsk& ask, const Knowledge& knowledge, const brew::Parallel& parallel) {
  Findings findings;
  auto checked = check(ask, knowledge, findings);
  if (checked && checked->foods.empty()) findings.refuse({"recipe.equipment.no_food", "food", {}});
  if (!checked || findings.refused()) return std::move(findings).refusal<Equipment>();
  measure_out(*checked, findings);
  const auto aeration = findings.take(aerate(*checked));
  if (!aeration) return std::move(findings).refusal<Equipment>();

  const Bench bench(*checked, knowledge, parallel);
  const Brewing& brewing = bench.brewing();
  const Contents in = contents(brewing);
  Equipment all;
  all.kla20_per_h = aeration->kla.kla20_per_h;
  all.stays_above_6 = bench.stays_above_6(brewing, *aeration);
  all.factor = bench.carried(brewing, *aeration);
  for (const double temperature_c : temperatures_c) {
    Brewing other = brewing;
    other.ask.water_temperature_c = other.ask.room_temperature_c = temperature_c;
    other.ask.room_day = {};
    const auto air = aerate(other);
    if (!air.ok()) continue;
    const double factor = bench.carried(other, *air);
    all.frontier.push_back({.temperature_c = temperature_c,
                            .factor = factor,
                            .food_g_per_l = factor * in.food_cod_g_per_l,
                            .sugar_share = factor * in.sugar_share});
  }
  all.pump_stone_l_per_h = bench.pump_l_per_h(air::Diffuser::stone);
  all.pump_fine_l_per_h = bench.pump_l_per_h(air::Diffuser::fine);

  Brewing stones = brewing;
  const int lines_now = air::lines_count(brewing.ask.air);
  stones.ask.air.line_count = 2 * lines_now;
  if (const auto air = aerate(stones); air.ok()) all.second_stone = bench.changed(brewing, *air);
  Brewing pumps = brewing;
  pumps.ask.air.line_count = 2 * lines_now;
  if (const auto air = aerate(pumps, 2.0); air.ok()) all.second_pump = bench.changed(brewing, *air);
  Aeration known = *aeration;
  known.kla.spread_ln = measured_spread_ln;
  all.measured = bench.changed(brewing, known);
  return std::move(findings).answer(std::move(all));
}

}  // namespace barm::recipe
