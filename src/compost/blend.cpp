// The only file that knows the linear programming library.
#include "compost/blend.h"

#include <ClpSimplex.hpp>
#include <CoinPackedVector.hpp>
#include <array>
#include <cmath>
#include <optional>

namespace barm::compost {
namespace {

constexpr double solids_kg_per_m3 = 1500.0, water_kg_per_m3 = 1000.0;  // as in mix.cpp

/// One limit as a line through the origin: the sum of slope(material) * mass may not be negative.
struct Line {
  const char* name;
  double (*slope)(const Material&, const MixLimits&);
};

constexpr std::array<Line, 6> lines = {{
    {"cn_low", [](const Material& of,
                  const MixLimits& at) { return of.carbon_kg_per_kg() - at.cn_least * of.nitrogen_kg_per_kg(); }},
    {"cn_high", [](const Material& of,
                   const MixLimits& at) { return at.cn_most * of.nitrogen_kg_per_kg() - of.carbon_kg_per_kg(); }},
    {"too_dry", [](const Material& of, const MixLimits& at) { return of.moisture_share - at.moisture_least_share; }},
    {"too_wet", [](const Material& of, const MixLimits& at) { return at.moisture_most_share - of.moisture_share; }},
    {"too_dense", [](const Material& of,
                     const MixLimits& at) { return at.bulk_density_most_kg_per_m3 * of.volume_m3_per_kg() - 1.0; }},
    {"too_airless",
     [](const Material& of, const MixLimits& at) {
       return (1.0 - at.free_air_least_share) * of.volume_m3_per_kg() - of.moisture_share / water_kg_per_m3 -
              of.dry_share() / solids_kg_per_m3;
     }},
}};

struct Column {
  Material material;
  double most_kg = COIN_DBL_MAX;
  double cost = 0.0;
};

/// Masses of the cheapest mix of this mass (or of any mass from `least_kg`), one limit left out when named.
std::optional<std::vector<double>> solve(const std::vector<Column>& columns, const MixLimits& limits, double least_kg,
                                         double most_kg, const char* left_out = nullptr) {
  ClpSimplex model;
  model.setLogLevel(0);
  for (const Line& line : lines)
    model.addRow(0, nullptr, nullptr, line.name == left_out ? -COIN_DBL_MAX : 0.0, COIN_DBL_MAX);
  model.addRow(0, nullptr, nullptr, least_kg, most_kg);
  for (const Column& column : columns) {
    CoinPackedVector entries;
    for (std::size_t i = 0; i < lines.size(); ++i)
      entries.insert(static_cast<int>(i), lines[i].slope(column.material, limits));
    entries.insert(static_cast<int>(lines.size()), 1.0);
    model.addColumn(entries.getNumElements(), entries.getIndices(), entries.getElements(), 0.0, column.most_kg,
                    column.cost);
  }
  model.initialSolve();
  if (!model.isProvenOptimal()) return std::nullopt;
  const double* found = model.primalColumnSolution();
  std::vector<double> mass_kg(found, found + columns.size());
  for (double& each : mass_kg) each = std::max(each, 0.0);  // the solver's -1e-12
  return mass_kg;
}

std::vector<Column> columns_of(const BlendAsk& ask) {
  std::vector<Column> columns;
  for (const OnHand& each : ask.on_hand) {
    const double cost = ask.aim == BlendAim::least_cost ? each.material.price_per_kg : -each.material.dry_share();
    columns.push_back({each.material, each.mass_kg, cost});
  }
  if (ask.may_add_water) columns.push_back({water(), COIN_DBL_MAX, 0.0});
  return columns;
}

void check(const BlendAsk& ask, Findings& findings) {
  bool any_nitrogen = false;
  for (std::size_t i = 0; i < ask.on_hand.size(); ++i) {
    const OnHand& each = ask.on_hand[i];
    const std::string field = "feedstock[" + std::to_string(i + 1) + "]";
    if (!(each.mass_kg >= 0.0)) findings.refuse({"compost.blend.less_than_nothing", field + ".amount", {}});
    if (!(each.material.moisture_share >= 0.0 && each.material.moisture_share < 1.0))
      findings.refuse({"compost.blend.all_water", field + ".moisture", {}});
    any_nitrogen = any_nitrogen || (each.material.carbon_kg_per_kg() > 0.0 && each.material.nitrogen_kg_per_kg() > 0.0);
  }
  if (!any_nitrogen) findings.refuse({"compost.blend.no_carbon_or_nitrogen", "feedstock", {}});
  if (ask.aim == BlendAim::least_cost && !(ask.mass_kg > 0.0))
    findings.refuse({"compost.blend.mass_needed", "pile.mass", {}});
  const auto ordered = [&](double least, double most, const char* field) {
    if (!(least <= most)) findings.refuse({"compost.blend.limits_crossed", field, {}});
  };
  ordered(ask.limits.cn_least, ask.limits.cn_most, "limits.cn_least");
  ordered(ask.limits.moisture_least_share, ask.limits.moisture_most_share, "limits.moisture_least");
}

/// What stands in the way, and what would mend it.
void explain(const BlendAsk& ask, std::vector<Column> columns, double least_kg, double most_kg,
             const std::vector<Material>& others, Findings& findings) {
  double on_hand_kg = 0.0;
  for (const OnHand& each : ask.on_hand) on_hand_kg += each.mass_kg;
  bool any = false;
  for (const Line& line : lines) {
    if (!solve(columns, ask.limits, least_kg, most_kg, line.name)) continue;
    any = true;
    findings.refuse({std::string("compost.blend.no_mix_for.") + line.name, "limits", {}});
  }
  if (!any && solve(columns, ask.limits, std::min(least_kg, on_hand_kg * 1e-6), most_kg)) {
    findings.refuse(
        {"compost.blend.not_enough", "pile.mass", {{"given", Quantity{on_hand_kg * 1000.0, Dimension::mass}}}});
    any = true;
  }
  if (!any) findings.refuse({"compost.blend.no_mix", "limits", {}});
  for (Column& column : columns) column.cost = 0.0;
  if (!std::isfinite(ask.mass_kg)) {  // use half of what is on hand, so that the mend is no pile of its own
    for (std::size_t i = 0; i < ask.on_hand.size(); ++i) least_kg = std::max(least_kg, 0.5 * on_hand_kg);
  }
  BlendMend best;
  for (const Material& other : others) {
    columns.push_back({other, COIN_DBL_MAX, 1.0});
    if (const auto mended = solve(columns, ask.limits, least_kg, most_kg)) {
      if (!(best.mass_kg <= mended->back())) best = {other, mended->back()};
    }
    columns.pop_back();
  }
  if (best.material.name.empty()) return;
  Remark mend{"compost.blend.would_mend", "feedstock", {{"amount", Quantity{best.mass_kg * 1000.0, Dimension::mass}}}};
  name_in_both(best.material, "material", mend);
  findings.refuse(std::move(mend));
}

}  // namespace

Answer<Blend> blend(const BlendAsk& ask, const std::vector<Material>& others) {
  Findings findings;
  check(ask, findings);
  if (findings.refused()) return std::move(findings).refusal<Blend>();
  double on_hand_kg = 0.0;
  for (const OnHand& each : ask.on_hand) on_hand_kg += each.mass_kg;
  const bool of_one_mass = std::isfinite(ask.mass_kg);
  const double least_kg = of_one_mass ? ask.mass_kg : on_hand_kg * 1e-3;  // a thousandth: a pile, not nothing
  const double most_kg = of_one_mass ? ask.mass_kg : COIN_DBL_MAX;
  const auto columns = columns_of(ask);
  auto mass_kg = solve(columns, ask.limits, least_kg, most_kg);
  if (!mass_kg) {
    explain(ask, columns, least_kg, most_kg, others, findings);
    return std::move(findings).refusal<Blend>();
  }
  Blend found;
  std::vector<Material> materials;
  for (const Column& column : columns) materials.push_back(column.material);
  found.mix = mix_of(materials, *mass_kg);
  if (ask.may_add_water) {
    found.water_kg = mass_kg->back();
    mass_kg->pop_back();
  }
  found.mass_kg = std::move(*mass_kg);
  return found;
}

}  // namespace barm::compost
