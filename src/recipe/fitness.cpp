#include "recipe/fitness.h"

#include <algorithm>
#include <cmath>

#include "brew/screen.h"
#include "recipe/lines.h"
#include "water/oxygen.h"

namespace barm::recipe {
namespace {

// Lines. Oxygen and length stand in recipe/lines.h.
constexpr double oxygen_low_mg_per_l = 2.0;      // M01, practice: fermentation begins
constexpr double oxygen_margin_mg_per_l = 6.0;   // practice: margin for meter and dead corners
constexpr double reading_fresh_h = 6.0;          // judged: a brew turns within a night
constexpr double after_air_usual_h = 4.0;        // practice: "within 4 h", where nothing better is known
constexpr double after_air_most_h = 24.0;        // judged
constexpr double ph_least = 5.5, ph_most = 8.5;  // memory: fermentation acids below, ammonia leaves above
constexpr double bacteria_told_in_per_ml = 3e7;  // M02: 7.48 log10 cells, below which no suppression was seen
constexpr double sugar_gone_h = 12.0;            // judged: by then a sweet smell is food nobody has eaten

Quantity mg_per_l(double value) {
  return {value, Dimension::concentration};
}
Quantity hours(double value) {
  return {value, Dimension::duration};
}

/// Most oxygen that water of this temperature is believed to hold; unset: of water about to freeze.
double oxygen_most_mg_per_l(double temperature_c) {
  const auto full =
      water::saturation_mg_per_l({.temperature_c = std::isfinite(temperature_c) ? std::fmax(temperature_c, 0.0) : 0.0});
  return brew::fullest_share * (full.ok() ? *full : 15.0);
}

class Judging {
 public:
  explicit Judging(const Seen& seen) : seen_(seen) {}

  Judged judged() {
    leave_out_impossible();
    by_smell();
    by_look();
    by_oxygen();
    by_time();
    by_water();
    by_counts();
    Judged judged;
    std::stable_sort(reasons_.begin(), reasons_.end(),
                     [](const Reason& a, const Reason& b) { return a.at_best > b.at_best; });
    judged.fitness = reasons_.empty() ? Fitness::fit : reasons_.front().at_best;
    judged.reasons = std::move(reasons_);
    const char* next[] = {"recipe.fitness.use_fit", "recipe.fitness.use_restricted", "recipe.fitness.use_unfit"};
    const bool is_counted_out = judged.fitness == Fitness::restricted && is_over_limit();
    const char* use = next[static_cast<std::size_t>(judged.fitness)];
    judged.advice.push_back({is_counted_out ? "recipe.fitness.use_counted_out" : use, "", {}});
    if (judged.fitness != Fitness::unfit && !std::isfinite(seen_.air_off_h))
      judged.advice.push_back({"recipe.fitness.keep_air_on", "", {}});
    for (const char* code : {"recipe.fitness.what_it_cannot_show", "recipe.caution.food_contact",
                             "recipe.caution.aerosol", "recipe.caution.weak_immunity", "recipe.caution.local_rules"})
      judged.cautions.push_back({code, "", {}});
    return judged;
  }

 private:
  using Facts = std::map<std::string, Remark::Fact>;
  void say(Fitness at_best, const char* code, const std::string& source, Facts facts = {}) {
    reasons_.push_back({{code, "", std::move(facts)}, at_best, source});
  }

  void by_smell() {
    switch (seen_.smell) {
      case Smell::rotten:
        return say(Fitness::unfit, "recipe.fitness.smell_rotten", "practice");
      case Smell::ammonia:
        return say(Fitness::unfit, "recipe.fitness.smell_ammonia", "practice");
      case Smell::sour:
        return say(Fitness::unfit, "recipe.fitness.smell_sour", "practice");
      case Smell::yeasty:
        return say(Fitness::restricted, "recipe.fitness.smell_yeasty", "practice");
      case Smell::sweet:
        if (seen_.brewed_h >= sugar_gone_h) return say(Fitness::restricted, "recipe.fitness.smell_sweet", "M01");
        return say(Fitness::restricted, "recipe.fitness.still_sweet", "M01");
      case Smell::earthy:
        return say(Fitness::fit, "recipe.fitness.smell_earthy", "practice");
      case Smell::none:
        return say(Fitness::fit, "recipe.fitness.smell_none", "practice");
      case Smell::not_told:
        return say(Fitness::restricted, "recipe.fitness.smell_not_told", "judged");
    }
  }

  void by_look() {
    if (seen_.look == Look::slime) say(Fitness::restricted, "recipe.fitness.slime", "practice");
    if (seen_.look == Look::film) say(Fitness::restricted, "recipe.fitness.film", "practice");
    if (seen_.foam == Foam::thick || seen_.foam == Foam::overflowing)
      say(Fitness::fit, "recipe.fitness.foam_tells_little", "practice");
  }

  void leave_out_impossible() {
    const double most = oxygen_most_mg_per_l(seen_.water_temperature_c);
    for (double* read : {&seen_.oxygen_mg_per_l, &seen_.oxygen_lowest_mg_per_l}) {
      if (!(*read > most)) continue;
      say(Fitness::restricted, "recipe.fitness.oxygen_impossible", "judged", {{"given", mg_per_l(*read)}});
      *read = unset;
    }
  }

  void by_oxygen() {
    const double lowest = std::isfinite(seen_.oxygen_lowest_mg_per_l)
                              ? std::fmin(seen_.oxygen_lowest_mg_per_l, seen_.oxygen_mg_per_l)
                              : seen_.oxygen_mg_per_l;
    if (!std::isfinite(lowest)) {
      say(Fitness::restricted, "recipe.fitness.oxygen_not_read", "judged");
    } else if (lowest < oxygen_low_mg_per_l) {
      say(Fitness::unfit, "recipe.fitness.oxygen_low", "M01", {{"given", mg_per_l(lowest)}});
    } else if (lowest < oxygen_margin_mg_per_l) {
      say(Fitness::restricted, "recipe.fitness.oxygen_under_margin", "practice", {{"given", mg_per_l(lowest)}});
    } else {
      say(Fitness::fit, "recipe.fitness.oxygen_held", "practice", {{"given", mg_per_l(lowest)}});
    }
    if (std::isfinite(seen_.oxygen_doubted_mg_per_l))
      say(Fitness::restricted, "recipe.fitness.reading_doubted", "judged",
          {{"given", mg_per_l(seen_.oxygen_doubted_mg_per_l)}});
    if (seen_.reading_age_h > reading_fresh_h)
      say(Fitness::restricted, "recipe.fitness.reading_old", "judged", {{"given", hours(seen_.reading_age_h)}});
    if (seen_.probability_below_2 > lines::below_2_most)
      say(Fitness::restricted, "recipe.fitness.may_have_dipped", "judged",
          {{"given", Quantity{std::round(100.0 * seen_.probability_below_2), Dimension::number}}});
  }

  void by_time() {
    if (seen_.brewed_h > lines::length_usual_h)
      say(Fitness::restricted, "recipe.fitness.brewed_long", "practice",
          {{"given", hours(seen_.brewed_h)}, {"most", hours(lines::length_usual_h)}});
    if (!(seen_.air_off_h > 0.0)) return;
    const Facts stood{{"given", hours(seen_.air_off_h)}};
    if (seen_.air_off_h > after_air_most_h) {
      say(Fitness::unfit, "recipe.fitness.stood_too_long", "judged", stood);
    } else if (std::isfinite(seen_.flat_after_h) && seen_.air_off_h >= seen_.flat_after_h) {
      say(Fitness::unfit, "recipe.fitness.gone_flat", "judged", stood);
    } else if (std::isfinite(seen_.flat_after_soon_h)) {
      if (seen_.air_off_h >= seen_.flat_after_soon_h)
        say(Fitness::restricted, "recipe.fitness.may_be_flat", "judged", stood);
    } else if (seen_.air_off_h > after_air_usual_h) {
      say(Fitness::restricted, "recipe.fitness.stood", "practice", stood);
    }
  }

  void by_water() {
    if (seen_.ph < ph_least || seen_.ph > ph_most) {
      say(Fitness::restricted, seen_.ph < ph_least ? "recipe.fitness.ph_low" : "recipe.fitness.ph_high", "memory",
          {{"given", Quantity{seen_.ph, Dimension::number}}});
    }
    if (seen_.conductivity_ms_per_cm > lines::conductivity_most_ms_per_cm)
      say(Fitness::restricted, "recipe.fitness.salty", "memory",
          {{"given", Quantity{seen_.conductivity_ms_per_cm, Dimension::conductivity}}});
    if (seen_.water_temperature_c > lines::water_warm_c)
      say(Fitness::fit, "recipe.fitness.warm", "practice",
          {{"given", Quantity{seen_.water_temperature_c, Dimension::temperature}}});
  }

  static Quantity per_ml(double value) { return {value, Dimension::cell_density}; }
  static Quantity per_100_ml(double value) { return {100.0 * value, Dimension::number}; }
  bool is_over_limit() const { return seen_.e_coli_per_ml > seen_.e_coli_most_per_ml; }

  /// None of it speaks for a brew: few germs counted of one kind tell nothing of others.
  void by_counts() {
    if (seen_.germ_found) say(Fitness::unfit, "recipe.fitness.germ_found", "judged");
    if (is_over_limit()) {
      say(Fitness::restricted, "recipe.fitness.e_coli_over", seen_.e_coli_source,
          {{"given", per_100_ml(seen_.e_coli_per_ml)},
           {"most", per_100_ml(seen_.e_coli_most_per_ml)},
           {"rule", seen_.e_coli_rule}});
    } else if (seen_.e_coli_per_ml > 0.0) {
      say(Fitness::fit, "recipe.fitness.e_coli_found", "judged", {{"given", per_100_ml(seen_.e_coli_per_ml)}});
    }
    if (seen_.ciliates_per_ml > seen_.protozoa_per_ml)
      say(Fitness::restricted, "recipe.fitness.ciliates_lead", "practice",
          {{"given", per_ml(seen_.ciliates_per_ml)}, {"others", per_ml(seen_.protozoa_per_ml)}});
    if (seen_.bacteria_per_ml < bacteria_told_in_per_ml)
      say(Fitness::fit, "recipe.fitness.few_bacteria", "M02",
          {{"given", per_ml(seen_.bacteria_per_ml)}, {"least", per_ml(bacteria_told_in_per_ml)}});
  }

  Seen seen_;
  std::vector<Reason> reasons_;
};

}  // namespace

Answer<Judged> judge_fitness(const Seen& seen) {
  Findings findings;
  const auto within = [&](double value, double least, double most, const char* field, Dimension dimension) {
    if (std::isnan(value) || (value >= least && value <= most)) return;
    findings.refuse({"recipe.fitness.outside",
                     field,
                     {{"given", Quantity{value, dimension}},
                      {"least", Quantity{least, dimension}},
                      {"most", Quantity{most, dimension}}}});
  };
  within(seen.brewed_h, 0.0, looks_back_h, "brewed", Dimension::duration);
  within(seen.air_off_h, 0.0, looks_back_h, "air_off", Dimension::duration);
  within(seen.reading_age_h, 0.0, looks_back_h, "reading_age", Dimension::duration);
  within(seen.flat_after_h, 0.0, looks_back_h, "flat_after", Dimension::duration);
  within(seen.flat_after_soon_h, 0.0, looks_back_h, "flat_after_soon", Dimension::duration);
  within(seen.oxygen_mg_per_l, 0.0, 60.0, "oxygen", Dimension::concentration);
  within(seen.oxygen_lowest_mg_per_l, 0.0, 60.0, "oxygen_lowest", Dimension::concentration);
  within(seen.probability_below_2, 0.0, 1.0, "below_2", Dimension::share);
  within(seen.ph, 0.0, 14.0, "ph", Dimension::number);
  within(seen.conductivity_ms_per_cm, 0.0, 100.0, "conductivity", Dimension::conductivity);
  within(seen.water_temperature_c, -2.0, 60.0, "temperature", Dimension::temperature);
  constexpr double most_per_ml = 1e13;  // judged: hardly more fit in
  within(seen.bacteria_per_ml, 0.0, most_per_ml, "bacteria", Dimension::cell_density);
  within(seen.protozoa_per_ml, 0.0, most_per_ml, "protozoa", Dimension::cell_density);
  within(seen.ciliates_per_ml, 0.0, most_per_ml, "ciliates", Dimension::cell_density);
  within(seen.e_coli_per_ml, 0.0, most_per_ml, "e_coli", Dimension::cell_density);
  if (findings.refused()) return std::move(findings).refusal<Judged>();
  return std::move(findings).answer(Judging(seen).judged());
}

}  // namespace barm::recipe
