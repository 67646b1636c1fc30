#include "count/plates.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "count/checks.h"
#include "count/poisson.h"

namespace barm::count {
namespace {

constexpr double ml_per_l = 1000.0;
constexpr double improbable = 0.05;  // judged: the usual level
constexpr Accepted dilutions{.least = 1e-12, .most = 1.0};

bool refuse_wrong(const Plates& in, Findings& findings) {
  if (in.too_many.empty()) check_not_empty("dilution", in.dilution.size(), findings);
  check_as_long("colonies", in.colonies.size(), "dilution", in.dilution.size(), findings);
  check_each<double>("dilution", in.dilution, dilutions, findings);
  check_each<std::int64_t>("colonies", in.colonies, {.least = 0, .most = 1e6}, findings);
  check_each<double>("too_many", in.too_many, dilutions, findings);
  check_each<double>("spreaders", in.spreaders, dilutions, findings);
  check("volume", in.volume_ml / ml_per_l, {1e-6, 0.1, true, Dimension::volume}, findings);  // judged
  return findings.refused();
}

/// Plates of these dilutions, as pieces of the sample [mL].
std::vector<Part> plates_of(const Plates& in, const std::set<double>& chosen) {
  std::vector<Part> parts;
  for (std::size_t i = 0; i < in.dilution.size(); ++i) {
    if (!chosen.contains(in.dilution[i])) continue;
    parts.push_back({.counted = static_cast<double>(in.colonies[i]), .amount = in.dilution[i] * in.volume_ml});
  }
  return parts;
}

/// Dilutions with a countable plate; by S13 the next one too, whatever it shows.
std::set<double> countable(const Plates& in, const PlateRule& rule) {
  std::set<double> chosen;
  for (std::size_t i = 0; i < in.dilution.size(); ++i) {
    const double colonies = static_cast<double>(in.colonies[i]);
    if (colonies >= rule.low_count && colonies <= rule.high_count) chosen.insert(in.dilution[i]);
  }
  if (!rule.takes_next_dilution || chosen.empty()) return chosen;
  const double first = *chosen.rbegin();
  double next = 0.0;
  for (const double dilution : in.dilution) {
    if (dilution < first) next = std::max(next, dilution);
  }
  return next > 0.0 ? std::set<double>{first, next} : std::set<double>{first};
}

void tell_spread(const Plates& in, const PlateCount& out, Findings& findings) {
  if (in.limits == PlatesLimits::by_spread && out.interval_method != PlatesInterval::ln_student)
    findings.doubt({.code = "count.plates.no_spread", .field = "limits"});
  if (out.dispersion_probability < improbable) {
    findings.doubt({.code = "count.plates.differ",
                    .field = "colonies",
                    .facts = {{"given", Quantity{out.dispersion_index, Dimension::number}}}});
  }
  if (out.spreaders_count > 0) {
    findings.doubt({.code = "count.plates.spreaders",
                    .field = "spreaders",
                    .facts = {{"given", std::to_string(out.spreaders_count)}}});
  }
}

PlateCount weighted_mean(const std::vector<Part>& parts, PlatesLimits limits_by) {
  PlateCount out;
  double amount_ml = 0.0;
  for (const Part& part : parts) {
    out.colonies_used_count += static_cast<std::int64_t>(part.counted);
    amount_ml += part.amount;
  }
  const Range limits = poisson_95(out.colonies_used_count);
  out.plates_used_count = static_cast<std::int64_t>(parts.size());
  out.per_ml =
      static_cast<double>(out.colonies_used_count) / amount_ml;  // S11, S13: sum of colonies over sum of sample
  out.low_95 = limits.low / amount_ml;
  out.high_95 = limits.high / amount_ml;
  if (out.colonies_used_count > 0)
    out.ln_standard_error = 1.0 / std::sqrt(static_cast<double>(out.colonies_used_count));
  const Dispersion spread = dispersion(parts);
  out.dispersion_index = spread.index;
  out.dispersion_probability = spread.probability;
  const bool is_asked = limits_by == PlatesLimits::by_spread && std::isfinite(spread.index);
  if (spread.probability < improbable || is_asked) {  // as on a slide
    out.interval_method = PlatesInterval::ln_student;
    out.ln_standard_error *= std::sqrt(std::max(1.0, spread.index));
    const double reach = std::exp(student_95(out.plates_used_count - 1) * out.ln_standard_error);
    out.low_95 = out.per_ml / reach, out.high_95 = out.per_ml * reach;
  }
  return out;
}

}  // namespace

double two_significant(double value, Rounding rounding) {
  if (!(value > 0.0) || !std::isfinite(value)) return value;
  const double step = std::pow(10.0, std::floor(std::log10(value) + 1e-12) - 1.0);
  const double digits = value / step;  // 10 to 99.99
  const double whole = std::floor(digits + 1e-9);
  const double third = std::floor((digits - whole) * 10.0 + 1e-6);
  const bool up = rounding == Rounding::five_to_even && third == 5.0 ? std::fmod(whole, 2.0) == 1.0 : third >= 5.0;
  return (whole + (up ? 1.0 : 0.0)) * step;
}

Answer<PlateCount> count_plates(const Plates& in, const PlateRule& rule) {
  Findings findings;
  if (refuse_wrong(in, findings)) return std::move(findings).refusal<PlateCount>();

  std::set<double> all(in.dilution.begin(), in.dilution.end());
  const auto most = std::max_element(in.colonies.begin(), in.colonies.end());
  std::set<double> chosen = countable(in, rule);
  PlateCount out;
  const auto doubt = [&](const char* code) {
    findings.doubt({.code = code,
                    .field = "colonies",
                    .facts = {{"least", Quantity{rule.low_count, Dimension::number}},
                              {"most", Quantity{rule.high_count, Dimension::number}}}});
  };
  if (!chosen.empty()) {
    out = weighted_mean(plates_of(in, chosen), in.limits);
    out.reported_per_ml = two_significant(out.per_ml, rule.rounding);
  } else if (most == in.colonies.end()) {  // nothing but crowded plates: more than the limit at the highest dilution
    const double thinnest = *std::min_element(in.too_many.begin(), in.too_many.end());
    out.kind = PlatesKind::above;
    out.reported_per_ml = two_significant(rule.high_count / (thinnest * in.volume_ml), rule.rounding);
    doubt("count.plates.all_crowded");
  } else if (static_cast<double>(*most) > rule.high_count) {  // S11: the count nearest the limit, marked as an estimate
    out = weighted_mean(plates_of(in, {*all.begin()}), in.limits);
    out.kind = PlatesKind::estimated;
    out.reported_per_ml = two_significant(out.per_ml, rule.rounding);
    doubt("count.plates.crowded");
  } else {
    out = weighted_mean(plates_of(in, all), in.limits);
    const bool enough = static_cast<double>(*most) >= rule.estimated_from_count;
    out.kind = enough ? PlatesKind::estimated : PlatesKind::below;
    const double least = rule.estimated_from_count / (*all.rbegin() * in.volume_ml);
    out.reported_per_ml = two_significant(enough ? out.per_ml : least, rule.rounding);
    doubt("count.plates.few");
  }
  out.spreaders_count = static_cast<std::int64_t>(in.spreaders.size());
  tell_spread(in, out, findings);
  doubt_more_than_fits("dilution", out.per_ml, findings);
  return std::move(findings).answer(out);
}

}  // namespace barm::count
