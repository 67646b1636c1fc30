#include "operations/brew_log_csv.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "cards/local_time.h"
#include "operations/csv_table.h"
#include "operations/instant.h"
#include "operations/reading.h"

namespace barm::operations {
namespace {

using brew::Measured;

constexpr double ms_per_h = 3'600'000.0;
constexpr std::int64_t allowed_ahead_ms = 300'000;  // clocks of a phone and a logger differ by a few minutes

struct TimeColumn {
  const char* name;
  double per_h;  // 0: an instant
};
constexpr std::array time_columns = {TimeColumn{"time_h", 1.0}, TimeColumn{"time_min", 60.0},
                                     TimeColumn{"time_s", 3600.0}, TimeColumn{"time", 0.0}};

struct ValueColumn {
  const char* name;
  Measured what;
  double scale, zero;  // value = (cell - zero) x scale
  bool may_be_negative;
};
constexpr std::array value_columns = {ValueColumn{"oxygen_mg_per_l", Measured::oxygen, 1.0, 0.0, false},
                                      ValueColumn{"oxygen_percent", Measured::oxygen_share, 0.01, 0.0, false},
                                      ValueColumn{"temperature_c", Measured::temperature, 1.0, 0.0, true},
                                      ValueColumn{"temperature_f", Measured::temperature, 5.0 / 9.0, 32.0, true},
                                      ValueColumn{"bacteria_per_ml", Measured::bacteria, 1.0, 0.0, false},
                                      ValueColumn{"protozoa_per_ml", Measured::protozoa, 1.0, 0.0, false}};
/// A count's own standard error, of its natural logarithm, as the counts give it.
struct ErrorColumn {
  const char* name;
  Measured what;
};
constexpr std::array error_columns = {ErrorColumn{"bacteria_error", Measured::bacteria},
                                      ErrorColumn{"protozoa_error", Measured::protozoa}};
const std::vector<std::string> acts = {"air off", "air on", "bag out", "bag in"};

struct TimedAct {
  double at_h;
  std::string what;
};

class LogReader {
 public:
  LogReader(std::string_view text, const LogClock& clock, const std::string& field)
      : clock_(clock),
        table_(text, {.field = field, .sample = "time_h,oxygen_mg_per_l,temperature_c,act"}, findings_) {}

  Answer<brew::BrewLog> read() {
    if (!findings_.refused()) find_columns();
    if (!findings_.refused()) table_.doubt_unused();
    while (table_.next()) read_row();
    place_acts();
    if (!findings_.refused() && log_.readings.empty() && log_.acts.empty()) table_.refuse("operations.log.no_rows");
    return std::move(findings_).answer(std::move(log_));
  }

 private:
  void find_columns() {
    std::vector<std::string> found;
    for (const TimeColumn& one : time_columns)
      if (const auto at = table_.column_if_any(one.name)) {
        found.emplace_back(one.name);
        time_ = {*at, one.per_h};
      }
    if (found.size() != 1)
      table_.refuse(found.empty() ? "operations.log.no_time" : "operations.log.several_times",
                    {{"allowed", "time_h, time_min, time_s, time"}});
    for (const ValueColumn& one : value_columns)
      if (const auto at = table_.column_if_any(one.name)) values_.emplace_back(*at, &one);
    for (const ErrorColumn& one : error_columns)
      if (const auto at = table_.column_if_any(one.name)) errors_.emplace_back(*at, one.what);
    act_ = table_.column_if_any("act");
    if (values_.empty() && !act_) {
      std::string allowed;
      for (const ValueColumn& one : value_columns) allowed += std::string(one.name) + ", ";
      table_.refuse("operations.log.nothing_measured", {{"allowed", allowed + "act"}});
    }
  }

  void read_row() {
    const auto at_h = time();
    if (!at_h) return;
    const std::size_t before = log_.readings.size();
    for (const auto& [column, what] : values_) {
      if (table_.text(column).empty()) continue;
      const auto cell = table_.number(column);
      if (!cell) continue;
      if (*cell < 0.0 && !what->may_be_negative) {
        table_.refuse("operations.log.negative", column);
        continue;
      }
      log_.readings.push_back(
          {.what = what->what, .at_h = *at_h, .value = (*cell - what->zero) * what->scale, .line = table_.line()});
    }
    for (const auto& [column, what] : errors_) read_error(column, what, before);
    if (act_ && !table_.text(*act_).empty()) {
      const std::string word(table_.text(*act_));
      if (std::find(acts.begin(), acts.end(), word) == acts.end()) {
        CsvTable::Facts facts{{"allowed", "air off, air on, bag out, bag in"}};
        if (const auto near = likely(word, acts); !near.empty()) facts.emplace("suggestion", near);
        table_.refuse("operations.log.no_such_act", *act_, std::move(facts));
      } else {
        timed_acts_.push_back({*at_h, word});
      }
    }
  }

  /// Gives the count of this row its own error; a cell without one leaves the counter's usual.
  void read_error(std::size_t column, Measured what, std::size_t first_of_row) {
    if (table_.text(column).empty()) return;
    const auto error = table_.number(column);
    if (!error) return;
    if (*error < 0.0) return table_.refuse("operations.log.negative", column);
    for (std::size_t i = first_of_row; i < log_.readings.size(); ++i)
      if (log_.readings[i].what == what && *error > 0.0) log_.readings[i].error = *error;
  }

  /// Hours since air on; nothing after refusing the cell.
  std::optional<double> time() {
    const auto [column, per_h] = time_;
    std::optional<double> at_h;
    if (per_h > 0.0) {
      if (const auto cell = table_.number(column)) at_h = *cell / per_h;
    } else if (const auto at = instant(std::string(table_.text(column)), column)) {
      at_h = static_cast<double>(*at - clock_.start_at) / ms_per_h;
    }
    if (!at_h) return std::nullopt;
    const auto at_ms = clock_.start_at + std::llround(std::clamp(*at_h, -1e6, 1e6) * ms_per_h);
    if (clock_.now_at && at_ms > *clock_.now_at + allowed_ahead_ms) {
      table_.refuse("operations.log.in_the_future", column);
      return std::nullopt;
    }
    return at_h;
  }

  std::optional<std::int64_t> instant(const std::string& text, std::size_t column) {
    const auto told = read_instant(text);
    if (told.ok()) return told->at_ms;
    const auto local = read_instant(text + "Z");  // the same words as the zone's clock shows them
    if (!local.ok()) {
      table_.refuse("operations.log.not_a_time", column);
      return std::nullopt;
    }
    const auto at = cards::instant_of_clock(local->at_ms, clock_.zone);
    if (!at) table_.refuse("operations.log.clock_jumps", column, {{"zone", clock_.zone}});
    return at;
  }

  /// Acts in order of time, each leaving as it was what it does not name.
  void place_acts() {
    std::stable_sort(timed_acts_.begin(), timed_acts_.end(),
                     [](const TimedAct& a, const TimedAct& b) { return a.at_h < b.at_h; });
    brew::Act now;
    for (const TimedAct& act : timed_acts_) {
      now.at_h = act.at_h;
      if (act.what.starts_with("air")) now.air_is_on = act.what == "air on";
      if (act.what.starts_with("bag")) now.bag_is_in = act.what == "bag in";
      log_.acts.push_back(now);
    }
  }

  LogClock clock_;
  Findings findings_;
  CsvTable table_;
  brew::BrewLog log_;
  std::vector<TimedAct> timed_acts_;
  std::pair<std::size_t, double> time_{};
  std::vector<std::pair<std::size_t, const ValueColumn*>> values_;
  std::vector<std::pair<std::size_t, Measured>> errors_;
  std::optional<std::size_t> act_;
};

}  // namespace

Answer<brew::BrewLog> read_brew_log(std::string_view text, const LogClock& clock, const std::string& field) {
  return LogReader(text, clock, field).read();
}

}  // namespace barm::operations
