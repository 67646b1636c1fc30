#include "count/biomass.h"

#include <algorithm>
#include <array>
#include <boost/math/distributions/normal.hpp>
#include <boost/math/distributions/students_t.hpp>
#include <cmath>
#include <numbers>

#include "count/checks.h"
#include "quantity/even_draws.h"
#include "quantity/expects.h"
#include "quantity/triangular.h"

namespace barm::count {
namespace {

constexpr int draws_count = 2048;
constexpr double um_per_m = 1e6, um3_per_ml = 1e12;
constexpr double g_per_cm3_in_ug_per_um3 = 1e-6;
constexpr double ug_per_fg = 1e-9;

bool is_none_seen(const Counted& of) {
  return of.value == 0.0 && std::isfinite(of.none_seen_high_95);
}

/// The value that `ln_error` is told from; for nothing seen its limit.
double reference(const Counted& of) {
  return is_none_seen(of) ? of.none_seen_high_95 : of.value;
}

double ln_error(const Counted& of, double u) {
  // Exact Poisson limits of no event at every level: -ln(1 - u), over the limit of 97.5 %.
  if (is_none_seen(of)) return std::log(std::log1p(-u) / std::log(0.025));
  if (of.degrees_of_freedom <= 0) return of.ln_standard_error * quantile(boost::math::normal(), u);
  const boost::math::students_t_distribution<double> t(static_cast<double>(of.degrees_of_freedom));
  return of.ln_standard_error * quantile(t, u);
}

/// ln of a factor over its usual value.
double ln_off(const Figure& figure, double u) {
  return std::log(triangular_quantile(figure.low, figure.value, figure.high, u) / figure.value);
}

double variance(const std::vector<double>& all) {
  double sum = 0.0, squares = 0.0;
  for (const double each : all) sum += each;
  const double mean = sum / static_cast<double>(all.size());
  for (const double each : all) squares += (each - mean) * (each - mean);
  return squares / static_cast<double>(all.size());
}

/// The middle as it is, and the limits of the draws around it. Nothing seen: `around` is its limit, the middle is 0.
Band band(double around, bool none_seen, std::vector<double> ln_off_around) {
  if (!(around > 0.0)) return {around, unset, unset};
  const auto at = [&](double share) {
    const auto place = ln_off_around.begin() + static_cast<std::ptrdiff_t>(std::lround(share * (draws_count - 1)));
    std::nth_element(ln_off_around.begin(), place, ln_off_around.end());
    return around * std::exp(*place);
  };
  if (none_seen) return {0.0, 0.0, at(0.975)};
  const double low = at(0.025);
  return {around, low, at(0.975)};
}

/// Mean square of the measured diameters, its error from their spread.
Counted mean_square(const std::vector<double>& diameter_um) {
  const double n = static_cast<double>(diameter_um.size());
  double mean = 0.0, squares = 0.0;
  for (const double d : diameter_um) mean += d * d / n;
  for (const double d : diameter_um) squares += (d * d - mean) * (d * d - mean);
  if (diameter_um.size() < 2) return {mean, 0.0, 0};
  return {mean, std::sqrt(squares / (n - 1.0) / n) / mean, static_cast<std::int64_t>(diameter_um.size()) - 1};
}

bool refuse_wrong(const Biomass& in, Findings& findings) {
  for (std::size_t i = 0; i < in.diameter_um.size(); ++i)
    check("diameters[" + std::to_string(i + 1) + "]", in.diameter_um[i] / um_per_m,
          {0.5e-6, 50e-6, true, Dimension::length}, findings);
  if (std::isfinite(in.bacteria_per_ml.value))
    check("bacteria", in.bacteria_per_ml.value, {0.0, 1e13, false, Dimension::cell_density}, findings);
  const bool has_width = std::isfinite(in.cell_width_um), has_length = std::isfinite(in.cell_length_um);
  if (has_width != has_length)
    findings.refuse({.code = "count.biomass.half_a_size", .field = has_width ? "cell_length" : "cell_width"});
  if (in.cell_width_um > in.cell_length_um)
    findings.refuse({.code = "count.biomass.wider_than_long",
                     .field = "cell_width",
                     .facts = {{"given", Quantity{in.cell_width_um / um_per_m, Dimension::length}},
                               {"most", Quantity{in.cell_length_um / um_per_m, Dimension::length}}}});
  const Accepted size{0.1e-6, 20e-6, true, Dimension::length};
  if (has_width) check("cell_width", in.cell_width_um / um_per_m, size, findings);
  if (has_length) check("cell_length", in.cell_length_um / um_per_m, size, findings);
  return findings.refused();
}

}  // namespace

double rod_volume_um3(double width_um, double length_um) {
  expects(width_um <= length_um, "a rod is no wider than it is long");
  return std::numbers::pi / 4.0 * width_um * width_um * (length_um - width_um / 3.0);
}

double thread_volume_um3(double length_m, double diameter_um) {
  return std::numbers::pi / 4.0 * diameter_um * diameter_um * length_m * um_per_m;
}

double dry_mass_ug(double volume_um3, const std::vector<Figure>& factors) {
  double mass_ug = volume_um3 * g_per_cm3_in_ug_per_um3;
  for (const Figure& factor : factors) mass_ug *= factor.value;  // S66
  return mass_ug;
}

Answer<BiomassTold> biomass_of(const Biomass& in, const BiomassFactors& factors, const CellFigures& cells) {
  Findings findings;
  if (refuse_wrong(in, findings)) return std::move(findings).refusal<BiomassTold>();
  const bool has_bacteria = std::isfinite(in.bacteria_per_ml.value);
  const bool is_diameter_known = !in.diameter_um.empty(), is_cell_known = std::isfinite(in.cell_width_um);
  const Figure& usual_um = cells.hyphal_diameter_um;
  const Counted square = is_diameter_known ? mean_square(in.diameter_um) : Counted{usual_um.value * usual_um.value};
  if (!is_diameter_known)
    findings.doubt({.code = "count.biomass.diameter_assumed",
                    .field = "diameters",
                    .facts = {{"given", Quantity{usual_um.value / um_per_m, Dimension::length}}}});
  const double cell_um3 =
      is_cell_known ? rod_volume_um3(in.cell_width_um, in.cell_length_um) : cells.bacterial_volume_um3.value;
  if (has_bacteria && !is_cell_known)
    findings.doubt({.code = "count.biomass.cell_assumed",
                    .field = "cell_width",
                    .facts = {{"given", Quantity{cell_um3, Dimension::number}}}});

  BiomassTold out;
  out.mean_diameter_um = std::sqrt(square.value);
  const bool none_seen = is_none_seen(in.hyphae_m_per_ml);
  const double fungi_ug =
      dry_mass_ug(thread_volume_um3(reference(in.hyphae_m_per_ml), out.mean_diameter_um), factors.fungal);
  if (thread_volume_um3(in.hyphae_m_per_ml.value, out.mean_diameter_um) > um3_per_ml)
    findings.doubt({.code = "count.biomass.threads_fill",
                    .field = is_diameter_known ? "diameters" : "dilution_factor",
                    .facts = {{"given", Quantity{in.hyphae_m_per_ml.value, Dimension::length}}}});
  const double bacteria_um3 = in.bacteria_per_ml.value * cell_um3;
  const double bacteria_ug = dry_mass_ug(bacteria_um3, factors.bacterial);
  const double bacteria_carbon_ug = bacteria_um3 * cells.bacterial_carbon_fg_per_um3.value * ug_per_fg;

  const std::size_t fungal_at = 5, bacterial_at = fungal_at + factors.fungal.size();
  const std::size_t carbon_at = bacterial_at + factors.bacterial.size();
  const EvenDraws draws(carbon_at + 2);
  std::vector<double> fungi, bacteria, ratio, carbon, converted;
  for (int i = 0; i < draws_count; ++i) {
    const auto u = [&](std::size_t dimension) { return draws.at(i, dimension); };
    const double length = ln_error(in.hyphae_m_per_ml, u(0)), area = ln_error(square, u(1));
    const double counted = has_bacteria ? ln_error(in.bacteria_per_ml, u(2)) : 0.0;
    const double diameter =
        is_diameter_known ? ln_off(cells.diameter_reading, u(3)) : 2.0 * ln_off(cells.hyphal_diameter_um, u(3));
    const double cell = ln_off(is_cell_known ? cells.size_reading : cells.bacterial_volume_um3, u(4));
    double of_fungi = diameter, of_bacteria = cell;
    for (std::size_t k = 0; k < factors.fungal.size(); ++k) of_fungi += ln_off(factors.fungal[k], u(fungal_at + k));
    for (std::size_t k = 0; k < factors.bacterial.size(); ++k)
      of_bacteria += ln_off(factors.bacterial[k], u(bacterial_at + k));
    fungi.push_back(length + area + of_fungi);
    bacteria.push_back(counted + of_bacteria);
    ratio.push_back(fungi.back() - bacteria.back());
    converted.push_back(has_bacteria ? of_fungi - of_bacteria : of_fungi);
    carbon.push_back(fungi.back() + ln_off(cells.fungal_carbon, u(carbon_at)) - counted - cell -
                     ln_off(cells.bacterial_carbon_fg_per_um3, u(carbon_at + 1)));
  }
  const bool is_error_known = std::isfinite(in.hyphae_m_per_ml.ln_standard_error);
  if (fungi_ug > 0.0 && !none_seen && is_error_known)  // no thread at all: more fields would mend most of that
    out.conversion_share = std::min(1.0, variance(converted) / variance(has_bacteria ? ratio : fungi));
  out.fungi_ug_per_ml = band(fungi_ug, none_seen, std::move(fungi));
  if (has_bacteria) {
    out.bacteria_ug_per_ml = band(bacteria_ug, false, std::move(bacteria));
    out.fungi_to_bacteria = band(fungi_ug / bacteria_ug, none_seen, std::move(ratio));
    out.fungi_to_bacteria_carbon =
        band(fungi_ug * cells.fungal_carbon.value / bacteria_carbon_ug, none_seen, std::move(carbon));
  }
  return std::move(findings).answer(out);
}

}  // namespace barm::count
