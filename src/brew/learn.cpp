#include "brew/learn.h"

#include <algorithm>
#include <boost/math/distributions/normal.hpp>
#include <cmath>
#include <string>

#include "brew/draws.h"
#include "brew/hearing.h"
#include "brew/screen.h"
#include "brew/tempering.h"

namespace barm::brew {
namespace {

constexpr double out_of_line_odds = 0.5;
constexpr int judged_least_count = 4;           // fewer readings judge nothing
constexpr double surprise_most = 2.5;           // mean square of misfits; 1 is expected (judged)
constexpr double out_of_line_most_share = 0.3;  // of an instrument's readings (judged)
constexpr double effective_least_share = 0.3;
constexpr double drift_score_most = 1.5;  // standard scores: one meter in seven drifts as much or more (judged)

std::vector<double> scores_beforehand(int count, int dimension, std::uint64_t seed) {
  std::vector<double> scores = scrambled_points(count, dimension, seed);
  const boost::math::normal normal;
  for (double& x : scores) x = boost::math::quantile(normal, x);
  return scores;
}

std::vector<LogReading> used(const std::vector<Heard>& heard) {
  std::vector<LogReading> readings;
  for (const Heard& one : heard)
    if (one.fate == Fate::used) readings.push_back(one.reading);
  return readings;
}

Quantity number(double value) {
  return {value, Dimension::number};
}

/// Which readings stood out of line, and how far the others are off.
void judge_readings(Learned& learned, const Hearing& hearing, const Weighed& weighed, int members) {
  std::size_t i = 0;
  double squares = 0.0;
  int in_line = 0;
  const auto readings = static_cast<std::size_t>(hearing.reading_count());
  for (Heard& one : learned.heard) {
    if (one.fate != Fate::used) continue;
    double square = 0.0;
    one.noise = hearing.noise(i);
    for (std::size_t m = 0; m < static_cast<std::size_t>(members); ++m) {
      const double shown = weighed.predicted[m * readings + i] * hearing.noise(i);
      const double off = (hearing.heard(i) - shown) / hearing.noise(i);
      square += off * off / members;
      one.out_of_line_share += hearing.gross_odds(i, shown) / members;
    }
    if (one.out_of_line_share > out_of_line_odds) {
      one.fate = Fate::out_of_line;
    } else {
      squares += square;
      ++in_line;
    }
    ++i;
  }
  learned.used_count = in_line;
  learned.surprise = in_line > 0 ? squares / in_line : 0.0;
}

void doubt_disagreement(const Learned& learned, int members, Findings& findings) {
  const auto judge = [&](const char* meter, auto is) {
    int heard = 0, out = 0;
    for (const Heard& one : learned.heard) {
      if (!is(one.reading.what) || (one.fate != Fate::used && one.fate != Fate::out_of_line)) continue;
      ++heard;
      out += one.fate == Fate::out_of_line ? 1 : 0;
    }
    if (heard < judged_least_count || out <= out_of_line_most_share * heard) return;
    findings.doubt({.code = std::string("brew.log.meter_doubtful.") + meter,
                    .field = "readings",
                    .facts = {{"given", number(out)}, {"most", number(heard)}}});
  };
  judge("oxygen", [](Measured what) { return what == Measured::oxygen || what == Measured::oxygen_share; });
  judge("temperature", [](Measured what) { return what == Measured::temperature; });
  if (learned.used_count >= judged_least_count && learned.surprise > surprise_most)
    findings.doubt({.code = "brew.log.disagrees", .field = "readings", .facts = {{"given", number(learned.surprise)}}});
  if (learned.effective_count < effective_least_share * members)
    findings.doubt({.code = "brew.log.few_members",
                    .field = "readings",
                    .facts = {{"given", number(std::round(learned.effective_count))}, {"most", number(members)}}});
}

/// Says when the members can follow the oxygen readings only with a meter that drifts more than most do.
void doubt_drift(const Learned& learned, const Hearing& hearing, int members, Findings& findings) {
  const auto& meters = hearing.meters();
  const auto at = std::find(meters.begin(), meters.end(), MeterScore::oxygen_drift);
  if (at == meters.end()) return;
  const auto width = static_cast<std::size_t>(hearing.unknown_count());
  const std::size_t place = width - meters.size() + static_cast<std::size_t>(at - meters.begin());
  double mean = 0.0;
  for (std::size_t m = 0; m < static_cast<std::size_t>(members); ++m)
    mean += learned.scores[m * width + place] / members;
  if (std::abs(mean) > drift_score_most)
    findings.doubt({.code = mean < 0.0 ? "brew.log.meter_falls" : "brew.log.meter_rises", .field = "readings"});
}

}  // namespace

Setup with_acts(Setup setup, const BrewLog& log) {
  setup.acts.insert(setup.acts.end(), log.acts.begin(), log.acts.end());
  std::stable_sort(setup.acts.begin(), setup.acts.end(), [](const Act& a, const Act& b) { return a.at_h < b.at_h; });
  return setup;
}

Answer<Learned> learn(const Setup& planned, const Priors& priors, const Instruments& instruments, const BrewLog& log,
                      const EnsembleOptions& options) {
  Findings findings;
  check(planned, options, findings);
  for (const Act& act : log.acts)
    if (!(act.at_h >= 0.0 && std::isfinite(act.at_h)))
      findings.refuse({.code = "brew.log.act_before_start", .field = "readings"});
  if (findings.refused()) return std::move(findings).refusal<Learned>();

  const Setup setup = with_acts(planned, log);
  const Unknowns unknowns(setup, priors);
  Learned learned;
  learned.heard = screen(log, setup, findings);
  const double last_h = horizon_of_h(setup);
  for (Heard& one : learned.heard) {
    if (one.fate != Fate::used || one.reading.at_h <= last_h) continue;
    one.fate = Fate::impossible;
    findings.doubt({.code = "brew.log.beyond_horizon", .field = "readings", .facts = {}});
  }
  const int members = options.members_count;
  {  // meters that stood still, before anything is believed
    const Hearing hearing(setup, priors, unknowns, instruments, used(learned.heard), options.parallel);
    const std::vector<double> scores = scores_beforehand(members, hearing.unknown_count(), options.seed);
    if (hearing.reading_count() > 0)
      mark_stuck(learned.heard, hearing, members, hearing.shown(members, scores), findings);
  }
  const Hearing hearing(setup, priors, unknowns, instruments, used(learned.heard), options.parallel);
  std::vector<double> scores = scores_beforehand(members, hearing.unknown_count(), options.seed);
  if (hearing.reading_count() == 0) {
    learned.members = hearing.members(members, scores);
    learned.scores = std::move(scores);
    learned.effective_count = members;
    return std::move(findings).answer(std::move(learned));
  }
  const Tempered tempered = temper(
      std::move(scores),
      [&](int count, std::span<const double> of_members) { return hearing.weigh(count, of_members); },
      {.unknown_count = hearing.unknown_count(), .observation_count = hearing.reading_count(), .seed = options.seed});
  learned.members = hearing.members(members, tempered.scores);
  learned.scores = tempered.scores;
  learned.effective_count = tempered.effective_count;
  judge_readings(learned, hearing, tempered.weighed, members);
  doubt_disagreement(learned, members, findings);
  doubt_drift(learned, hearing, members, findings);
  return std::move(findings).answer(std::move(learned));
}

}  // namespace barm::brew
