#include "recipe/plan.h"

#include <algorithm>
#include <cmath>
#include <set>
#include <sstream>

#include "brew/learn.h"
#include "recipe/lines.h"
#include "recipe/planning.h"

namespace barm::recipe {
namespace {

constexpr double ms_per_h = 3'600'000.0;

/// What to clear from the water: what is known to be in it, else the assumption that also holds for chloramine.
water::Disinfectant to_clear(const PlanAsk& ask) {
  if (ask.disinfectant_is_known) return ask.disinfectant;
  return water::untested_tap_water();
}

/// What the brew draws at its hungriest, and what the air gives while oxygen stands at 6 mg/L.
void compare_supply(BrewPlan& plan, const brew::Priors& priors, const Contents& in) {
  const brew::Forecast& forecast = plan.forecast;
  const std::vector<double>& uptake = forecast.uptake_mg_per_l_per_h.p50;
  if (uptake.empty()) return;
  const auto hungriest = static_cast<std::size_t>(std::max_element(uptake.begin(), uptake.end()) - uptake.begin());
  plan.uptake_peak_mg_per_l_per_h = uptake[hungriest];
  const double alpha = priors.of(in.has_food ? "alpha" : "alpha_plain").middle * in.alpha_factor;
  const double kla_per_h =
      air::kla_at_temperature_per_h(plan.kla.kla20_per_h, forecast.temperature_c.p50.at(hungriest));
  const double deficit_at_6 = priors.of("beta").middle * forecast.saturation_mg_per_l.at(hungriest) - 6.0;
  plan.supply_at_6_mg_per_l_per_h = alpha * kla_per_h * deficit_at_6;
}

/// Forecast of a brew that has been read.
std::optional<brew::Forecast> watch(BrewPlan& plan, const brew::Setup& setup, const Knowledge& knowledge,
                                    brew::EnsembleOptions options, Findings& findings, const brew::BrewLog& log) {
  auto learned = findings.take(brew::learn(setup, knowledge.priors, knowledge.instruments, log, options));
  if (!learned) return std::nullopt;
  for (const brew::Heard& one : learned->heard)
    options.heard_until_h = std::max(options.heard_until_h, one.reading.at_h);
  plan.watched = Watched{learned->heard, learned->used_count, learned->effective_count};
  return brew::forecast_of(brew::with_acts(setup, log), std::move(learned->members), options);
}

std::vector<std::string> cited(const Brewing& brewing) {
  std::set<std::string> keys = {"S01", "S04", "S14", "S15", "M01", "M05", "M10", "M14", "M17", "practice", "judged"};
  const auto add = [&](const std::string& sources) {
    std::stringstream in(sources);
    for (std::string key; std::getline(in >> std::ws, key, ',');) keys.insert(key);
  };
  for (const CompostPortion& portion : brewing.composts) add(portion.kind->source);
  for (const FoodPortion& portion : brewing.foods) add(portion.food->source);
  return {keys.begin(), keys.end()};
}

/// Nights from the first step to the end of the forecast.
std::vector<season::Night> nights_of(const BrewPlan& plan) {
  const double first_h = plan.steps.empty() ? 0.0 : std::min(0.0, plan.steps.front().at_h);
  const double last_h = plan.forecast.time_h.empty() ? plan.ask.length_h : plan.forecast.time_h.back();
  const auto at = [&](double hour) { return plan.ask.start_at + static_cast<std::int64_t>(hour * ms_per_h); };
  return season::nights(plan.ask.place, at(first_h), at(last_h));
}

}  // namespace

Answer<BrewPlan> plan_brew_with(const PlanAsk& ask, const Knowledge& knowledge, const Forecaster& forecaster) {
  Findings findings;
  std::optional<Brewing> checked = check(ask, knowledge, findings);
  if (!checked) return std::move(findings).refusal<BrewPlan>();
  Brewing& brewing = *checked;

  BrewPlan plan;
  plan.amounts = measure_out(brewing, findings);
  const auto clearing = findings.take(water::clear_water(brewing.ask.volume_l, to_clear(ask)));
  const auto aeration = findings.take(aerate(brewing));
  if (findings.refused()) return std::move(findings).refusal<BrewPlan>();

  const brew::EnsembleOptions options{
      .members_count = ask.members_count, .seed = ask.seed, .instruments = &knowledge.instruments};
  const brew::Setup setup = set_up(brewing, *aeration);
  const bool is_watched = !ask.log.readings.empty() || !ask.log.acts.empty();
  auto forecast = is_watched ? watch(plan, setup, knowledge, options, findings, ask.log)
                             : findings.take(forecaster(setup, knowledge.priors, options));
  if (!forecast) return std::move(findings).refusal<BrewPlan>();

  const Contents in = contents(brewing);
  plan.ask = brewing.ask;
  plan.clearing = *clearing;
  plan.air = aeration->air;
  plan.kla = aeration->kla;
  plan.forecast = std::move(*forecast);
  plan.conductivity_rise_ms_per_cm = in.conductivity_rise_ms_per_cm;
  plan.nitrogen_mg_per_l = in.nitrogen_mg_per_l;
  plan.sugar_share = in.sugar_share;
  compare_supply(plan, knowledge.priors, in);

  plan.verdict = judge(odds(plan.forecast, ask.length_h));
  plan.headline = headline(plan);
  plan.warnings = warnings(plan, brewing, knowledge, in);
  plan.warnings.insert(plan.warnings.end(), findings.doubts().begin(), findings.doubts().end());
  // Once it brews, what went in cannot be taken out again.
  if (ask.wants_mends && !is_watched) plan.mends = mends(plan, brewing, knowledge, forecaster);
  plan.steps = steps(plan, brewing);
  plan.nights = nights_of(plan);
  plan.cautions = cautions(plan, brewing);
  plan.notes = evidence(plan);
  plan.sources = cited(brewing);
  return plan;
}

Answer<BrewPlan> plan_brew(const PlanAsk& ask, const Knowledge& knowledge, const brew::Parallel& parallel) {
  const Forecaster forecaster = [&](const brew::Setup& setup, const brew::Priors& priors,
                                    const brew::EnsembleOptions& options) {
    brew::EnsembleOptions with = options;
    with.parallel = parallel;
    return brew::forecast(setup, priors, with);
  };
  return plan_brew_with(ask, knowledge, forecaster);
}

}  // namespace barm::recipe
