#include "water/chlorine.h"

#include <algorithm>
#include <cmath>

#include "water/bounds.h"
#include "water/dechlorinator.h"
#include "water/loss.h"

namespace barm::water {
namespace {

constexpr double longest_wait_h = 72.0;      // judged: longer is no plan
constexpr double evening_before_h = 24.0;    // judged: the longest wait to advise before a remedy that acts at once
constexpr double usual_most_mg_per_l = 4.0;  // memory: 40 CFR 141.65, both kinds as Cl2

// practice: common practice of the trade, no source.
constexpr double trade_stand_h = 24.0;
constexpr double trade_bubble_h = 1.5;
constexpr double trade_air_volumes_per_h = 114.0;  // 570 US gal/h on 5 US gal

// judged: time to stir in and meet all of the water before the strip is dipped. S29: thiosulfate is the slower.
constexpr double vitamin_c_wait_h = 10.0 / 60.0;
constexpr double thiosulfate_wait_h = 30.0 / 60.0;

// memory: empty-bed contact time that water for dialysis is given to lose chloramine in carbon, ordinary grades.
constexpr double carbon_contact_h = 10.0 / 60.0;
constexpr double nitrogen_g_per_mol = 14.007;

constexpr Bounds volume_bounds{.field = "volume",
                               .dimension = Dimension::volume,
                               .least = 0.0,
                               .most = 100'000.0,  // judged: no vessel of a brew
                               .least_allowed = false,
                               .not_a_number = "water.volume.not_a_number",
                               .below = "water.volume.not_positive",
                               .above = "water.volume.too_large"};
constexpr Bounds free_chlorine_bounds{.field = "free_chlorine",
                                      .dimension = Dimension::concentration,
                                      .least = 0.0,
                                      .most = 20.0,  // judged: a pool shock, not a tap
                                      .least_allowed = true,
                                      .not_a_number = "water.free_chlorine.not_a_number",
                                      .below = "water.free_chlorine.negative",
                                      .above = "water.free_chlorine.too_high"};
constexpr Bounds chloramine_bounds{.field = "chloramine",
                                   .dimension = Dimension::concentration,
                                   .least = 0.0,
                                   .most = 20.0,  // judged, as above
                                   .least_allowed = true,
                                   .not_a_number = "water.chloramine.not_a_number",
                                   .below = "water.chloramine.negative",
                                   .above = "water.chloramine.too_high"};
constexpr Bounds target_bounds{.field = "target",
                               .dimension = Dimension::concentration,
                               .least = 0.01,
                               .most = 1.0,
                               .least_allowed = true,
                               .not_a_number = "water.target.not_a_number",
                               .below = "water.target.too_low",
                               .above = "water.target.too_high"};

struct Water {
  double volume_l;
  Disinfectant in;
  double target_mg_per_l;
  double total_mg_per_l() const { return in.free_chlorine_mg_per_l + in.chloramine_mg_per_l; }
  bool clear() const { return total_mg_per_l() <= target_mg_per_l; }
  // Enough chloramine to be in the way: alone it would miss the target.
  bool chloramine_matters() const { return in.chloramine_mg_per_l > target_mg_per_l; }
};

Remark note(const char* code, std::map<std::string, Remark::Fact> facts = {}) {
  return {.code = code, .field = "", .facts = std::move(facts)};
}
Quantity hours(double value) {
  return {value, Dimension::duration};
}
Quantity mg_per_l(double value) {
  return {value, Dimension::concentration};
}

// Standing and bubbling: the waits by the published rates, and how they sit beside the trade's rule.
Clearing by_itself(const Water& water, ClearingMethod method, const LossRates& quickest, const LossRates& slowest,
                   double trade_h) {
  Clearing way{.method = method};
  const auto wait = [&](const LossRates& rates) {
    return hours_until(water.in.free_chlorine_mg_per_l, water.in.chloramine_mg_per_l, rates, water.target_mg_per_l);
  };
  way.wait_low_h = wait(quickest);
  way.wait_high_h = wait(slowest);
  way.works = way.wait_high_h <= longest_wait_h;
  if (water.chloramine_matters()) {
    way.notes.push_back(note("water.clear.chloramine_slow", {{"wait", hours(way.wait_high_h)}}));
  } else {
    way.trade_wait_h = trade_h;
    const std::map<std::string, Remark::Fact> facts{
        {"trade_wait", hours(trade_h)}, {"wait_low", hours(way.wait_low_h)}, {"wait_high", hours(way.wait_high_h)}};
    const bool trade_is_short = trade_h < way.wait_high_h;
    way.notes.push_back(note(trade_is_short ? "water.clear.trade_rule_short" : "water.clear.trade_rule_enough", facts));
  }
  if (!way.works)
    way.notes.push_back(
        note("water.clear.too_slow", {{"wait", hours(way.wait_high_h)}, {"most", hours(longest_wait_h)}}));
  return way;
}

Clearing stand(const Water& water) {
  return by_itself(water, ClearingMethod::stand, standing_quickest(), standing_slowest(), trade_stand_h);
}

Clearing bubble(const Water& water) {
  Clearing way = by_itself(water, ClearingMethod::bubble, bubbling_quickest(), bubbling_slowest(), trade_bubble_h);
  if (water.chloramine_matters()) {
    way.notes.push_back(note("water.clear.bubble_test_volume_unknown"));
  } else {
    const double share = most_stripped_share(hypochlorous_air_over_water, trade_air_volumes_per_h, trade_bubble_h);
    way.notes.push_back(note("water.clear.bubble_strips_little",
                             {{"share", Quantity{share, Dimension::share}}, {"trade_wait", hours(trade_bubble_h)}}));
  }
  way.notes.push_back(note("water.clear.caution_pump"));
  return way;
}

Clearing carbon_filter(const Water& water) {
  Clearing way{.method = ClearingMethod::carbon_filter, .works = !water.chloramine_matters()};
  const double flow_l_per_h_per_l = 1.0 / carbon_contact_h;
  way.notes.push_back(note("water.clear.carbon_contact", {{"contact", hours(carbon_contact_h)},
                                                          {"flow", Quantity{flow_l_per_h_per_l, Dimension::flow}}}));
  if (water.chloramine_matters()) {
    way.notes.push_back(note("water.clear.carbon_chloramine", {{"contact", hours(carbon_contact_h)}}));
  } else {
    way.wait_low_h = way.wait_high_h = 0.0;  // cleared as it runs through
  }
  return way;
}

void add_chemical_cautions(Clearing& way) {
  way.notes.push_back(note("water.clear.caution_chemical"));
  way.notes.push_back(note("water.clear.ask_certifier"));
}

double dose_g(const Water& water, double mg_per_mg, double chlorine_mg_per_l) {
  return water.volume_l * chlorine_mg_per_l * mg_per_mg / 1000.0;
}

Clearing vitamin_c(const Water& water, ClearingMethod method, const Dechlorinator& chemical) {
  Clearing way{.method = method, .works = !water.chloramine_matters()};
  way.wait_low_h = 0.0;
  way.wait_high_h = vitamin_c_wait_h;
  way.dose_g = dose_g(water, chemical.field_mg_per_mg, water.total_mg_per_l());
  if (water.chloramine_matters()) {
    way.wait_high_h = unset;  // it may never get there
    way.notes.push_back(
        note("water.clear.ascorbic_contested", {{"chloramine", mg_per_l(water.in.chloramine_mg_per_l)}}));
  }
  add_chemical_cautions(way);
  return way;
}

// Free chlorine by the field dose. Chloramine by the dearest reaction, to tetrathionate (judged: no field dose was
// found).
Clearing thiosulfate(const Water& water) {
  Clearing way{.method = ClearingMethod::sodium_thiosulfate, .works = true};
  way.wait_low_h = 0.0;
  way.wait_high_h = thiosulfate_wait_h;
  const double least_mg_per_mg = stoichiometric_mg_per_mg(thiosulfate_to_sulfate);
  const double most_mg_per_mg = stoichiometric_mg_per_mg(thiosulfate_to_tetrathionate);
  way.dose_g = dose_g(water, sodium_thiosulfate.field_mg_per_mg, water.in.free_chlorine_mg_per_l) +
               dose_g(water, most_mg_per_mg, water.in.chloramine_mg_per_l);
  way.notes.push_back(
      note("water.clear.thiosulfate_dose_spread",
           {{"dose_low", Quantity{dose_g(water, least_mg_per_mg, water.total_mg_per_l()), Dimension::mass}},
            {"dose_high", Quantity{dose_g(water, most_mg_per_mg, water.total_mg_per_l()), Dimension::mass}}}));
  if (water.chloramine_matters()) {
    const double ammonia_n_mg_per_l = water.in.chloramine_mg_per_l * nitrogen_g_per_mol / chlorine_g_per_mol;
    way.notes.push_back(note("water.clear.thiosulfate_frees_ammonia", {{"ammonia_n", mg_per_l(ammonia_n_mg_per_l)}}));
  }
  add_chemical_cautions(way);
  return way;
}

Clearing humic_acid() {
  return {.method = ClearingMethod::humic_acid, .works = false, .notes = {note("water.clear.humic_supportive")}};
}

Clearing nothing_to_do(const Water& water, ClearingMethod method) {
  return {.method = method,
          .works = true,
          .wait_low_h = 0.0,
          .wait_high_h = 0.0,
          .notes = {note("water.clear.nothing_to_clear", {{"target", mg_per_l(water.target_mg_per_l)}})}};
}

std::vector<Clearing> every_way(const Water& water) {
  if (water.clear()) {
    std::vector<Clearing> ways;
    for (const auto method :
         {ClearingMethod::stand, ClearingMethod::bubble, ClearingMethod::carbon_filter, ClearingMethod::ascorbic_acid,
          ClearingMethod::sodium_ascorbate, ClearingMethod::sodium_thiosulfate}) {
      ways.push_back(nothing_to_do(water, method));
    }
    ways.push_back(humic_acid());
    return ways;
  }
  return {vitamin_c(water, ClearingMethod::ascorbic_acid, ascorbic_acid),
          vitamin_c(water, ClearingMethod::sodium_ascorbate, sodium_ascorbate),
          thiosulfate(water),
          carbon_filter(water),
          stand(water),
          bubble(water),
          humic_acid()};
}

// Nothing bought and a day at most comes first, then the rest of what works, then what does not do; within each the
// order of `every_way`, where what acts at once stands before a long wait.
int rank(const Clearing& way) {
  if (!way.works) return 2;
  const bool by_time = way.method == ClearingMethod::stand || way.method == ClearingMethod::bubble;
  return by_time && way.wait_high_h <= evening_before_h ? 0 : 1;
}

void doubt_unusual(const Bounds& of, const char* code, double given, Findings& findings) {
  if (given <= usual_most_mg_per_l) return;
  Remark remark = remark_on(of, code, given);
  remark.facts["most"] = mg_per_l(usual_most_mg_per_l);
  findings.doubt(std::move(remark));
}

}  // namespace

Disinfectant untested_tap_water() {
  return {.free_chlorine_mg_per_l = 0.0, .chloramine_mg_per_l = usual_most_mg_per_l};
}

Remark untested_tap_water_remark() {
  return note("water.clear.untested", {{"chloramine", mg_per_l(usual_most_mg_per_l)}});
}

Answer<std::vector<Clearing>> clear_water(double volume_l, const Disinfectant& in, double target_mg_per_l) {
  Findings findings;
  check(volume_bounds, volume_l, findings);
  check(free_chlorine_bounds, in.free_chlorine_mg_per_l, findings);
  check(chloramine_bounds, in.chloramine_mg_per_l, findings);
  check(target_bounds, target_mg_per_l, findings);
  if (findings.refused()) return std::move(findings).refusal<std::vector<Clearing>>();
  doubt_unusual(free_chlorine_bounds, "water.free_chlorine.above_usual", in.free_chlorine_mg_per_l, findings);
  doubt_unusual(chloramine_bounds, "water.chloramine.above_usual", in.chloramine_mg_per_l, findings);

  const Water water{.volume_l = volume_l, .in = in, .target_mg_per_l = target_mg_per_l};
  std::vector<Clearing> ways = every_way(water);
  std::ranges::stable_sort(ways, {}, rank);
  for (Clearing& way : ways) way.notes.push_back(note("water.clear.confirm_with_strip"));
  return std::move(findings).answer(std::move(ways));
}

double hocl_share(double temperature_c, double ph) {
  const double t_k = temperature_c + 273.15;
  const double pka = 3000.00 / t_k - 10.0686 + 0.0253 * t_k;  // S25
  return 1.0 / (1.0 + std::pow(10.0, ph - pka));
}

}  // namespace barm::water
