#include "count/series.h"

#include <algorithm>
#include <boost/math/distributions/normal.hpp>
#include <cmath>

#include "count/checks.h"
#include "count/poisson.h"

namespace barm::count {
namespace {

constexpr std::int64_t most_samples = 10'000;  // judged: nobody draws more
constexpr double few_samples = 5;              // judged, as the usual rules ask at least

struct LogNormal {
  double mean = 0.0, deviation = 0.0, mean_error = 0.0;
};

LogNormal of_values(const std::vector<double>& ln) {
  const double n = static_cast<double>(ln.size());
  LogNormal fit;
  for (const double each : ln) fit.mean += each / n;
  double squares = 0.0;
  for (const double each : ln) squares += (each - fit.mean) * (each - fit.mean);
  fit.deviation = ln.size() > 1 ? std::sqrt(squares / (n - 1.0)) : unset;
  fit.mean_error = fit.deviation / std::sqrt(n);
  return fit;
}

/// Density over distribution of the normal at z: the pull of a value known only to lie below. Far below by its series,
/// where both vanish.
double pull(double z) {
  if (z < -30.0) return -z - 1.0 / z;
  const boost::math::normal unit;
  return pdf(unit, z) / cdf(unit, z);
}

/// S90: maximum likelihood of the mean and deviation of ln x where some values are known only to lie below a limit, by
/// expectation and maximisation, which climbs at every step.
LogNormal of_censored(const std::vector<double>& ln, const std::vector<double>& ln_below) {
  const double n = static_cast<double>(ln.size() + ln_below.size());
  std::vector<double> start = ln;
  start.insert(start.end(), ln_below.begin(), ln_below.end());
  LogNormal fit = of_values(start);
  fit.deviation = std::max(fit.deviation, 1e-3);
  for (int step = 0; step < 20'000; ++step) {
    double sum = 0.0;
    for (const double each : ln) sum += each;
    for (const double below : ln_below) sum += fit.mean - fit.deviation * pull((below - fit.mean) / fit.deviation);
    const double mean = sum / n;
    double squares = 0.0;
    for (const double each : ln) squares += (each - mean) * (each - mean);
    for (const double below : ln_below) {
      const double z = (below - fit.mean) / fit.deviation, p = pull(z);
      const double expected = fit.mean - fit.deviation * p;
      const double spread = fit.deviation * fit.deviation * std::max(0.0, 1.0 - z * p - p * p);
      squares += spread + (expected - mean) * (expected - mean);
    }
    const double deviation = std::sqrt(squares / n);
    const bool settled = std::abs(mean - fit.mean) + std::abs(deviation - fit.deviation) < 1e-12 * fit.deviation;
    fit.mean = mean, fit.deviation = deviation;
    if (settled) break;
  }
  // Observed information of mean and deviation (of ln), inverted for the error of the mean.
  double mm = 0.0, md = 0.0, dd = 0.0;
  for (const double each : ln) {
    const double z = (each - fit.mean) / fit.deviation;
    mm += 1.0, md += 2.0 * z, dd += 3.0 * z * z - 1.0;
  }
  for (const double below : ln_below) {
    const double z = (below - fit.mean) / fit.deviation, p = pull(z), slope = p * (z + p);
    mm += slope, md += z * slope - p, dd += z * (z * slope - 2.0 * p);
  }
  const double unit = fit.deviation * fit.deviation;
  const double determinant = mm * dd - md * md;
  const double widen = n / (n - 1.0);
  fit.mean_error = std::sqrt(unit * dd / determinant * widen);
  fit.deviation *= std::sqrt(widen);
  return fit;
}

bool refuse_wrong(const Series& in, const SeriesRule& rule, Findings& findings) {
  const Accepted range{.least = 1e-6, .most = 1e15};
  const std::size_t n = in.found.size() + in.not_found.size();
  check_not_empty("found", n, findings);
  check_each<double>("found", in.found, range, findings);
  check_each<double>("not_found", in.not_found, range, findings);
  const bool asks = std::isfinite(rule.mean_most) || std::isfinite(rule.single_most);
  if (!asks) findings.refuse({.code = "count.series.nothing_asked", .field = "mean_most"});
  if (findings.refused() || in.treat != NotFound::maximum_likelihood || in.not_found.empty()) return findings.refused();
  const bool differ = std::any_of(in.found.begin(), in.found.end(), [&](double x) { return x != in.found.front(); });
  if (!differ) findings.refuse({.code = "count.series.too_few_found", .field = "treat"});
  return findings.refused();
}

LogNormal fit_of(const Series& in) {
  std::vector<double> ln, ln_below;
  for (const double each : in.found) ln.push_back(std::log(each));
  const double part = in.treat == NotFound::half_limit ? 0.5 : 1.0;
  for (const double limit : in.not_found) ln_below.push_back(std::log(part * limit));
  if (in.treat == NotFound::maximum_likelihood && !ln_below.empty()) return of_censored(ln, ln_below);
  ln.insert(ln.end(), ln_below.begin(), ln_below.end());
  return of_values(ln);
}

/// Samples in all so that the upper limit of the mean falls under the mean allowed, all staying as it is.
std::int64_t samples_for_confidence(const LogNormal& fit, double mean_most) {
  const double room = std::log(mean_most) - fit.mean;
  if (!(room > 0.0) || !std::isfinite(fit.deviation)) return -1;
  for (std::int64_t n = 2; n <= most_samples; ++n)
    if (student_95(n - 1) * fit.deviation / std::sqrt(static_cast<double>(n)) <= room) return n;
  return -1;
}

void tell_doubts(const Series& in, const SeriesTold& out, const SeriesRule& rule, Findings& findings) {
  const auto whole = [](auto n) { return std::to_string(n); };
  if (out.samples_owed_count > 0)
    findings.doubt({.code = "count.series.samples_owed",
                    .field = "found",
                    .facts = {{"given", whole(out.samples_count)}, {"least", whole(rule.samples_least)}}});
  if (in.found.empty())
    findings.doubt({.code = "count.series.none_found", .field = "not_found"});
  else if (out.not_found_count * 2 > out.samples_count)
    findings.doubt({.code = "count.series.mostly_not_found",
                    .field = "not_found",
                    .facts = {{"given", whole(out.not_found_count)}, {"of", whole(out.samples_count)}}});
  if (static_cast<double>(out.samples_count) < few_samples)
    findings.doubt({.code = "count.series.few", .field = "found", .facts = {{"given", whole(out.samples_count)}}});
  if (out.undecided_count > 0)
    findings.doubt(
        {.code = "count.series.undecided",
         .field = "not_found",
         .facts = {{"given", whole(out.undecided_count)}, {"most", Quantity{rule.single_most, Dimension::number}}}});
}

}  // namespace

double geometric_mean(const Series& in) {
  return in.found.empty() && in.not_found.empty() ? unset : std::exp(fit_of(in).mean);
}

Answer<SeriesTold> judge_series(const Series& in, const SeriesRule& rule) {
  Findings findings;
  if (refuse_wrong(in, rule, findings)) return std::move(findings).refusal<SeriesTold>();
  SeriesTold out;
  out.not_found_count = static_cast<std::int64_t>(in.not_found.size());
  out.samples_count = static_cast<std::int64_t>(in.found.size()) + out.not_found_count;
  out.samples_owed_count = std::max<std::int64_t>(0, rule.samples_least - out.samples_count);
  if (!in.found.empty()) out.highest = *std::max_element(in.found.begin(), in.found.end());

  const LogNormal fit = fit_of(in);
  const double percentile = quantile(boost::math::normal(), 0.9);
  out.geometric_mean = std::exp(fit.mean);
  double sum = 0.0;
  for (const double each : in.found) sum += each;
  for (const double limit : in.not_found) sum += in.treat == NotFound::half_limit ? 0.5 * limit : limit;
  out.arithmetic_mean = sum / static_cast<double>(out.samples_count);
  const bool shows_spread = out.samples_count > 1 && !in.found.empty();  // limits of finding are the laboratory's
  if (shows_spread) {
    out.ln_standard_deviation = fit.deviation;
    const double reach = student_95(out.samples_count - 1) * fit.mean_error;
    out.low_95 = std::exp(fit.mean - reach);
    out.high_95 = std::exp(fit.mean + reach);
    out.percentile_90 = std::exp(fit.mean + percentile * fit.deviation);
  }
  const bool asks_mean = std::isfinite(rule.mean_most), asks_single = std::isfinite(rule.single_most);
  // Half of the last bit must not make a mean of equal values exceed itself.
  const double mean = rule.is_arithmetic ? out.arithmetic_mean : out.geometric_mean;
  out.mean_is_kept = !asks_mean || mean <= rule.mean_most * (1.0 + 1e-12);
  out.is_sure = asks_mean && out.mean_is_kept && out.high_95 <= rule.mean_most;
  if (asks_mean && shows_spread) out.samples_for_confidence_count = samples_for_confidence(fit, rule.mean_most);
  if (asks_single) {
    for (const double each : in.found) out.over_single_count += each > rule.single_most;
    for (const double limit : in.not_found) out.undecided_count += limit > rule.single_most;
  }
  const double over = static_cast<double>(out.over_single_count + out.undecided_count);
  out.single_is_kept = over <= rule.single_over_share * static_cast<double>(out.samples_count) + 1e-9;
  tell_doubts(in, out, rule, findings);
  return std::move(findings).answer(out);
}

}  // namespace barm::count
