// Colonies against handbook examples, then what must hold for any plates.
#include "count/plates.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <cmath>
#include <sstream>

#include "data/embedded.h"
#include "support/published.h"

namespace barm::count {
namespace {

const PlateRule& rule(const char* id) {
  static const Tables tables = Tables::read(data::file("counts.toml"));
  return **tables.plate_rule(id);
}

bool has(const Remarks& remarks, const std::string& code, const std::string& field) {
  return std::any_of(remarks.begin(), remarks.end(),
                     [&](const Remark& each) { return each.code == code && each.field == field; });
}

void put(Plates& plates, const std::string& dilution, const std::string& counts) {
  std::stringstream in(counts);
  for (std::string part; std::getline(in, part, ';');) {
    if (part == "TNTC") {
      plates.too_many.push_back(std::stod(dilution));
    } else {
      plates.dilution.push_back(std::stod(dilution));
      plates.colonies.push_back(std::stoll(part));
    }
  }
}

// S11 to S13, all rows. Raw figures are printed whole or to six digits; reported ones hold exactly.
TEST(plates, agree_with_handbook_examples) {
  for (const auto& row : test::published("plate_counts.csv")) {
    SCOPED_TRACE(row.text("id"));
    Plates in{.volume_ml = row.number("volume_ml")};
    put(in, row.text("dilution_1"), row.text("counts_1"));
    if (!row.empty("dilution_2")) put(in, row.text("dilution_2"), row.text("counts_2"));
    const auto count = count_plates(in, rule(row.text("rule_set") == "iso_7218_10_300" ? "iso_7218" : "bam"));
    ASSERT_TRUE(count.ok());
    const double raw = row.empty("raw_cfu_per_ml") ? unset : row.number("raw_cfu_per_ml");
    if (!row.empty("raw_cfu_per_ml")) {
      EXPECT_NEAR(count->per_ml, raw, std::max(0.5 * (raw > 10000.0 ? 1.0 : 0.01), 0.0));
    }
    EXPECT_NEAR(count->reported_per_ml / row.number("reported_cfu_per_ml"), 1.0, 1e-9);
    const auto& mark = row.text("qualifier");
    EXPECT_EQ(count->kind, mark == "<"           ? PlatesKind::below
                           : mark == "estimated" ? PlatesKind::estimated
                                                 : PlatesKind::countable);
  }
}

TEST(plates, two_digits_are_rounded_as_the_rule_says) {
  for (const auto& row : test::published("rounding_two_sig_figs.csv")) {
    EXPECT_NEAR(two_significant(row.number("value"), Rounding::five_to_even), row.number("rounded"), 1e-6);
  }
  EXPECT_NEAR(two_significant(14500.0, Rounding::five_to_even), 14000.0, 1e-6);  // S11: even second digit stays
  EXPECT_NEAR(two_significant(14500.0, Rounding::half_up), 15000.0, 1e-6);
  EXPECT_NEAR(two_significant(99600.0, Rounding::half_up), 100000.0, 1e-6);
  EXPECT_EQ(two_significant(0.0, Rounding::half_up), 0.0);
}

TEST(plates, both_ends_of_the_range_are_countable) {
  const auto kind = [](std::int64_t colonies) {
    return count_plates({.dilution = {0.01}, .colonies = {colonies}}, rule("bam"))->kind;
  };
  EXPECT_EQ(kind(24), PlatesKind::below);
  EXPECT_EQ(kind(25), PlatesKind::countable);
  EXPECT_EQ(kind(250), PlatesKind::countable);
  EXPECT_EQ(kind(251), PlatesKind::estimated);
}

TEST(plates, crowded_spoiled_and_unlike_plates_are_doubted) {
  const auto crowded = count_plates({.too_many = {0.01, 0.001}}, rule("bam"));
  EXPECT_EQ(crowded->kind, PlatesKind::above);
  EXPECT_NEAR(crowded->reported_per_ml, 250000.0, 1e-6);
  EXPECT_TRUE(has(crowded.doubts(), "count.plates.all_crowded", "colonies"));
  const auto unlike = count_plates({.dilution = {0.01, 0.01}, .colonies = {40, 200}, .spreaders = {0.01}}, rule("bam"));
  EXPECT_TRUE(has(unlike.doubts(), "count.plates.differ", "colonies"));
  EXPECT_TRUE(has(unlike.doubts(), "count.plates.spreaders", "spreaders"));
  EXPECT_NEAR(unlike->dispersion_index, 2.0 * 80.0 * 80.0 / 120.0, 1e-9);  // by hand
  EXPECT_TRUE(count_plates({.dilution = {0.01, 0.01}, .colonies = {110, 120}}, rule("bam")).doubts().empty());
}

TEST(plates, refuse_what_cannot_be) {
  const auto why = [](const Plates& in) { return count_plates(in, rule("bam")).refusals(); };
  EXPECT_TRUE(has(why({}), "count.list.empty", "dilution"));
  EXPECT_TRUE(has(why({.dilution = {0.1, 0.01}, .colonies = {3}}), "count.list.unequal", "colonies"));
  EXPECT_TRUE(has(why({.dilution = {0.0}, .colonies = {3}}), "count.number.outside", "dilution[1]"));
  EXPECT_TRUE(has(why({.dilution = {1.01}, .colonies = {3}}), "count.number.outside", "dilution[1]"));
  EXPECT_TRUE(has(why({.dilution = {unset}, .colonies = {3}}), "count.number.not_finite", "dilution[1]"));
  EXPECT_TRUE(has(why({.dilution = {0.1}, .colonies = {-1}}), "count.number.outside", "colonies[1]"));
  EXPECT_TRUE(has(why({.dilution = {0.1}, .colonies = {3}, .volume_ml = 0.0}), "count.number.outside", "volume"));
  EXPECT_TRUE(has(why({.too_many = {2.0}}), "count.number.outside", "too_many[1]"));
  EXPECT_TRUE(
      has(why({.dilution = {0.1}, .colonies = {3}, .spreaders = {-1.0}}), "count.number.outside", "spreaders[1]"));
}

RC_GTEST_PROP(plates_law, limits_hold_the_estimate_and_rounding_is_near, ()) {
  Plates in;
  const int plates = *rc::gen::inRange(1, 8);
  for (int i = 0; i < plates; ++i) {
    in.dilution.push_back(std::pow(10.0, -*rc::gen::inRange(0, 4)));
    in.colonies.push_back(*rc::gen::inRange<std::int64_t>(0, 400));
  }
  for (const char* id : {"bam", "30-300", "iso_7218"}) {
    const auto count = *count_plates(in, rule(id));
    RC_ASSERT(count.low_95 <= count.per_ml && count.per_ml < count.high_95);
    if (count.kind == PlatesKind::below) continue;
    RC_ASSERT(std::abs(count.reported_per_ml - count.per_ml) <= 0.06 * count.per_ml);
  }
}

// By hand: 60 and 140 on equal plates have a mean of 100, chi-square 2 x 40 x 40/100 = 32 with one degree; the error of
// the logarithm is sqrt(32/200) = 0.4, and t of one degree 12.706.
TEST(plates, that_differ_more_than_chance_widen_their_limits) {
  const PlateRule rule{.id = "x", .low_count = 25, .high_count = 250, .estimated_from_count = 25};
  const auto far = count_plates({.dilution = {0.01, 0.01}, .colonies = {60, 140}}, rule);
  EXPECT_EQ(far->interval_method, PlatesInterval::ln_student);
  EXPECT_NEAR(far->ln_standard_error, 0.4, 1e-12);
  EXPECT_NEAR(std::log(far->high_95 / far->per_ml), 12.7062 * 0.4, 1e-3);
  const auto near = count_plates({.dilution = {0.01, 0.01}, .colonies = {90, 110}}, rule);
  EXPECT_EQ(near->interval_method, PlatesInterval::poisson_exact);
  EXPECT_LT(near->high_95 / near->per_ml, 1.2);
}

// By hand: 90 and 110 have chi-square 2 x 10 x 10/100 = 2 with one degree: error sqrt(2/200) = 0.1. 100 and 100 have
// none; then chance's own stays: sqrt(1/200).
TEST(plates, asked_for_their_spread_never_tell_less_than_chance) {
  const PlateRule rule{.id = "x", .low_count = 25, .high_count = 250, .estimated_from_count = 25};
  const auto by_spread = [&](std::vector<std::int64_t> colonies) {
    return count_plates({.dilution = std::vector<double>(colonies.size(), 0.01),
                         .colonies = std::move(colonies),
                         .limits = PlatesLimits::by_spread},
                        rule);
  };
  const auto spread = by_spread({90, 110});
  EXPECT_EQ(spread->interval_method, PlatesInterval::ln_student);
  EXPECT_NEAR(std::log(spread->high_95 / spread->per_ml), 12.7062 * 0.1, 1e-4);
  EXPECT_NEAR(std::log(spread->per_ml / spread->low_95), 12.7062 * 0.1, 1e-4);
  EXPECT_TRUE(spread.doubts().empty());
  EXPECT_NEAR(by_spread({100, 100})->ln_standard_error, std::sqrt(1.0 / 200.0), 1e-12);
  const auto one = by_spread({100});
  EXPECT_EQ(one->interval_method, PlatesInterval::poisson_exact);
  EXPECT_TRUE(has(one.doubts(), "count.plates.no_spread", "limits"));
  const auto none = by_spread({0, 0});
  EXPECT_EQ(none->interval_method, PlatesInterval::poisson_exact);
  EXPECT_TRUE(has(none.doubts(), "count.plates.no_spread", "limits"));
}

}  // namespace
}  // namespace barm::count
