// Lengths and cells to dry mass against worked figures; the ratio's limits against sums of variances.
#include "count/biomass.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <map>
#include <random>

#include "count/tables.h"
#include "data/embedded.h"
#include "support/published.h"

namespace barm::count {
namespace {

const Tables& tables() {
  static const Tables all = Tables::read(data::file("counts.toml"));
  return all;
}
const BiomassFactors& factors(const char* id = "density_and_dry_matter") {
  return **tables().biomass_factors(id);
}
bool has(const Remarks& remarks, const std::string& code, const std::string& field) {
  return std::any_of(remarks.begin(), remarks.end(),
                     [&](const Remark& each) { return each.code == code && each.field == field; });
}
Answer<BiomassTold> told(const Biomass& in, const char* id = "density_and_dry_matter") {
  return biomass_of(in, factors(id), tables().cells());
}

// S66, eight digits: half of the last is at most 5e-8.
TEST(biomass, threads_weigh_what_the_worked_rows_say) {
  for (const auto& row : test::published("hyphal_biomass.csv")) {
    SCOPED_TRACE(row.text("id"));
    const double volume_um3 = thread_volume_um3(row.number("length_m"), row.number("diameter_um"));
    EXPECT_NEAR(volume_um3 * 1e-12 / row.number("volume_cm3"), 1.0, 5e-8);
    EXPECT_NEAR(dry_mass_ug(volume_um3, factors().fungal) / row.number("dry_mass_ug"), 1.0, 5e-8);
    EXPECT_EQ(factors().fungal[0].value, row.number("density_g_per_cm3"));
    EXPECT_EQ(factors().fungal[1].value, row.number("dry_matter_ratio"));
  }
}

// S66, S67, S68: the value of each row, and the two ends its note gives.
TEST(biomass, factors_and_their_ranges_are_the_published_ones) {
  const auto& cells = tables().cells();
  const auto& dry = factors("dry_per_volume");
  const std::map<std::string, Figure> ours = {{"bacteria_buoyant_density", factors().bacterial[0]},
                                              {"bacteria_dry_matter", factors().bacterial[1]},
                                              {"fungal_hyphae_buoyant_density", factors().fungal[0]},
                                              {"fungal_hyphae_dry_matter", factors().fungal[1]},
                                              {"fungal_dry_per_wet_volume", dry.fungal[0]},
                                              {"bacteria_dry_per_wet_volume", dry.bacterial[0]},
                                              {"bacteria_carbon_per_biovolume", cells.bacterial_carbon_fg_per_um3},
                                              {"fungal_carbon_of_dry_mass", cells.fungal_carbon},
                                              {"hyphal_diameter_typical", cells.hyphal_diameter_um}};
  std::size_t seen = 0;
  for (const auto& row : test::published("biomass_factors.csv")) {
    const std::string name = row.text("quantity"), note = row.text("note");
    SCOPED_TRACE(name);
    if (name == "tennant_factor") {
      EXPECT_NEAR(row.number("value"), 11.0 / 14.0, 1e-9);
    }
    if (name == "bacteria_carbon_per_biovolume_alt") {
      EXPECT_EQ(row.number("value"), cells.bacterial_carbon_fg_per_um3.low);
    }
    const auto at = ours.find(name);
    if (at == ours.end()) continue;
    EXPECT_EQ(at->second.value, row.number("value"));
    double low = 0.0, high = 0.0;
    const auto digits = note.find_first_of("0123456789");
    if (std::sscanf(note.c_str() + std::min(digits, note.size()), "%lf-%lf", &low, &high) == 2) {
      EXPECT_EQ(at->second.low, low);
      EXPECT_EQ(at->second.high, high);
    }
    ++seen;
  }
  EXPECT_EQ(seen, ours.size());
}

// Geometry: a rod as long as wide is a sphere.
TEST(biomass, rods_and_spheres_have_their_volumes) {
  EXPECT_NEAR(rod_volume_um3(1.0, 1.0), 3.14159265358979 / 6.0, 1e-12);
  EXPECT_NEAR(rod_volume_um3(0.6, 1.5), 3.14159265358979 / 4.0 * 0.36 * 1.3, 1e-12);
  EXPECT_THROW(rod_volume_um3(1.0, 0.5), BrokenPromise);  // such a cell was refused before
}

const Biomass measured{.hyphae_m_per_ml = {12.0, 0.2, 0},
                       .diameter_um = {2.0, 3.0, 2.5, 2.5},
                       .bacteria_per_ml = {2e9, 0.1, 0},
                       .cell_width_um = 0.6,
                       .cell_length_um = 1.2};

// The limits of a product of independent factors: where every spread is small, its ln is near normal and the variances
// add. Variance of a triangle: (a2 + b2 + c2 - ab - ac - bc)/18.
TEST(biomass, the_ratio_carries_both_counting_errors_and_the_conversions) {
  const auto answer = told(measured);
  ASSERT_TRUE(answer.ok());
  EXPECT_TRUE(answer.doubts().empty());
  const double square = (4.0 + 9.0 + 6.25 + 6.25) / 4.0;
  EXPECT_NEAR(answer->mean_diameter_um, std::sqrt(square), 1e-12);
  const double fungi = 3.14159265358979 / 4.0 * square * 12.0 * 1e6 * 1e-6 * 1.09 * 0.21;
  const double bacteria = 2e9 * rod_volume_um3(0.6, 1.2) * 1e-6 * 1.09 * 0.30;
  EXPECT_NEAR(answer->fungi_ug_per_ml.middle, fungi, 1e-9 * fungi);
  EXPECT_NEAR(answer->bacteria_ug_per_ml.middle, bacteria, 1e-9 * bacteria);
  EXPECT_NEAR(answer->fungi_to_bacteria.middle, fungi / bacteria, 1e-9);

  const auto relative = [](const Figure& f) {
    const double a = f.low, b = f.high, c = f.value;
    const double mean = (a + b + c) / 3.0;
    return (a * a + b * b + c * c - a * b - a * c - b * c) / 18.0 / (mean * mean);
  };
  double conversion = relative(tables().cells().diameter_reading) + relative(tables().cells().size_reading);
  for (const auto& all : {factors().fungal, factors().bacterial})
    for (const Figure& f : all) conversion += relative(f);
  const double squares =
      (6.25 - square) * (6.25 - square) * 2 + (4 - square) * (4 - square) + (9 - square) * (9 - square);
  const double area = squares / 3.0 / 4.0 / (square * square) * 3.0;  // t of 3 degrees: variance 3/(3 - 2)
  const double counting = 0.04 + 0.01 + area;
  const double ln_width = std::log(answer->fungi_to_bacteria.high_95 / answer->fungi_to_bacteria.low_95);
  EXPECT_NEAR(ln_width / (2.0 * 1.96 * std::sqrt(conversion + counting)), 1.0, 0.08);
  EXPECT_NEAR(answer->conversion_share, conversion / (conversion + counting), 0.05);
}

TEST(biomass, better_counting_narrows_but_never_below_the_conversions) {
  const auto width = [](const Biomass& in) {
    const Band ratio = told(in)->fungi_to_bacteria;
    return std::log(ratio.high_95 / ratio.low_95);
  };
  Biomass poor = measured, perfect = measured;
  poor.hyphae_m_per_ml.ln_standard_error = 0.5;
  perfect.hyphae_m_per_ml.ln_standard_error = perfect.bacteria_per_ml.ln_standard_error = 0.0;
  perfect.diameter_um = {2.5};
  EXPECT_GT(width(poor), width(measured));
  EXPECT_GT(width(measured), width(perfect));
  EXPECT_GT(width(perfect), 0.8);  // bacterial dry matter alone runs from 0.12 to 0.33
  EXPECT_NEAR(told(perfect)->conversion_share, 1.0, 1e-9);
  Biomass one_length = measured;
  one_length.hyphae_m_per_ml.ln_standard_error = unset;
  EXPECT_TRUE(std::isnan(told(one_length)->conversion_share));  // nobody knows what counting leaves open
  Biomass none = measured;
  none.hyphae_m_per_ml = {0.0, 0.0, 0};
  EXPECT_TRUE(std::isnan(told(none)->conversion_share));  // no thread seen: more fields would mend most of the doubt
}

// Where nothing else is uncertain the limit of none seen goes straight through; what the conversions add is told by
// drawing -ln(1 - u) and the factors by an ordinary generator, apart from the even draws.
TEST(biomass, none_seen_has_an_upper_limit_of_mass_and_ratio) {
  Biomass none = measured;
  none.hyphae_m_per_ml = {.value = 0.0, .none_seen_high_95 = 5.0};
  const auto answer = told(none);
  EXPECT_EQ(answer->fungi_ug_per_ml.middle, 0.0);
  EXPECT_EQ(answer->fungi_ug_per_ml.low_95, 0.0);
  EXPECT_EQ(answer->fungi_to_bacteria.middle, 0.0);
  EXPECT_TRUE(std::isnan(answer->conversion_share));
  EXPECT_GT(answer->bacteria_ug_per_ml.low_95, 0.0);

  std::mt19937_64 chance(3);
  const auto triangle = [&](const Figure& f) {
    const double u = std::uniform_real_distribution<double>(0.0, 1.0)(chance),
                 at = (f.value - f.low) / (f.high - f.low);
    if (u < at) return f.low + std::sqrt(u * (f.high - f.low) * (f.value - f.low));
    return f.high - std::sqrt((1.0 - u) * (f.high - f.low) * (f.high - f.value));
  };
  const auto& cells = tables().cells();
  const double square = 25.5 / 4.0, area_error = std::sqrt((2 * 0.125 * 0.125 + 2.375 * 2.375 + 2.625 * 2.625) / 12.0);
  std::vector<double> fungi, ratio;
  for (int i = 0; i < 200'000; ++i) {
    const double length = 5.0 * std::exponential_distribution<double>(1.0)(chance) / 3.6888795;
    const double area = square * std::exp(area_error / square * std::student_t_distribution<double>(3.0)(chance)) *
                        triangle(cells.diameter_reading);
    double of_fungi = 3.14159265358979 / 4.0 * area * length, of_bacteria = 2e9 * rod_volume_um3(0.6, 1.2) * 1e-6;
    for (const Figure& f : factors().fungal) of_fungi *= triangle(f);
    for (const Figure& f : factors().bacterial) of_bacteria *= triangle(f);
    fungi.push_back(of_fungi);
    ratio.push_back(of_fungi / of_bacteria / triangle(cells.size_reading) *
                    std::exp(0.1 * std::normal_distribution<double>()(chance)));
  }
  const auto at_975 = [](std::vector<double>& all) {
    std::nth_element(all.begin(), all.begin() + 195'000, all.end());
    return all[195'000];
  };
  // Of 2,048 draws 51 lie beyond: one standard error of the limit is some 5 %, and three of them are allowed.
  EXPECT_NEAR(answer->fungi_ug_per_ml.high_95 / at_975(fungi), 1.0, 0.15);
  EXPECT_NEAR(answer->fungi_to_bacteria.high_95 / at_975(ratio), 1.0, 0.15);
  EXPECT_EQ(answer->fungi_to_bacteria_carbon.low_95, 0.0);
  EXPECT_GT(answer->fungi_to_bacteria_carbon.high_95, 0.0);

  none.hyphae_m_per_ml.none_seen_high_95 *= 2.0;
  EXPECT_NEAR(told(none)->fungi_ug_per_ml.high_95 / answer->fungi_ug_per_ml.high_95, 2.0, 1e-12);
}

TEST(biomass, the_two_sets_of_factors_disagree_and_carbon_stands_apart) {
  const auto one = told(measured), other = told(measured, "dry_per_volume");
  EXPECT_NEAR(other->fungi_ug_per_ml.middle / one->fungi_ug_per_ml.middle, 0.33 / (1.09 * 0.21), 1e-9);
  EXPECT_GT(other->bacteria_ug_per_ml.middle, 2.0 * one->bacteria_ug_per_ml.middle);
  EXPECT_NEAR(one->fungi_to_bacteria_carbon.middle,
              one->fungi_ug_per_ml.middle * 0.45 / (2e9 * rod_volume_um3(0.6, 1.2) * 310e-9), 1e-9);
}

TEST(biomass, what_nobody_measured_is_said) {
  const auto answer = told({.hyphae_m_per_ml = {12.0, 0.2, 0}, .bacteria_per_ml = {2e9, 0.1, 0}});
  EXPECT_TRUE(has(answer.doubts(), "count.biomass.diameter_assumed", "diameters"));
  EXPECT_TRUE(has(answer.doubts(), "count.biomass.cell_assumed", "cell_width"));
  EXPECT_GT(std::log(answer->fungi_to_bacteria.high_95 / answer->fungi_to_bacteria.low_95),
            std::log(told(measured)->fungi_to_bacteria.high_95 / told(measured)->fungi_to_bacteria.low_95));
  const auto alone = told({.hyphae_m_per_ml = {12.0, 0.2, 0}, .diameter_um = {2.5}});
  EXPECT_TRUE(alone.doubts().empty());
  EXPECT_TRUE(std::isnan(alone->fungi_to_bacteria.middle));
  EXPECT_TRUE(std::isfinite(alone->fungi_ug_per_ml.low_95));
}

TEST(biomass, refuses_what_no_cell_is) {
  Biomass in = measured;
  in.diameter_um = {2.0, 0.4};
  EXPECT_TRUE(has(told(in).refusals(), "count.number.outside", "diameters[2]"));
  in.diameter_um = {0.5};
  EXPECT_TRUE(told(in).ok());
  in.diameter_um = {51.0};
  EXPECT_TRUE(has(told(in).refusals(), "count.number.outside", "diameters[1]"));
  in = measured;
  in.cell_length_um = unset;
  EXPECT_TRUE(has(told(in).refusals(), "count.biomass.half_a_size", "cell_length"));
  in = measured;
  in.cell_width_um = 21.0;
  EXPECT_TRUE(has(told(in).refusals(), "count.number.outside", "cell_width"));
  in = measured;
  in.bacteria_per_ml.value = 0.0;
  EXPECT_TRUE(has(told(in).refusals(), "count.number.outside_open", "bacteria"));
  EXPECT_TRUE(has(tables().biomass_factors("dry").refusals(), "count.name.unknown", "factors"));
}

// A law, over lengths, errors and degrees of freedom (each answer takes 20 ms, so few of them).
TEST(biomass_law, mass_is_proportional_to_length_and_the_limits_enclose_the_middle) {
  for (const double length : {0.01, 3.0, 1e4}) {
    for (const auto& [error, degrees] : {std::pair{0.0, 0}, {0.3, 1}, {0.05, 29}}) {
      Biomass in = measured;
      in.hyphae_m_per_ml = {length, error, degrees};
      const auto one = told(in);
      in.hyphae_m_per_ml.value *= 2.0;
      const auto two = told(in);
      EXPECT_NEAR(two->fungi_ug_per_ml.middle / one->fungi_ug_per_ml.middle, 2.0, 1e-12);
      EXPECT_NEAR(two->fungi_to_bacteria.high_95 / one->fungi_to_bacteria.high_95, 2.0, 1e-12);
      for (const Band& band : {one->fungi_ug_per_ml, one->bacteria_ug_per_ml, one->fungi_to_bacteria}) {
        EXPECT_GT(band.low_95, 0.0);
        EXPECT_LT(band.low_95, band.middle);
        EXPECT_LT(band.middle, band.high_95);
      }
    }
  }
}

}  // namespace
}  // namespace barm::count
