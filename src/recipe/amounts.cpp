#include "recipe/planning.h"

namespace barm::recipe {
namespace {

struct Named {
  std::string id, english, spanish, field;
};

/// One line of the list, or nothing when the amount cannot be measured out.
std::optional<AmountLine> line(const Named& what, Quantity exact, const Brewing& brewing, double bulk_density_g_per_ml,
                               Findings& findings) {
  auto rounded = round_for_kitchen(exact, brewing.ask.customs, bulk_density_g_per_ml);
  if (!rounded.ok()) {
    for (Remark why : rounded.refusals()) {
      why.field = what.field;
      findings.refuse(std::move(why));
    }
    return std::nullopt;
  }
  return AmountLine{
      .id = what.id, .english = what.english, .spanish = what.spanish, .amount = std::move(rounded.value())};
}

/// g per L for a mass, mL per L for a volume.
double per_litre(const AmountLine& of, double volume_l) {
  const Quantity& rounded = of.amount.rounded;
  return rounded.value * (rounded.dimension == Dimension::volume ? 1000.0 : 1.0) / volume_l;
}

}  // namespace

double spoon_density(const food::Food& food) {
  return food.is_liquid ? 0.0 : food.density_g_per_ml;
}

std::vector<AmountLine> measure_out(Brewing& brewing, Findings& findings) {
  std::vector<AmountLine> list;
  const auto add = [&](const Named& what, Quantity exact, double bulk_density_g_per_ml) -> std::optional<double> {
    auto made = line(what, exact, brewing, bulk_density_g_per_ml, findings);
    if (!made) return std::nullopt;
    list.push_back(std::move(*made));
    return list.back().amount.rounded.value;
  };

  const Quantity water{brewing.ask.volume_l, Dimension::volume};
  if (const auto rounded_l = add({"water", "water", "agua", "water.volume"}, water, 0.0))
    brewing.ask.volume_l = *rounded_l;

  for (std::size_t i = 0; i < brewing.composts.size(); ++i) {
    CompostPortion& portion = brewing.composts[i];
    const Named what{"compost." + portion.kind->id, portion.kind->english, portion.kind->spanish,
                     "compost[" + std::to_string(i + 1) + "].mass"};
    if (const auto mass_g = add(what, {portion.mass_g, Dimension::mass}, 0.0)) portion.mass_g = *mass_g;
  }
  for (FoodPortion& portion : brewing.foods) {
    const food::Food& food = *portion.food;
    const Named what{"food." + food.id, food.names.front(), food.spanish, portion.field};
    const auto rounded = add(what, portion.measured, spoon_density(food));
    if (!rounded) continue;
    portion.mass_g *= *rounded / portion.measured.value;
    portion.measured.value = *rounded;
  }
  for (AmountLine& each : list) each.per_l = per_litre(each, brewing.ask.volume_l);
  return list;
}

}  // namespace barm::recipe
