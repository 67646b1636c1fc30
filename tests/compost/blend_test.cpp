#include "compost/blend.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>
#include <sstream>

#include "compost/feedstock.h"
#include "data/embedded.h"
#include "support/published.h"

namespace barm::compost {
namespace {

std::vector<double> numbers(const std::string& cells) {
  std::vector<double> all;
  std::stringstream in(cells);
  for (std::string cell; std::getline(in, cell, ';');) all.push_back(std::stod(cell));
  return all;
}

// source: S62, tests/published/compost_mixes.csv, with the tolerance of each row
TEST(a_mix, is_what_the_published_formulas_give) {
  int seen = 0;
  for (const auto& row : test::published("compost_mixes.csv")) {
    const std::string what = row.text("quantity");
    const auto moisture = row.empty("moisture_percent") ? std::vector<double>{} : numbers(row.text("moisture_percent"));
    std::vector<Material> materials;
    for (std::size_t i = 0; i < moisture.size(); ++i) {
      Material of{.name = "m", .moisture_share = moisture[i] / 100.0, .bulk_density_kg_per_m3 = 400.0};
      if (!row.empty("nitrogen_percent_dry")) {
        of.nitrogen_share = numbers(row.text("nitrogen_percent_dry"))[i] / 100.0;
        of.cn = numbers(row.text("carbon_percent_dry"))[i] / 100.0 / of.nitrogen_share;
      }
      materials.push_back(of);
    }
    const auto mass_kg = numbers(row.text("wet_masses_kg"));
    const double wanted = row.number("expected"), tolerance = row.number("tolerance");
    if (what == "mixture_cn") {
      EXPECT_NEAR(mix_of(materials, mass_kg).cn, wanted, tolerance) << row.text("id");
    } else if (what == "mixture_moisture_percent") {
      EXPECT_NEAR(mix_of(materials, mass_kg).moisture_share * 100.0, wanted, tolerance) << row.text("id");
    } else if (what == "mass_of_second_kg_for_cn_30") {
      EXPECT_NEAR(mass_for_cn_kg({materials[0]}, mass_kg, materials[1], 30.0), wanted, tolerance) << row.text("id");
    } else if (what == "mass_of_second_kg_for_moisture_goal_60") {
      EXPECT_NEAR(mass_for_moisture_kg({materials[0]}, mass_kg, materials[1], 0.6), wanted, tolerance)
          << row.text("id");
    } else {
      continue;  // a sample weighed wet and dry: no mix
    }
    ++seen;
  }
  EXPECT_EQ(seen, 7);
}

// source: S60 and S61, tests/published/feedstocks_table_a.csv and _b.csv: every handbook's figure lies in our spread
TEST(feedstocks, hold_what_both_handbooks_print) {
  const auto all = Feedstocks::read(data::file("feedstocks.toml"));
  const auto inside = [](const Figure& figure, double printed, double scale, const std::string& id) {
    EXPECT_GE(printed * scale, figure.low - std::abs(figure.low) * 1e-3) << id;
    EXPECT_LE(printed * scale, figure.high + std::abs(figure.high) * 1e-3) << id;
  };
  for (const auto& row : test::published("feedstocks_table_a.csv")) {
    const auto& of = **all.find(row.text("material"));
    for (const char* end : {"_low", "_high"}) {
      inside(of.cn, row.number(std::string("cn") + end), 1.0, of.id);
      inside(of.nitrogen_share, row.number(std::string("n_percent_dry") + end), 0.01, of.id);
      inside(of.moisture_share, row.number(std::string("moisture_percent") + end), 0.01, of.id);
    }
  }
  for (const auto& row : test::published("feedstocks_table_b.csv")) {
    const auto& of = **all.find(row.text("material"));
    inside(of.nitrogen_share, row.number("n_percent_dry"), 0.01, of.id);
    if (!row.empty("cn")) inside(of.cn, row.number("cn"), 1.0, of.id);
    constexpr double kg_per_m3 = 0.45359237 / 0.764554857984;  // of a pound per cubic yard, exact (S63)
    if (!row.empty("bulk_density_lb_per_yd3"))
      inside(of.bulk_density_kg_per_m3, row.number("bulk_density_lb_per_yd3"), kg_per_m3, of.id);
  }
  EXPECT_EQ(std::get<std::string>(all.find("stravv").refusals()[0].facts.at("suggestion")), "straw");
}

const Material straw{.name = "straw",
                     .spanish = "paja",
                     .moisture_share = 0.12,
                     .nitrogen_share = 0.007,
                     .cn = 80,
                     .bulk_density_kg_per_m3 = 130,
                     .price_per_kg = 0.2};
const Material grass{.name = "grass",
                     .moisture_share = 0.8,
                     .nitrogen_share = 0.034,
                     .cn = 17,
                     .bulk_density_kg_per_m3 = 300,
                     .price_per_kg = 0.05};
const Material leaves{.name = "leaves",
                      .moisture_share = 0.38,
                      .nitrogen_share = 0.009,
                      .cn = 54,
                      .bulk_density_kg_per_m3 = 150,
                      .price_per_kg = 0.1};

// Independent way: every mix of 100 kg in steps of 1 kg, tried one by one.
TEST(the_cheapest_pile, is_no_dearer_than_the_best_of_all_tried) {
  const BlendAsk ask{
      .on_hand = {{straw, 60}, {grass, 80}, {leaves, 70}}, .limits = {}, .aim = BlendAim::least_cost, .mass_kg = 100};
  const auto found = blend(ask, {});
  ASSERT_TRUE(found.ok());
  EXPECT_TRUE(off_limits(found->mix, ask.limits).empty());
  EXPECT_NEAR(found->mix.mass_kg, 100.0, 1e-6);
  double best = INFINITY;
  for (int s = 0; s <= 60; ++s) {
    for (int g = 0; g <= 80 && s + g <= 100; ++g) {
      for (int l = 0; l <= 70 && s + g + l <= 100; ++l) {
        const Mix mix =
            mix_of({straw, grass, leaves, water()}, {double(s), double(g), double(l), double(100 - s - g - l)});
        if (off_limits(mix, ask.limits).empty()) best = std::min(best, mix.cost);
      }
    }
  }
  ASSERT_TRUE(std::isfinite(best));
  EXPECT_LE(found->mix.cost, best + 1e-9);
  EXPECT_GT(found->mix.cost, best - 0.5);  // a step of 1 kg of three materials is worth at most 0.35
}

TEST(a_limit_in_the_way, is_named_with_what_would_mend_it) {
  const auto found = blend({.on_hand = {{grass, 100}}, .limits = {}}, {straw, grass});
  ASSERT_FALSE(found.ok());
  EXPECT_EQ(found.refusals().back().code, "compost.blend.would_mend");
  EXPECT_EQ(std::get<std::string>(found.refusals().back().facts.at("material")), "straw");
  EXPECT_EQ(std::get<std::string>(found.refusals().back().facts.at("material_es")), "paja");
  Material rotted = leaves;  // only its moisture is off
  rotted.cn = 35.0;
  const auto dry = blend({.on_hand = {{rotted, 100}}, .limits = {}, .may_add_water = false}, {});
  ASSERT_FALSE(dry.ok());
  EXPECT_EQ(dry.refusals()[0].code, "compost.blend.no_mix_for.too_dry");
}

TEST(impossible_materials, are_refused_all_at_once) {
  Material wet = grass;
  wet.moisture_share = 1.0;
  const auto found = blend({.on_hand = {{wet, -1.0}}, .limits = {.cn_least = 50}, .aim = BlendAim::least_cost}, {});
  std::vector<std::string> codes;
  for (const auto& refusal : found.refusals()) codes.push_back(refusal.code);
  EXPECT_EQ(codes, (std::vector<std::string>{"compost.blend.less_than_nothing", "compost.blend.all_water",
                                             "compost.blend.no_carbon_or_nitrogen", "compost.blend.mass_needed",
                                             "compost.blend.limits_crossed"}));
  EXPECT_TRUE(std::isnan(mix_of({straw}, {0.0}).cn));
}

RC_GTEST_PROP(any_mix, has_a_c_to_n_between_those_of_its_parts, ()) {
  const double a_kg = *rc::gen::inRange(1, 1000), b_kg = *rc::gen::inRange(1, 1000);
  const Mix mix = mix_of({straw, grass}, {a_kg, b_kg});
  RC_ASSERT(mix.cn >= grass.cn - 1e-9 && mix.cn <= straw.cn + 1e-9);
  RC_ASSERT(mix.free_air_share < 1.0);
}

// By hand: 1000 kg in 2 m3, half water: 0.5 m3 of water and 500/1500 m3 of solids leave 58.3 %; in 1.7 m3 they
// leave 51.0 %.
TEST(a_mix, has_less_free_air_once_it_has_settled) {
  const Material half{
      .name = "x", .moisture_share = 0.5, .nitrogen_share = 0.01, .cn = 30.0, .bulk_density_kg_per_m3 = 500.0};
  const Mix mix = mix_of({half}, {1000.0});
  EXPECT_NEAR(mix.free_air_share, 1.0 - (0.5 + 1.0 / 3.0) / 2.0, 1e-12);
  EXPECT_NEAR(mix.free_air_settled_share, 1.0 - (0.5 + 1.0 / 3.0) / 1.7, 1e-12);
}

}  // namespace
}  // namespace barm::compost
