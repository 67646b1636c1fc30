#include "brew/screen.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <string>

#include "water/oxygen.h"

namespace barm::brew {
namespace {

constexpr double before_most_h = 1.0 / 60.0;           // a minute before the start still counts as the start
constexpr double percent_most = 150.0;                 // a reading up to here may be per cent of saturation
constexpr double warmest_c = 45.0, warmest_f = 113.0;  // the same temperature
constexpr double merged_within_h = 3.0 / 60.0;         // judged: a brew hardly moves in three minutes
constexpr double merged_when_many_h = 0.25;            // of a logger's: a quarter of an hour
constexpr std::size_t many_count = 60;                 // of one kind; from here on a logger wrote them
constexpr double near_act_h = 0.25;                    // after the air was stopped or started each reading tells
constexpr int stuck_least_count = 5;
constexpr double stuck_least_h = 1.0, stuck_moves = 3.0, stuck_share = 0.75;

std::string field_of(const LogReading& reading) {
  return reading.line > 0 ? "readings[" + std::to_string(reading.line) + "]" : "readings";
}

void doubt(Findings& findings, const char* code, const LogReading& reading) {
  findings.doubt({.code = code,
                  .field = field_of(reading),
                  .facts = {{"given", Quantity{reading.value, Dimension::number}},
                            {"line", Quantity{static_cast<double>(reading.line), Dimension::number}}}});
}

/// Says of a reading that no water shows which unit it was likely in.
bool is_possible(const LogReading& reading, double full_mg_per_l, Findings& findings) {
  const double value = reading.value;
  const char* code = nullptr;
  if (reading.what == Measured::oxygen && value > fullest_share * full_mg_per_l)
    code = value <= percent_most ? "brew.log.looks_like_percent" : "brew.log.no_such_water";
  if (reading.what == Measured::oxygen_share && value > fullest_share) code = "brew.log.no_such_water";
  if (reading.what == Measured::temperature && value > warmest_c)
    code = value <= warmest_f ? "brew.log.looks_like_fahrenheit" : "brew.log.no_such_water";
  if (!std::isfinite(value) || (reading.what != Measured::temperature && value < 0.0) ||
      (reading.what == Measured::temperature && value < -1.0))
    code = "brew.log.no_such_water";
  if (code != nullptr) doubt(findings, code, reading);
  return code == nullptr;
}

/// Whether the air was stopped or started shortly before, or between the two hours.
bool near_act(const Setup& setup, double from_h, double to_h) {
  return std::any_of(setup.acts.begin(), setup.acts.end(),
                     [&](const Act& act) { return act.at_h > from_h - near_act_h && act.at_h <= to_h; });
}

/// Runs of readings of one kind within `within_h` of the first: the middle one speaks for all.
void merge(std::vector<Heard>& heard, Measured what, double within_h, const Setup& setup) {
  std::vector<Heard*> run;
  const auto close = [&] {
    if (run.size() > 1) {
      std::vector<Heard*> by_value = run;
      const auto middle = by_value.begin() + static_cast<std::ptrdiff_t>(by_value.size() / 2);
      std::nth_element(by_value.begin(), middle, by_value.end(),
                       [](const Heard* a, const Heard* b) { return a->reading.value < b->reading.value; });
      for (Heard* one : run)
        if (one != *middle) one->fate = Fate::merged;
    }
    run.clear();
  };
  for (Heard& one : heard) {
    if (one.fate != Fate::used || one.reading.what != what) continue;
    const bool apart = !run.empty() && (one.reading.at_h - run.front()->reading.at_h > within_h ||
                                        near_act(setup, run.front()->reading.at_h, one.reading.at_h));
    if (apart) close();
    run.push_back(&one);
  }
  close();
}

}  // namespace

std::vector<Heard> screen(const BrewLog& log, const Setup& setup, Findings& findings) {
  std::vector<Heard> heard;
  for (const LogReading& reading : log.readings) heard.push_back({.reading = reading});
  std::stable_sort(heard.begin(), heard.end(),
                   [](const Heard& a, const Heard& b) { return a.reading.at_h < b.reading.at_h; });
  constexpr double cold_c = 5.0;  // of the water's temperature: how much colder the brew may have become
  const auto full = water::saturation_mg_per_l(
      {.temperature_c = std::max(0.0, setup.water_temperature_c - cold_c), .pressure_kpa = setup.pressure_kpa});
  const double full_mg_per_l = full.ok() ? *full : 15.0;
  for (std::size_t i = 0; i < heard.size(); ++i) {
    Heard& one = heard[i];
    const auto same = [&](const Heard& other) {
      return other.reading.what == one.reading.what && other.reading.at_h == one.reading.at_h &&
             other.reading.value == one.reading.value;
    };
    if (one.reading.at_h < -before_most_h) {
      one.fate = Fate::before_start;
      doubt(findings, "brew.log.before_start", one.reading);
    } else if (!is_possible(one.reading, full_mg_per_l, findings)) {
      one.fate = Fate::impossible;
    } else if (std::any_of(heard.begin(), heard.begin() + static_cast<std::ptrdiff_t>(i), same)) {
      one.fate = Fate::repeated;
    }
    one.reading.at_h = std::max(one.reading.at_h, 0.0);
  }
  for (const Measured what : {Measured::oxygen, Measured::oxygen_share, Measured::temperature}) {
    const auto count = static_cast<std::size_t>(std::count_if(heard.begin(), heard.end(), [&](const Heard& one) {
      return one.fate == Fate::used && one.reading.what == what;
    }));
    merge(heard, what, count > many_count ? merged_when_many_h : merged_within_h, setup);
  }
  return heard;
}

void mark_stuck(std::vector<Heard>& heard, const Hearing& hearing, int member_count, const std::vector<double>& shown,
                Findings& findings) {
  std::vector<std::size_t> used;  // places in `heard` of the readings `hearing` knows, in its order
  for (std::size_t i = 0; i < heard.size(); ++i)
    if (heard[i].fate == Fate::used) used.push_back(i);
  const auto readings = static_cast<std::size_t>(hearing.reading_count());
  for (const Measured what : {Measured::oxygen, Measured::oxygen_share, Measured::temperature}) {
    std::vector<std::size_t> of_kind;  // places in `used`
    for (std::size_t i = 0; i < used.size(); ++i)
      if (heard[used[i]].reading.what == what) of_kind.push_back(i);
    for (std::size_t first = 0; first < of_kind.size();) {
      const auto reading = [&](std::size_t i) -> const LogReading& { return heard[used[of_kind[i]]].reading; };
      std::size_t last = first;
      while (last + 1 < of_kind.size() && reading(last + 1).value == reading(first).value) ++last;
      const auto run = static_cast<int>(last - first + 1);
      if (run >= stuck_least_count && reading(last).at_h - reading(first).at_h >= stuck_least_h) {
        int moved = 0;
        for (std::size_t m = 0; m < static_cast<std::size_t>(member_count); ++m) {
          double low = HUGE_VAL, high = -HUGE_VAL;
          for (std::size_t i = first; i <= last; ++i) {
            low = std::min(low, shown[m * readings + of_kind[i]]);
            high = std::max(high, shown[m * readings + of_kind[i]]);
          }
          moved += high - low > stuck_moves * hearing.noise(of_kind[first]) ? 1 : 0;
        }
        if (moved > stuck_share * member_count) {
          doubt(findings, "brew.log.stuck", reading(first));
          for (std::size_t i = first; i <= last; ++i) heard[used[of_kind[i]]].fate = Fate::stuck;
        }
      }
      first = last + 1;
    }
  }
}

}  // namespace barm::brew
