// What a meter would show of a member, reading by reading.
#include "brew/hearing.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "brew/synthetic.h"

namespace barm::brew {
namespace {

/// The middle member of the bucket, its air stopped from hour 10 to 10.1, with meters that are not off.
class HearingOfTheMiddle : public testing::Test {
 protected:
  std::vector<double> shown(const std::vector<LogReading>& readings, std::vector<double> meters = {}) {
    brew::Setup setup = test::bucket();
    setup.acts = acts_;
    const Unknowns unknowns(setup, test::priors());
    const Hearing hearing(setup, test::priors(), unknowns, test::instruments(), readings);
    std::vector<double> scores(static_cast<std::size_t>(hearing.unknown_count()), 0.0);
    std::copy(meters.rbegin(), meters.rend(), scores.rbegin());
    return hearing.shown(1, scores);
  }
  /// Oxygen and saturation of the same member, from the run itself.
  Stretch run_itself(std::vector<double> at_h) {
    brew::Setup setup = test::bucket();
    setup.acts = acts_;
    const Unknowns unknowns(setup, test::priors());
    Members members =
        members_of(setup, test::priors(), unknowns,
                   unknowns.values_of_scores(std::vector<double>(static_cast<std::size_t>(unknowns.count()), 0.0)));
    return run(members, 0.0, 11.0, {}, std::move(at_h));
  }
  std::vector<Act> acts_ = {{.at_h = 10.0, .air_is_on = false}, {.at_h = 10.1, .air_is_on = true}};
};

TEST_F(HearingOfTheMiddle, a_probe_shows_what_was_there_a_lag_before) {
  const double lag_h = test::instruments().oxygen.lag_h;
  const Stretch truth = run_itself({10.05 - lag_h, 10.05});
  const double heard = shown(test::readings_at(Measured::oxygen, {10.05}))[0];
  EXPECT_NEAR(heard, truth.of(0, 0, tea::oxygen), 0.002);
  EXPECT_GT(heard, truth.of(0, 1, tea::oxygen) + 0.005);  // oxygen is falling
}

TEST_F(HearingOfTheMiddle, but_nothing_from_before_the_air_was_stopped) {
  const double soon_h = 10.0 + 0.2 * test::instruments().oxygen.lag_h;
  EXPECT_NEAR(shown(test::readings_at(Measured::oxygen, {soon_h}))[0], run_itself({10.0}).of(0, 0, tea::oxygen), 0.002);
}

TEST_F(HearingOfTheMiddle, a_share_is_of_what_the_water_can_hold) {
  const double lag_h = test::instruments().oxygen.lag_h;
  const Stretch truth = run_itself({5.0 - lag_h});
  EXPECT_NEAR(shown(test::readings_at(Measured::oxygen_share, {5.0}))[0],
              truth.of(0, 0, tea::oxygen) / truth.of(0, 0, tea::saturation), 1e-3);
}

TEST_F(HearingOfTheMiddle, a_meter_is_off_by_its_scores) {
  const auto& probe = test::instruments().oxygen;
  const auto readings = test::readings_at(Measured::oxygen, {2.0, 6.0});
  const auto right = shown(readings);
  const auto offset = shown(readings, {1.0, 0.0, 0.0});
  EXPECT_NEAR(offset[0] - right[0], probe.offset, 1e-9);
  EXPECT_NEAR(offset[1] - right[1], probe.offset, 1e-9);
  const auto slope = shown(readings, {0.0, 1.0, 0.0});
  EXPECT_NEAR(slope[1] / right[1], std::exp(probe.slope), 1e-9);
  const auto drift = shown(readings, {0.0, 0.0, 1.0});
  EXPECT_NEAR(drift[0], right[0], 1e-9);  // counted from the first reading
  // sinh(1.2) / 1.2 by hand: 1.2579
  EXPECT_NEAR(drift[1] - right[1], probe.drift_per_h * 1.2579 * 4.0, 1e-4);
}

}  // namespace
}  // namespace barm::brew
