#include "compost/heat_log.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace barm::compost {
namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();
constexpr float lowest_c = -40.0F, highest_c = 100.0F;  // judged: water in the pile boils
constexpr double stuck_h = 24.0;                        // judged: fine readings never stay a day
constexpr double stuck_coarse_h = 72.0;                 // judged: whole degrees may stay for days in a large pile
constexpr std::size_t stuck_least_count = 24;           // judged: fewer are a hand's readings
constexpr float spike_c = 15.0F;                        // judged: no pile warms and cools so within two hours
constexpr double spike_h = 1.0;
constexpr double gap_most_h = 26.0;  // judged: read once a day, give or take
constexpr double gap_usual_spacings = 3.0;
constexpr double one_turn_h = 1.0;
constexpr double hour_rounding_h = 1e-9;  // sums of minutes do not come out even

double usual_spacing_h(const std::vector<double>& time_h) {
  constexpr std::size_t sample_most = 1001;
  std::vector<double> spacings;
  const std::size_t step = std::max<std::size_t>(1, time_h.size() / sample_most);
  for (std::size_t i = 1; i < time_h.size(); i += step) {
    if (const double spacing = time_h[i] - time_h[i - 1]; spacing > 0.0) spacings.push_back(spacing);
  }
  if (spacings.empty()) return gap_most_h;
  const auto middle = spacings.begin() + static_cast<std::ptrdiff_t>(spacings.size() / 2);
  std::nth_element(spacings.begin(), middle, spacings.end());
  return *middle;
}

/// Whether each reading counts.
class Sieve {
 public:
  Sieve(const HeatPosition& position, HeatFaults& faults)
      : time_h_(position.time_h), temperature_c_(position.temperature_c), faults_(faults) {}

  std::vector<std::uint8_t> run() {
    counts_.assign(time_h_.size(), 1);
    double latest_h = -infinite;
    bool coarse = true;
    for (std::size_t i = 0; i < time_h_.size(); ++i) {
      const float at_c = temperature_c_[i];
      if (i > 0 && time_h_[i] == latest_h && at_c == temperature_c_[i - 1]) {
        ++faults_.repeated_count;
      } else if (!(time_h_[i] > latest_h)) {
        drop(i, faults_.clock_count);
      } else {
        latest_h = time_h_[i];
        if (std::isnan(at_c)) {
          drop(i, faults_.missing_count);
        } else if (at_c < lowest_c || at_c > highest_c) {
          drop(i, faults_.impossible_count);
        } else {
          coarse = coarse && at_c == std::floor(at_c);
        }
      }
    }
    drop_spikes();
    drop_stuck(coarse ? stuck_coarse_h : stuck_h);
    return std::move(counts_);
  }

 private:
  void drop(std::size_t i, std::size_t& count) {
    counts_[i] = 0;
    ++count;
    if (!(faults_.first_at_h <= time_h_[i])) faults_.first_at_h = time_h_[i];
  }

  /// A neighbour that does not count cannot clear a reading, so that losing one never makes another count.
  void drop_spikes() {
    const auto whole = counts_;
    const auto parts_from = [&](std::size_t i, std::size_t neighbour, float sign) {
      return whole[neighbour] == 0 || sign * (temperature_c_[i] - temperature_c_[neighbour]) > spike_c;
    };
    for (std::size_t i = 1; i + 1 < time_h_.size(); ++i) {
      if (whole[i] == 0 || (whole[i - 1] == 0 && whole[i + 1] == 0)) continue;
      const bool parts = (parts_from(i, i - 1, 1.0F) && parts_from(i, i + 1, 1.0F)) ||
                         (parts_from(i, i - 1, -1.0F) && parts_from(i, i + 1, -1.0F));
      if (parts && time_h_[i + 1] - time_h_[i - 1] <= 2.0 * spike_h) drop(i, faults_.spike_count);
    }
  }

  void drop_stuck(double long_h) {
    std::size_t begin = 0;
    for (std::size_t i = 1; i <= time_h_.size(); ++i) {
      const bool goes_on =
          i < time_h_.size() && (temperature_c_[i] == temperature_c_[begin] || std::isnan(temperature_c_[i]));
      if (goes_on) continue;
      if (i - begin >= stuck_least_count && time_h_[i - 1] - time_h_[begin] > long_h) {
        for (std::size_t j = begin; j < i; ++j) {
          if (counts_[j] != 0) drop(j, faults_.stuck_count);
        }
      }
      begin = i;
    }
  }

  const std::vector<double>& time_h_;
  const std::vector<float>& temperature_c_;
  HeatFaults& faults_;
  std::vector<std::uint8_t> counts_;
};

struct Earned {
  double total_h = 0.0, longest_h = 0.0, running_h = 0.0;  // running: the stretch the log ends in
  double first_at_h = infinite, last_at_h = -infinite;
  double met_at_h = infinite;
};

Earned earn(const HeatPosition& position, const std::vector<std::uint8_t>& counts, const HeatRule& rule,
            bool is_fahrenheit, double gap_h) {
  const double* time_h = position.time_h.data();
  const float* at_c = position.temperature_c.data();
  const auto least_c = static_cast<float>(is_fahrenheit ? rule.least_of_fahrenheit_c : rule.least_c);
  const auto most_c = static_cast<float>(is_fahrenheit ? rule.most_of_fahrenheit_c : rule.most_c);
  Earned earned;
  bool was_in = false;
  for (std::size_t i = 0; i < position.time_h.size(); ++i) {
    const bool is_in = counts[i] != 0 && at_c[i] >= least_c && at_c[i] <= most_c;
    const double stretch_h = i == 0 ? infinite : time_h[i] - time_h[i - 1];
    if (is_in && was_in && stretch_h <= gap_h) {
      if (earned.total_h == 0.0) earned.first_at_h = time_h[i - 1];
      earned.last_at_h = time_h[i];
      earned.total_h += stretch_h;
      earned.running_h += stretch_h;
      earned.longest_h = std::max(earned.longest_h, earned.running_h);
      const double so_far_h = rule.is_consecutive ? earned.running_h : earned.total_h;
      if (so_far_h >= rule.needed_h - hour_rounding_h && earned.met_at_h == infinite) {
        earned.met_at_h = time_h[i] - (so_far_h - rule.needed_h);
      }
    } else {
      earned.running_h = 0.0;
    }
    was_in = is_in;
  }
  return earned;
}

double owed_h(const Earned& earned, const HeatRule& rule) {
  if (earned.met_at_h < infinite) return 0.0;
  return rule.needed_h - (rule.is_consecutive ? earned.running_h : earned.total_h);
}

/// Share of the sludge rule's time that a position has had, each stretch at its colder end and never faster than the
/// rule's least time of 20 minutes (S39).
double sludge_share(const HeatPosition& position, const std::vector<std::uint8_t>& counts, double gap_h) {
  constexpr std::size_t steps_per_degree = 10;
  static const auto per_h = [] {  // from 50 degC in tenths, each for its colder edge
    std::array<double, 50 * steps_per_degree + 1> table{};
    for (std::size_t i = 0; i < table.size(); ++i) {
      const double at_c = 50.0 + static_cast<double>(i) / steps_per_degree;
      table[i] = 1.0 / std::max(sludge_time_h(at_c, Solids::seven_percent_or_more), 20.0 / 60.0);
    }
    return table;
  }();
  double share = 0.0;
  for (std::size_t i = 1; i < position.time_h.size(); ++i) {
    const float colder_c = std::min(position.temperature_c[i], position.temperature_c[i - 1]);
    if (!(colder_c >= 50.0F) || counts[i] == 0 || counts[i - 1] == 0) continue;
    const double stretch_h = position.time_h[i] - position.time_h[i - 1];
    if (stretch_h > gap_h) continue;
    share += stretch_h * per_h[static_cast<std::size_t>((colder_c - 50.0F) * steps_per_degree)];
  }
  return share;
}

void look_for_gaps(const HeatPosition& position, HeatPositionTold& told) {
  for (std::size_t i = 1; i < position.time_h.size(); ++i) {
    const double stretch_h = position.time_h[i] - position.time_h[i - 1];
    if (stretch_h <= told.longest_gap_h) continue;
    ++told.faults.gaps_count;
    told.faults.gaps_h += stretch_h;
  }
}

void look_for_span(const HeatPosition& position, const std::vector<std::uint8_t>& counts, HeatPositionTold& told) {
  float low_c = highest_c, high_c = lowest_c;
  bool any = false;
  for (std::size_t i = 0; i < counts.size(); ++i) {
    if (counts[i] == 0) continue;
    any = true;
    low_c = std::min(low_c, position.temperature_c[i]);
    high_c = std::max(high_c, position.temperature_c[i]);
  }
  if (!any) return;
  told.low_c = static_cast<double>(low_c);
  told.high_c = static_cast<double>(high_c);
}

/// Turns as the pile had them: in order, several within an hour as one.
std::vector<double> single_turns(std::vector<double> turned_at_h) {
  std::sort(turned_at_h.begin(), turned_at_h.end());
  std::vector<double> single;
  for (const double at_h : turned_at_h) {
    if (single.empty() || at_h - single.back() > one_turn_h) single.push_back(at_h);
  }
  return single;
}

HeatClauseTold told_of(const HeatRule& rule, const std::vector<Earned>& earned, const std::vector<double>& turns,
                       double initial_cn) {
  HeatClauseTold told{.id = rule.id, .clause = rule.clause, .source = rule.source, .rule = rule.rule};
  double hot_from_h = infinite, hot_to_h = -infinite, met_at_h = 0.0;
  for (const Earned& each : earned) {
    told.hours_owed = std::max(told.hours_owed, owed_h(each, rule));
    hot_from_h = std::min(hot_from_h, each.first_at_h);
    hot_to_h = std::max(hot_to_h, each.last_at_h);
    met_at_h = std::max(met_at_h, each.met_at_h);
  }
  for (const double at_h : turns) {
    if (at_h < hot_from_h || at_h > hot_to_h) continue;
    if (++told.turns_counted == rule.turns_count) met_at_h = std::max(met_at_h, at_h);
  }
  told.turns_owed = std::max(0, rule.turns_count - told.turns_counted);
  told.cn_fails = rule.asks_cn() && (initial_cn < rule.cn_least || initial_cn > rule.cn_most);  // NaN fails neither
  told.meets = told.hours_owed == 0.0 && told.turns_owed == 0 && !told.cn_fails;
  if (told.meets) told.met_at_h = met_at_h;
  return told;
}

/// A quarter of the readings or more above what a pile in degC can show and below what one in degF does.
bool reads_like_fahrenheit(const HeatLog& log) {
  constexpr float celsius_most_c = 90.0F, fahrenheit_most = 200.0F;  // judged
  std::size_t all = 0, hot = 0;
  for (const auto& position : log.positions) {
    for (const float at_c : position.temperature_c) {
      if (std::isnan(at_c) || at_c < lowest_c) continue;
      ++all;
      hot += at_c > celsius_most_c && at_c < fahrenheit_most ? 1 : 0;
    }
  }
  return hot > 0 && hot * 4 >= all;
}

void say_faults(const HeatTold& told, Findings& findings) {
  const auto say = [&](const char* code, const HeatPositionTold& at, std::size_t count, double hours = unset) {
    if (count == 0) return;
    Remark remark{code, "log", {{"given", std::to_string(count)}}};
    name_position(at.name, remark);
    if (std::isfinite(hours)) remark.facts.emplace("hours", Quantity{hours, Dimension::duration});
    findings.doubt(std::move(remark));
  };
  for (const auto& at : told.positions) {
    say("compost.heat.missing", at, at.faults.missing_count);
    say("compost.heat.impossible", at, at.faults.impossible_count);
    say("compost.heat.stuck", at, at.faults.stuck_count);
    say("compost.heat.spike", at, at.faults.spike_count);
    say("compost.heat.repeated", at, at.faults.repeated_count);
    say("compost.heat.clock", at, at.faults.clock_count);
    say("compost.heat.gap", at, at.faults.gaps_count, at.faults.gaps_h);
  }
}

/// Where the rule neither asks for days in a row nor frees of them, hours that only add up may not be taken by all.
void say_parted(const HeatTold& told, const HeatRule& rule, Findings& findings) {
  if (!told.asked.meets || rule.is_consecutive || rule.may_be_parted) return;
  double longest_h = infinite;
  for (const auto& at : told.positions) longest_h = std::min(longest_h, at.longest_h);
  if (longest_h >= rule.needed_h) return;
  findings.doubt({"compost.heat.not_in_a_row",
                  "log",
                  {{"clause", rule.clause},
                   {"given", Quantity{longest_h, Dimension::duration}},
                   {"needed", Quantity{rule.needed_h, Dimension::duration}}}});
}

}  // namespace

Answer<HeatTold> judge_heat(const HeatLog& log, const HeatAsk& ask, const std::vector<HeatRule>& rules) {
  Findings findings;
  if (log.positions.empty()) findings.refuse({"compost.heat.no_positions", "log", {}});
  if (!log.is_fahrenheit && reads_like_fahrenheit(log))
    findings.refuse({"compost.heat.reads_like_fahrenheit", "log", {}});
  if (findings.refused()) return std::move(findings).refusal<HeatTold>();

  std::vector<const HeatRule*> held_to;
  for (const auto& rule : rules) {
    if (rule.is_for(ask.method)) held_to.push_back(&rule);
  }
  std::vector<std::vector<Earned>> earned(held_to.size());
  const auto asked = std::find_if(held_to.begin(), held_to.end(), [&](auto* rule) { return rule->rule == ask.rule; });
  expects(asked != held_to.end(), "each rule has a clause for each method");
  const auto asked_at = static_cast<std::size_t>(asked - held_to.begin());

  HeatTold told;
  double first_h = infinite, last_h = -infinite;
  for (const auto& position : log.positions) {
    HeatPositionTold at{.name = position.name, .readings_count = position.time_h.size()};
    at.longest_gap_h = std::isfinite(ask.longest_gap_h)
                           ? ask.longest_gap_h
                           : std::min(gap_most_h, gap_usual_spacings * usual_spacing_h(position.time_h));
    const auto counts = Sieve(position, at.faults).run();
    look_for_gaps(position, at);
    look_for_span(position, counts, at);
    for (std::size_t i = 0; i < held_to.size(); ++i) {
      const bool same_band = i > 0 && held_to[i]->most_c == held_to[i - 1]->most_c &&
                             held_to[i]->needed_h == held_to[i - 1]->needed_h &&
                             held_to[i]->is_consecutive == held_to[i - 1]->is_consecutive;
      earned[i].push_back(same_band ? earned[i - 1].back()
                                    : earn(position, counts, *held_to[i], log.is_fahrenheit, at.longest_gap_h));
    }
    const Earned& of = earned[asked_at].back();
    at.held_h = of.total_h, at.longest_h = of.longest_h, at.owed_h = owed_h(of, **asked);
    at.sludge_share = sludge_share(position, counts, at.longest_gap_h);
    if (!position.time_h.empty()) {
      first_h = std::min(first_h, position.time_h.front());
      last_h = std::max(last_h, position.time_h.back());
    }
    told.positions.push_back(std::move(at));
  }
  if (last_h > first_h) told.log_h = last_h - first_h;
  const auto turns = single_turns(log.turned_at_h);
  for (std::size_t i = 0; i < held_to.size(); ++i) {
    told.clauses.push_back(told_of(*held_to[i], earned[i], turns, ask.initial_cn));
  }
  told.asked = told.clauses[asked_at];
  const auto colder = [](const auto& a, const auto& b) {
    return a.owed_h < b.owed_h || (a.owed_h == b.owed_h && a.held_h > b.held_h);
  };
  told.coldest = static_cast<std::size_t>(std::max_element(told.positions.begin(), told.positions.end(), colder) -
                                          told.positions.begin());
  say_faults(told, findings);
  say_parted(told, **asked, findings);
  if ((*asked)->asks_cn() && std::isnan(ask.initial_cn)) findings.doubt({"compost.heat.cn_not_told", "initial_cn", {}});
  return std::move(findings).answer(std::move(told));
}

}  // namespace barm::compost
