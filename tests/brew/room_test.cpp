// A room whose warmth changes by the hour, against what can be worked out by hand.
#include <gtest/gtest.h>

#include <cmath>

#include "brew/brews.h"
#include "brew/ensemble.h"
#include "brew/run.h"

namespace barm::brew {
namespace {

/// Water that only loses heat through its wall: nothing lives in it, no air, no free surface.
Members lifeless(const Setup& setup) {
  const Unknowns unknowns(setup, test::priors());
  Members members = members_of(setup, test::priors(), unknowns, unknowns.middles());
  for (const tea::Parameter none : {tea::bag_uptake, tea::bubble_heat_per_h, tea::surface_heat_per_h, tea::k_ext})
    members.parameters[none] = 0.0;
  for (const tea::State none : {tea::X_B, tea::X_F, tea::X_P, tea::X_C, tea::S_S, tea::X_S}) members.states[none] = 0.0;
  return members;
}

// Newton's law of cooling, an hour at a time: T -> room + (T - room) exp(-k). source: calculus.
TEST(a_room_by_the_hour, cools_water_as_newton_says) {
  brew::Setup setup = test::bucket();
  setup.water_temperature_c = 26.0;
  setup.room_temperature_c = 15.0;
  setup.room_steps = {{0.0, 10.0}, {1.0, 25.0}, {2.5, 5.0}, {6.0, 30.0}};
  Members members = lifeless(setup);
  const double per_h = members.parameters[tea::wall_per_h];
  const double off_c = members.parameters[tea::room_c] - setup.room_temperature_c;
  ASSERT_GT(per_h, 0.01);
  const Stretch seen = run(members, 0.0, 10.0, {}, {0.5, 1.0, 2.0, 2.5, 6.0, 10.0});
  double temperature_c = 26.0, now_h = 0.0;
  const auto stand = [&](double room_c, double until_h) {
    const double room = room_c + off_c;
    temperature_c = room + (temperature_c - room) * std::exp(-per_h * (until_h - now_h));
    now_h = until_h;
    return temperature_c;
  };
  const std::vector<double> by_hand = {stand(10.0, 0.5), stand(10.0, 1.0), stand(25.0, 2.0),
                                       stand(25.0, 2.5), stand(5.0, 6.0),  stand(30.0, 10.0)};
  for (std::size_t i = 0; i < by_hand.size(); ++i) EXPECT_NEAR(seen.of(0, i, tea::temperature), by_hand[i], 1e-3) << i;
}

TEST(a_room_by_the_hour, is_the_same_run_in_one_piece_or_in_several) {
  brew::Setup setup = test::bucket();
  for (int hour = 0; hour < 24; ++hour) setup.room_steps.push_back({hour + 0.5, 10.0 + (hour * 7) % 15});
  const Unknowns unknowns(setup, test::priors());
  Members whole = draw_members(setup, test::priors(), unknowns, 8, 1), parts = whole;
  const Stretch all = run(whole, 0.0, 20.0, {}, {20.0});
  run(parts, 0.0, 7.25, {}, {});
  const Stretch end = run(parts, 7.25, 20.0, {}, {20.0});
  for (int m = 0; m < 8; ++m) {
    EXPECT_NEAR(all.of(m, 0, tea::temperature), end.of(m, 0, tea::temperature), 1e-3);
    EXPECT_NEAR(all.of(m, 0, tea::oxygen), end.of(m, 0, tea::oxygen), 0.02);
  }
}

// Moist air that cools keeps its moisture until it can hold no more. source: any psychrometric chart (from memory).
TEST(a_room_that_cools, keeps_the_moisture_its_air_can_hold) {
  brew::Setup setup = test::bucket();
  setup.room_temperature_c = 20.0;
  setup.room_humidity_share = 0.5;  // dew point 9.3 degC
  const Unknowns unknowns(setup, test::priors());
  const MemberBuilder builder(setup, test::priors(), unknowns);
  EXPECT_EQ(builder.room_shift(10.0)[2], 0.0);
  EXPECT_LT(builder.room_shift(8.0)[2], 0.0);
  EXPECT_EQ(builder.room_shift(8.0)[0], -12.0);
}

TEST(a_room_by_the_hour, is_refused_when_no_room_is_so_hot) {
  brew::Setup setup = test::bucket();
  setup.room_steps = {{0.0, 20.0}, {1.0, 60.0}};
  const auto told = forecast(setup, test::priors());
  ASSERT_FALSE(told.ok());
  EXPECT_EQ(told.refusals().front().field, "room.by_hour");
}

}  // namespace
}  // namespace barm::brew
