#include "rule/facts.h"

#include <algorithm>
#include <cmath>

namespace barm::rule {
namespace {

FactKind words(std::string name, std::vector<std::string> of) {
  FactKind kind{.name = std::move(name), .words = std::move(of)};
  kind.sample = kind.words.front();
  return kind;
}
FactKind yes_no(std::string name) {
  return words(std::move(name), {"yes", "no"});
}
FactKind number(std::string name, Dimension dimension, std::string sample, double most = 1e9) {
  return {.name = std::move(name), .dimension = dimension, .sample = std::move(sample), .most = most};
}
FactKind count_per(std::string per, FactKind kind) {
  kind.per = std::move(per);
  return kind;
}
FactKind derived(FactKind kind) {
  kind.derived = true;
  return kind;
}

std::vector<FactKind> make() {
  constexpr double year_h = 8784.0;
  std::vector<FactKind> all = {
      // The compost.
      words("material", {"compost", "vermicompost", "raw_manure", "leachate"}),
      yes_no("animal_origin"),
      words("process", {"none", "composted", "validated"}),
      words("method",
            {"windrow", "static_aerated_pile", "in_vessel", "static", "worm_outdoors", "worm_indoors", "worm_flow"}),
      number("heat", Dimension::temperature, "55 degC", 110.0),
      number("hottest", Dimension::temperature, "68 degC", 110.0),
      number("heat_time", Dimension::duration, "3 d", 2.0 * year_h),
      yes_no("heat_unbroken"),
      number("turns", Dimension::number, "5", 1000.0),
      yes_no("cured"),
      number("age", Dimension::duration, "120 d", 20.0 * year_h),
      number("initial_cn", Dimension::number, "30", 1000.0),
      number("moisture", Dimension::share, "80 %", 1.0),
      number("solids", Dimension::share, "40 %", 1.0),
      number("particle_size", Dimension::length, "12 mm", 1.0),
      yes_no("kept_apart"),
      yes_no("recontaminated"),
      yes_no("higher_risk"),
      yes_no("by_products"),
      yes_no("sold"),
      yes_no("process_record"),
      number("assurance_age", Dimension::duration, "200 d", 20.0 * year_h),
      number("samples", Dimension::number, "5", 1000.0),
      count_per("g", yes_no("salmonella")),
      count_per("g", yes_no("listeria")),
      count_per("g", yes_no("o157")),
      count_per("g", number("fecal_coliforms", Dimension::number, "200", 1e12)),
      count_per("g", number("compost_e_coli", Dimension::number, "50", 1e12)),
      // The water.
      words("water_source", {"municipal", "ground", "treated_surface", "untreated_surface"}),
      count_per("100 mL", yes_no("water_e_coli")),
      yes_no("potable"),
      // The recipe and the brew.
      yes_no("food"),
      number("held", Dimension::duration, "20 h", year_h),
      yes_no("equipment_sanitised"),
      number("batches_tested", Dimension::number, "2", 1e6),
      count_per("100 mL", number("tea_e_coli", Dimension::number, "40", 1e12)),
      count_per("100 mL", number("tea_e_coli_90", Dimension::number, "200", 1e12)),
      count_per("100 mL", number("tea_enterococci", Dimension::number, "12", 1e12)),
      yes_no("bathing_water"),
      // The bed and the harvest.
      yes_no("covered_produce"),
      yes_no("sprouts"),
      yes_no("foliar"),
      words("crop_contact", {"soil", "no_soil", "not_eaten"}),
      words("contact_during", {"none", "minimised", "contact"}),
      words("contact_after", {"none", "minimised", "possible"}),
      number("days_to_harvest", Dimension::duration, "30 d", 10.0 * year_h),
      // Worked out from the others (tea_class.h).
      derived(words("tea_class", {"treated_a", "treated_b", "untreated", "not_animal_origin"})),
      derived(yes_no("tea_tests_passed")),
  };
  for (auto& kind : all) {
    if (kind.dimension == Dimension::temperature) kind.least = -40.0;
  }
  return all;
}

}  // namespace

const std::vector<FactKind>& all_facts() {
  static const std::vector<FactKind> all = make();
  return all;
}

const FactKind* fact_kind(std::string_view name) {
  const auto& all = all_facts();
  const auto at = std::find_if(all.begin(), all.end(), [&](const FactKind& kind) { return kind.name == name; });
  return at == all.end() ? nullptr : &*at;
}

std::optional<double> Facts::number(const std::string& name) const {
  const auto at = numbers_.find(name);
  if (at == numbers_.end() || !std::isfinite(at->second)) return std::nullopt;
  return at->second;
}

std::optional<std::string> Facts::word(const std::string& name) const {
  const auto at = words_.find(name);
  if (at == words_.end() || at->second.empty()) return std::nullopt;
  return at->second;
}

}  // namespace barm::rule
