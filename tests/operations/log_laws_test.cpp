// Whatever stands in a log, the reader answers or refuses, and whatever it answers can be learned from.
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>
#include <string>

#include "brew/brews.h"
#include "brew/learn.h"
#include "data/embedded.h"
#include "operations/brew_log_csv.h"

namespace barm::operations {
namespace {

const LogClock clock_of_bogota{.start_at = 1'777'762'800'000, .zone = "America/Bogota", .now_at = {}};

/// A log that learned from gives numbers, never none and never below nothing.
void learns(const brew::BrewLog& log) {
  static const auto instruments = brew::Instruments::read(data::file("instruments.toml"));
  const auto learned = brew::learn(test::bucket(), test::priors(), instruments, log, {.members_count = 16});
  if (!learned.ok()) return;
  RC_ASSERT(learned->heard.size() == log.readings.size());
  const auto forecast =
      brew::forecast_of(brew::with_acts(test::bucket(), log), learned->members, {.members_count = 16});
  RC_ASSERT(forecast.failed_members_count == 0);
  for (const double oxygen : forecast.oxygen_mg_per_l.p05) RC_ASSERT(std::isfinite(oxygen) && oxygen >= 0.0);
}

RC_GTEST_PROP(LogLaws, any_text_is_answered_or_refused, (const std::string& text)) {
  const auto log = read_brew_log("time_h,oxygen_mg_per_l,act\n" + text, clock_of_bogota, "readings");
  RC_ASSERT(log.ok() || !log.refusals().empty());
}

RC_GTEST_PROP(LogLaws, any_readings_can_be_learned_from, ()) {
  brew::BrewLog log;
  const auto count = *rc::gen::inRange(0, 12);
  for (int i = 0; i < count; ++i) {
    brew::LogReading reading;
    reading.what = static_cast<brew::Measured>(*rc::gen::inRange(0, 5));
    reading.at_h = *rc::gen::inRange(-200, 5000) / 100.0;
    const double scale = *rc::gen::element(0.0, 1e-300, 1e-3, 1.0, 10.0, 100.0, 1e9, 1e308);
    reading.value = scale * *rc::gen::inRange(-100, 1000) / 100.0;
    log.readings.push_back(reading);
  }
  const auto acts = *rc::gen::inRange(0, 4);
  double at_h = 0.0;
  for (int i = 0; i < acts; ++i) {
    at_h += *rc::gen::inRange(0, 2000) / 100.0;
    log.acts.push_back(
        {.at_h = at_h, .air_is_on = *rc::gen::arbitrary<bool>(), .bag_is_in = *rc::gen::arbitrary<bool>()});
  }
  learns(log);
}

}  // namespace
}  // namespace barm::operations
