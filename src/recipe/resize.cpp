#include "recipe/resize.h"

#include <algorithm>
#include <cmath>

#include "recipe/lines.h"
#include "recipe/rating.h"
#include "recipe/scale.h"

namespace barm::recipe {
namespace {

constexpr double same_mg_per_l = 0.005;  // of the oxygen compared: as near as a meter tells
constexpr int halvings_count = 15;       // to a three-thousandth, below the three figures that are told

air::Vessel vessel_of(const PlanAsk& ask) {
  return {.volume_l = ask.volume_l, .diameter_m = ask.vessel_diameter_m};
}

/// Lowest oxygen of each member, lowest first.
std::vector<double> ranked(std::vector<double> lowest) {
  std::sort(lowest.begin(), lowest.end());
  return lowest;
}

/// The member at the line of 6 mg/L, kept off the outermost twentieths, where draws decide.
std::size_t edge_of(const std::vector<double>& lowest) {
  const auto count = lowest.size();
  const auto below = static_cast<std::size_t>(std::lower_bound(lowest.begin(), lowest.end(), 6.0) - lowest.begin());
  return std::clamp(below, count / 20, count - 1 - count / 20);
}

Size size_of(const BrewPlan& plan, double factor) {
  const PlanAsk& ask = plan.ask;
  Size size{.volume_l = ask.volume_l, .diameter_m = ask.vessel_diameter_m, .depth_m = vessel_of(ask).depth_m()};
  size.surface_m2_per_m3 = 1.0 / size.depth_m;
  size.walls_m2_per_m3 = 2.0 / size.depth_m + 4.0 / size.diameter_m;
  size.rated_flow_l_per_h = ask.air.rated_flow_l_per_h;
  size.water_head_kpa = plan.air.water_head_kpa;
  size.vvm = plan.air.vvm;
  size.kla20_per_h = plan.kla.kla20_per_h;
  size.lines_count = air::lines_count(ask.air);
  size.bags_count = std::ceil(factor - 1e-9);
  size.one_bag_surface_share = 1.0 / std::cbrt(factor);
  return size;
}

/// To the step that is told, so that what is printed is what was forecast.
double to_step(double value, double steps_per_unit) {
  return std::round(value * steps_per_unit) / steps_per_unit;
}

/// Amounts and pump times the factor. A test of one vessel's transfer says nothing of another's.
PlanAsk multiplied(const PlanAsk& was, double factor, double volume_l, double diameter_m) {
  PlanAsk ask = was;
  const Recipe amounts = scaled({was.volume_l, was.composts, was.foods}, factor).value();
  ask.composts = amounts.composts;
  ask.foods = amounts.foods;
  ask.volume_l = volume_l;
  ask.vessel_diameter_m = diameter_m;
  if (factor == 1.0 && diameter_m == was.vessel_diameter_m) return ask;
  ask.measured_kla20_per_h = ask.measured_kla20_error_per_h = unset;
  ask.air.rated_flow_l_per_h *= factor;
  ask.air.line_count = 0;
  const auto head_kpa = [&](const PlanAsk& of) { return air::water_head_kpa(vessel_of(of), of.water_temperature_c); };
  // To a pascal; stays unset when it was.
  ask.air.maximum_pressure_kpa += to_step(std::max(0.0, head_kpa(ask) - head_kpa(was)), 1000.0);
  return ask;
}

/// Three figures, as pumps are sold; upwards, so that none is lost.
double rounded_up(double l_per_h) {
  const double step = std::pow(10.0, std::floor(std::log10(l_per_h)) - 2.0);
  return std::ceil(l_per_h / step - 1e-9) * step;
}

/// The rating that takes the member at the edge to the same lowest oxygen; unset when none does.
double rating_l_per_h(const Brewing& brewing, std::size_t edge, double wanted_mg_per_l, const Knowledge& knowledge,
                      const brew::Parallel& parallel) {
  const double rating = brewing.ask.air.rated_flow_l_per_h;
  if (const auto aeration = aerate(brewing); aeration.ok()) {
    const auto lowest = ranked(lowest_oxygen_mg_per_l(brewing, *aeration, knowledge, parallel));
    if (aeration->air.vvm <= lines::air_most_vvm && std::abs(lowest[edge] - wanted_mg_per_l) < same_mg_per_l)
      return rating;
  }
  const double least = least_rating_l_per_h(brewing, knowledge, parallel, halvings_count, [&](const auto& lowest) {
    return ranked(lowest)[edge] >= wanted_mg_per_l;
  });
  return std::isnan(least) ? unset : rounded_up(least);
}

Quantity number(double value) {
  return {value, Dimension::number};
}

Remarks sentences(const Resized& all, bool kla_was_measured) {
  const Size &was = all.was_size, &now = all.proposed_size;
  if (all.factor == 1.0 && now.diameter_m == was.diameter_m) return {{"recipe.scale.same", "", {}}};
  const auto shares = [](double from, double to) { return number(std::round(100.0 * to / from)); };
  Remarks told;
  if (!all.naive_refusals.empty()) told.push_back({"recipe.scale.naive_refused", "", {}});
  if (all.was.verdict != Verdict::holds) told.push_back({"recipe.scale.does_not_hold", "", {}});
  told.push_back({"recipe.scale.depth",
                  "",
                  {{"from", Quantity{was.depth_m, Dimension::length}},
                   {"to", Quantity{now.depth_m, Dimension::length}},
                   {"of_100", shares(was.surface_m2_per_m3, now.surface_m2_per_m3)}}});
  told.push_back({"recipe.scale.heat", "", {{"of_100", shares(was.walls_m2_per_m3, now.walls_m2_per_m3)}}});
  told.push_back({"recipe.scale.pump",
                  "",
                  {{"pump", Quantity{now.rated_flow_l_per_h, Dimension::flow}},
                   {"naive", Quantity{was.rated_flow_l_per_h * all.factor, Dimension::flow}},
                   {"head", Quantity{now.water_head_kpa, Dimension::pressure}}}});
  told.push_back({"recipe.scale.diffusers", "", {{"from", number(was.lines_count)}, {"to", number(now.lines_count)}}});
  if (all.factor > 1.0 && all.was.ask.composts.front().in_bag)
    told.push_back(
        {"recipe.scale.bags",
         "",
         {{"count", number(now.bags_count)}, {"of_100", number(std::round(100.0 * now.one_bag_surface_share))}}});
  told.push_back({"recipe.scale.compost_ratio", "", {}});
  if (all.proposed.ask.air.maximum_pressure_kpa > all.was.ask.air.maximum_pressure_kpa)
    told.push_back({"recipe.scale.pressure",
                    "",
                    {{"from", Quantity{all.was.ask.air.maximum_pressure_kpa, Dimension::pressure}},
                     {"to", Quantity{all.proposed.ask.air.maximum_pressure_kpa, Dimension::pressure}}}});
  if (kla_was_measured) told.push_back({"recipe.scale.measured_left", "", {}});
  return told;
}

}  // namespace

Answer<Resized> resize(PlanAsk ask, double volume_l, double diameter_m, const Knowledge& knowledge,
                       const brew::Parallel& parallel) {
  ask.wants_mends = false;  // of three plans, and none is told
  Findings findings;
  if (!(volume_l >= resized_least_l && volume_l <= resized_most_l))
    findings.refuse({"recipe.scale.volume_outside",
                     "scale.volume",
                     {{"given", Quantity{volume_l, Dimension::volume}},
                      {"least", Quantity{resized_least_l, Dimension::volume}},
                      {"most", Quantity{resized_most_l, Dimension::volume}}}});
  auto was = findings.take(plan_brew(ask, knowledge, parallel));
  if (!was || findings.refused()) return std::move(findings).refusal<Resized>();
  Resized all;
  all.factor = volume_l == ask.volume_l ? 1.0 : volume_l / was->ask.volume_l;
  const double to_l = all.factor == 1.0 ? was->ask.volume_l : volume_l;
  const double to_m = std::isfinite(diameter_m) ? diameter_m
                      : all.factor == 1.0       ? was->ask.vessel_diameter_m
                                                : to_step(was->ask.vessel_diameter_m * std::cbrt(all.factor), 1000.0);
  PlanAsk other = multiplied(was->ask, all.factor, to_l, to_m);
  auto naive = plan_brew(other, knowledge, parallel);
  if (naive.ok()) {
    other = naive->ask;
  } else {
    all.naive_refusals = naive.refusals();
    other.air.rated_flow_l_per_h = std::min(other.air.rated_flow_l_per_h, lines::flow_most_l_per_h);
  }

  const auto brewing_was = check(was->ask, knowledge, findings);
  const auto brewing = check(other, knowledge, findings);
  const auto air_was = brewing_was ? findings.take(aerate(*brewing_was)) : std::nullopt;
  if (!air_was || !brewing) return std::move(findings).refusal<Resized>();
  const auto edge_was = ranked(lowest_oxygen_mg_per_l(*brewing_was, *air_was, knowledge, parallel));
  const std::size_t edge = edge_of(edge_was);
  other.air.rated_flow_l_per_h = rating_l_per_h(*brewing, edge, edge_was[edge], knowledge, parallel);
  if (std::isnan(other.air.rated_flow_l_per_h)) {
    findings.refuse({"recipe.scale.no_such_air", "air.rated_flow", {{"vvm", number(lines::air_most_vvm)}}});
    return std::move(findings).refusal<Resized>();
  }
  auto proposed = findings.take(plan_brew(other, knowledge, parallel));
  if (!proposed) return std::move(findings).refusal<Resized>();
  all.was = std::move(*was);
  if (naive.ok()) all.naive = *naive;
  all.proposed = std::move(*proposed);
  all.was_size = size_of(all.was, 1.0);
  if (naive.ok()) all.naive_size = size_of(all.naive, all.factor);
  all.proposed_size = size_of(all.proposed, all.factor);
  all.sentences = sentences(all, std::isfinite(ask.measured_kla20_per_h));
  return std::move(findings).answer(std::move(all));
}

}  // namespace barm::recipe
