#include "air/transfer.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>
#include <numbers>
#include <vector>

#include "air/flow_response.h"
#include "answers.h"
#include "support/published.h"

namespace barm::air {
namespace {

constexpr Vessel bucket{.volume_l = 19.0, .diameter_m = 0.28};
constexpr double saturation20_mg_per_l = 9.092;  // S01

Delivered blown(double flow_l_per_h) {
  Delivered air;
  air.flow_l_per_h = flow_l_per_h;
  return air;
}

double number_before(const std::string& text, const std::string& unit) {  // "... = 0.145 L/min ..." and the like
  const auto end = text.find(" " + unit);
  if (end == std::string::npos) throw std::runtime_error("no " + unit + " in " + text);
  return std::stod(text.substr(text.rfind(' ', end - 1) + 1));
}

std::vector<FlowTest> jar_runs() {
  std::vector<FlowTest> runs;
  for (const auto& row : test::published("kla_jar_2019.csv")) {
    runs.push_back(
        {.flow_l_per_h = 60.0 * number_before(row.text("condition"), "L/min"), .kla_per_h = row.number("value")});
  }
  return runs;
}

// source: M14, M16, worked by another hand: 19 L, 0.28 m bore, 1300 L/h gives 28 to 30, 25 and 32 1/h at 20 degC by
// routes 1, 2a and 2b; whole numbers, so half of one on either side
TEST(transfer, the_bucket_of_the_model_comes_out_by_every_route) {
  const auto kla = estimate_kla(blown(1300.0), bucket, Diffuser::stone);
  ASSERT_TRUE(kla.ok());
  EXPECT_GE(kla->small_vessel_per_h, 27.5);
  EXPECT_LE(kla->small_vessel_per_h, 30.5);
  EXPECT_NEAR(kla->column_deckwer_per_h, 25.0, 0.5);
  EXPECT_NEAR(kla->column_heijnen_per_h, 32.0, 0.5);
  const double log_mean = std::cbrt(kla->small_vessel_per_h * kla->column_deckwer_per_h * kla->column_heijnen_per_h);
  EXPECT_NEAR(kla->kla20_per_h, log_mean, 1e-9);
  EXPECT_EQ(kla->spread_ln, 0.35);
  EXPECT_TRUE(kla.doubts().empty());
}

// source: judged, factors for the diffuser
TEST(transfer, an_open_tube_halves_and_a_fine_stone_adds_a_fifth) {
  const double stone = estimate_kla(blown(1300.0), bucket, Diffuser::stone)->kla20_per_h;
  EXPECT_NEAR(estimate_kla(blown(1300.0), bucket, Diffuser::open_tube)->kla20_per_h, 0.5 * stone, 1e-9);
  EXPECT_NEAR(estimate_kla(blown(1300.0), bucket, Diffuser::fine)->kla20_per_h, 1.2 * stone, 1e-9);
}

// source: M16, kla_jar_2019: the constants of route 1 are what a straight line through all 23 rows gives.
// Printed as 27, 0.53 and 0.27: half the last digit.
TEST(transfer, the_jar_law_is_the_line_through_its_runs) {
  const auto runs = jar_runs();
  ASSERT_EQ(runs.size(), 23u);
  const auto law = flow_response(runs);
  ASSERT_TRUE(law.ok());
  const double one_vvm_l_per_h = 0.75 * 60.0;
  EXPECT_NEAR(law->kla_per_h(one_vvm_l_per_h), 27.0, 0.5);
  EXPECT_NEAR(law->exponent, 0.53, 0.005);
  EXPECT_NEAR(law->scatter_ln, 0.27, 0.005);
  const auto ours_at = [](double flow_l_per_h) {
    return estimate_kla(blown(flow_l_per_h), {.volume_l = 0.75, .diameter_m = 0.1}, Diffuser::stone)->kla20_per_h;
  };
  EXPECT_NEAR(kla_at_temperature_per_h(ours_at(one_vvm_l_per_h), 22.0), 27.0, 1e-9);
  EXPECT_NEAR(std::log2(ours_at(2.0 * one_vvm_l_per_h) / ours_at(one_vvm_l_per_h)), law->exponent, 0.005);
}

// source: M16, kla_jar_2019. The law must hit each run within three of its own standard deviations, at 22 degC.
TEST(transfer, every_jar_run_lies_within_the_law_s_scatter) {
  const Vessel jar{.volume_l = 0.75, .diameter_m = 0.10};  // bore not recorded; a jar this small goes by vvm alone
  for (const auto& run : jar_runs()) {
    const auto kla = estimate_kla(blown(run.flow_l_per_h), jar, Diffuser::stone);
    ASSERT_TRUE(kla.ok());
    EXPECT_NEAR(kla->kla20_per_h, kla->small_vessel_per_h, 1e-9);
    const double kla22_per_h = kla_at_temperature_per_h(kla->kla20_per_h, 22.0);
    EXPECT_NEAR(std::log(run.kla_per_h), std::log(kla22_per_h), 3.0 * 0.27) << run.flow_l_per_h;
  }
}

// source: M16: transfer efficiency of the jar runs at zero oxygen was 0.5 to 3 %, falling with flow (an exponent of
// KLa under 1, as the test above has it); printed to half a percent, a tenth of that is allowed
TEST(transfer, efficiency_of_the_jar_runs_is_the_one_reported) {
  for (const auto& run : jar_runs()) {
    const double standard_kg_per_h =
        standard_transfer_kg_per_h(run.kla_per_h / kla_at_temperature_per_h(1.0, 22.0), saturation20_mg_per_l, 0.75e-3);
    const double percent = 100.0 * standard_efficiency_share(standard_kg_per_h, run.flow_l_per_h / 1000.0);
    EXPECT_GE(percent, 0.45) << run.flow_l_per_h;
    EXPECT_LE(percent, 3.05) << run.flow_l_per_h;
  }
}

// Half a unit in the last of six digits printed.
double half_a_digit(double value) {
  return 0.5001 * std::pow(10.0, std::floor(std::log10(std::abs(value))) - 5.0);
}

// source: S14, recomputed; six digits printed, of the saturation too, which adds half its last digit
TEST(transfer, standard_rate_and_efficiency_match_every_row) {
  const auto rows = test::published("kla_sotr_sote.csv");
  ASSERT_EQ(rows.size(), 6u);
  for (const auto& row : rows) {
    SCOPED_TRACE(row.text("id"));
    const double by_saturation = half_a_digit(row.number("cs20_mg_per_l")) / row.number("cs20_mg_per_l");
    const double kla20_per_h = row.number("kla_t_per_h") / kla_at_temperature_per_h(1.0, row.number("water_temp_c"));
    EXPECT_NEAR(kla20_per_h, row.number("kla20_per_h"), half_a_digit(row.number("kla20_per_h")));
    EXPECT_NEAR(kla_at_temperature_per_h(row.number("kla20_per_h"), row.number("water_temp_c")),
                row.number("kla_t_per_h"), 1e-6 * row.number("kla_t_per_h"));
    const double rate_kg_per_h =
        standard_transfer_kg_per_h(kla20_per_h, row.number("cs20_mg_per_l"), row.number("volume_m3"));
    EXPECT_NEAR(rate_kg_per_h, row.number("sotr_kg_per_h"),
                half_a_digit(row.number("sotr_kg_per_h")) + by_saturation * rate_kg_per_h);
    const double percent = 100.0 * standard_efficiency_share(rate_kg_per_h, row.number("airflow_m3_per_h_at_20c_1atm"));
    EXPECT_NEAR(percent, row.number("sote_percent"),
                half_a_digit(row.number("sote_percent")) + by_saturation * percent);
  }
}

// source: S14, recomputed; six digits printed, and tau, of which the rate may be a small difference, is printed to six
// too
TEST(transfer, field_rate_matches_every_row) {
  const auto rows = test::published("oxygen_transfer_field.csv");
  ASSERT_EQ(rows.size(), 6u);
  for (const auto& row : rows) {
    SCOPED_TRACE(row.text("id"));
    const double rate_kg_per_h =
        field_transfer_kg_per_h(row.number("sotr_kg_per_h"), {.alpha = row.number("alpha"),
                                                              .fouling_factor = row.number("fouling_factor"),
                                                              .beta = row.number("beta"),
                                                              .theta = row.number("theta"),
                                                              .temperature_c = row.number("water_temp_c"),
                                                              .pressure_kpa = row.number("pressure_kpa"),
                                                              .oxygen_mg_per_l = row.number("do_operating_mg_per_l"),
                                                              .saturation20_mg_per_l = row.number("cs20_mg_per_l"),
                                                              .tau = row.number("tau")});
    const double wanted_kg_per_h = row.number("otr_field_kg_per_h");
    const double by_tau_kg_per_h =
        5e-7 * row.number("sotr_kg_per_h") * row.number("alpha") * row.number("fouling_factor") * row.number("beta") *
        row.number("omega_pressure_ratio") * kla_at_temperature_per_h(1.0, row.number("water_temp_c"));
    EXPECT_NEAR(rate_kg_per_h, wanted_kg_per_h, half_a_digit(wanted_kg_per_h) + by_tau_kg_per_h);
  }
}

// source: S17, S18 (aeration_typical_ranges). What route 3 takes for each diffuser, read back from its answer, lies in
// the range of the device it stands for; the rest of the table brackets what others may use here.
TEST(transfer, efficiency_of_each_diffuser_lies_in_its_published_range) {
  const Vessel tank{.volume_l = 1500.0, .diameter_m = 1.2};
  const auto percent_per_m = [&](Diffuser diffuser) {
    const auto kla = estimate_kla(blown(6000.0), tank, diffuser);
    const double rate_kg_per_h = standard_transfer_kg_per_h(kla->efficiency_per_h, saturation20_mg_per_l, 1.5);
    return 100.0 * standard_efficiency_share(rate_kg_per_h, 6.0) / tank.depth_m();
  };
  int met_count = 0;
  for (const auto& row : test::published("aeration_typical_ranges.csv")) {
    const std::string device = row.text("device");
    const std::string quantity = row.text("quantity");
    const double low = row.number("low");
    const double high = row.number("high");
    const auto inside = [&](double value) {
      ++met_count;
      EXPECT_GE(value, low) << quantity << " " << device;
      EXPECT_LE(value, high) << quantity << " " << device;
    };
    if (quantity == "sote_clean_water_per_depth") {
      if (device == "fine_pore_full_floor") inside(percent_per_m(Diffuser::fine));
      if (device == "fine_pore_spiral_roll") inside(percent_per_m(Diffuser::stone));
      if (device == "coarse_bubble") inside(percent_per_m(Diffuser::open_tube));
    } else if (quantity == "sote_clean_water_at_4p6m") {
      // Grids cover the floor. A single header moves the water more than two do and loses more air; an open tube in a
      // tank may be either, so it lies between the two.
      const double coarse_percent = 4.6 * percent_per_m(Diffuser::open_tube);
      if (device == "ceramic_disc_or_dome_grid") inside(4.6 * percent_per_m(Diffuser::fine));
      if (device == "perforated_membrane_disc_grid") inside(4.6 * percent_per_m(Diffuser::fine));
      if (device == "coarse_bubble_dual_spiral_roll") {
        ++met_count;
        EXPECT_LE(coarse_percent, high);
      }
      if (device == "coarse_bubble_single_spiral_roll") {
        ++met_count;
        EXPECT_GE(coarse_percent, low);
      }
    } else {
      EXPECT_TRUE(0.0 < low && low < high && high <= 1.0)
          << quantity;  // alpha, beta, fouling: the brew's priors use them
      ++met_count;
    }
  }
  EXPECT_EQ(met_count, 11);
}

// source: M14 (kla_tank_2003, abstract): at one flow KLa does not grow with depth between 0.6 and 1.8 m
TEST(transfer, deeper_water_at_one_flow_has_no_larger_kla) {
  const auto kla = [](double depth_m) {
    const double cross_section_m2 = std::numbers::pi / 4.0 * 1.1 * 1.1;
    const Vessel tank{.volume_l = 1000.0 * depth_m * cross_section_m2, .diameter_m = 1.1};
    return estimate_kla(blown(5000.0), tank, Diffuser::open_tube)->kla20_per_h;
  };
  EXPECT_LE(kla(1.8), kla(0.6) * (1.0 + 1e-9));
}

TEST(transfer, under_five_litres_only_the_jar_counts_and_from_two_hundred_it_is_gone) {
  const auto jar = estimate_kla(blown(100.0), {.volume_l = 4.9, .diameter_m = 0.18}, Diffuser::stone);
  EXPECT_NEAR(jar->kla20_per_h, jar->small_vessel_per_h, 1e-9);
  const auto tank = estimate_kla(blown(8000.0), {.volume_l = 201.0, .diameter_m = 0.8}, Diffuser::stone);
  EXPECT_TRUE(std::isnan(tank->small_vessel_per_h));
  EXPECT_NEAR(tank->kla20_per_h, std::sqrt(tank->column_deckwer_per_h * tank->column_heijnen_per_h), 1e-9);
}

TEST(transfer, a_litre_more_is_never_a_jump) {
  for (const double edge_l : {5.0, 15.0, 50.0, 200.0}) {
    const auto kla = [&](double volume_l) {
      return estimate_kla(blown(600.0), {.volume_l = volume_l, .diameter_m = 0.6}, Diffuser::fine)->kla20_per_h;
    };
    EXPECT_NEAR(kla(edge_l * 1.0001) / kla(edge_l * 0.9999), 1.0, 0.001) << edge_l;
  }
}

TEST(transfer, air_outside_what_the_sources_saw_is_doubted_and_spreads_wider) {
  const auto thin = estimate_kla(blown(200.0), bucket, Diffuser::stone);
  EXPECT_TRUE(doubts(thin, "air.transfer.thin_bubbling"));
  EXPECT_TRUE(doubts(thin, "air.transfer.outside_jar_range"));
  EXPECT_EQ(thin->spread_ln, 0.5);
  EXPECT_TRUE(doubts(estimate_kla(blown(20000.0), bucket, Diffuser::stone), "air.transfer.hard_bubbling"));
  const auto jar = estimate_kla(blown(5.0), {.volume_l = 3.0, .diameter_m = 0.15}, Diffuser::stone);
  EXPECT_TRUE(doubts(jar, "air.transfer.outside_jar_range"));
  EXPECT_FALSE(doubts(jar, "air.transfer.thin_bubbling"));  // the columns do not count in a jar
}

TEST(transfer, no_air_no_vessel_no_answer) {
  EXPECT_TRUE(refuses(estimate_kla(blown(unset), bucket, Diffuser::stone), "air.delivered.missing"));
  EXPECT_TRUE(refuses(estimate_kla(blown(0.0), bucket, Diffuser::stone), "air.delivered.out_of_range"));
  EXPECT_TRUE(refuses(estimate_kla(blown(-3.0), bucket, Diffuser::stone), "air.delivered.out_of_range"));
  EXPECT_TRUE(refuses(estimate_kla(blown(100.0), {.volume_l = 0.0, .diameter_m = 0.3}, Diffuser::stone),
                      "air.volume.out_of_range"));
  EXPECT_TRUE(refuses(estimate_kla(blown(100.0), {.volume_l = 200.0, .diameter_m = 0.2}, Diffuser::stone),
                      "air.depth.too_deep"));
}

RC_GTEST_PROP(transfer_law, more_air_never_lowers_kla, ()) {
  const double diameter_m = *rc::gen::inRange(8, 300) * 0.01;
  const double depth_m = *rc::gen::inRange(5, 300) * 0.01;
  const Vessel vessel{.volume_l = 1000.0 * depth_m * std::numbers::pi / 4.0 * diameter_m * diameter_m,
                      .diameter_m = diameter_m};
  const auto diffuser = *rc::gen::element(Diffuser::stone, Diffuser::fine, Diffuser::open_tube);
  const double flow = *rc::gen::inRange(10, 1000000) * 0.1;
  const double more = flow * (1.0 + *rc::gen::inRange(1, 1000) * 0.001);
  RC_PRE(more < 1e6 && depth_m < 2.999);
  RC_ASSERT(estimate_kla(blown(more), vessel, diffuser)->kla20_per_h >=
            estimate_kla(blown(flow), vessel, diffuser)->kla20_per_h);
}

}  // namespace
}  // namespace barm::air
