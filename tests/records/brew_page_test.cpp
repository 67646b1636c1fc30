// A brew's page and the brews in the making, on both engines.
#include "records/brew_page.h"

#include "records/a_store.h"
#include "records/named.h"

namespace barm::records {
namespace {

using std::string;

constexpr std::int64_t minute_ms = 60'000;
constexpr std::int64_t begun = may_2026 + 2 * day_ms;  // when the season's first brew got air

class BrewPageTest : public OnBoth {
 protected:
  Store store = open(empty_place());
  Season season = a_season();
  void SetUp() override {
    const auto kept = store.add_all(season.all(), may_2026);
    ASSERT_TRUE(kept.ok()) << told(kept.refusals());
  }
  BrewPage page(std::int64_t known_at = known_now) {
    auto got = page_of(store, season.brew.id, 200, known_at);
    EXPECT_TRUE(got.ok()) << told(got.refusals());
    return got.ok() ? std::move(got.value()) : BrewPage{};
  }
  std::vector<Stretch> chart(const Entry& brew, int most, std::int64_t known_at = known_now) {
    auto got = chart_of(store, brew.id, most, known_at);
    EXPECT_TRUE(got.ok()) << told(got.refusals());
    return got.ok() ? std::move(got.value()) : std::vector<Stretch>{};
  }
  Entry reading(const Entry& brew, std::int64_t at, double oxygen) {
    Entry one = entry("reading", {{"brew", brew.id}, {"at", at}, {"oxygen", oxygen}});
    keep(store, one);
    return one;
  }
  std::vector<Live> live(std::int64_t now, const string& garden = {}) {
    auto got = live_brews(store, now, garden);
    EXPECT_TRUE(got.ok()) << told(got.refusals());
    return got.ok() ? std::move(got.value()) : std::vector<Live>{};
  }
};
INSTANTIATE_TEST_SUITE_P(Engines, BrewPageTest, ::testing::Values(Engine::sqlite, Engine::postgresql), engine_name);

TEST_P(BrewPageTest, a_page_holds_what_was_written_of_its_brew_and_of_no_other) {
  keep(store, entry("observation", {{"brew", season.brew.id}, {"at", begun + day_ms}, {"smell", string("earthy")}}));
  keep(store, entry("observation", {{"brew", season.second_brew.id}, {"at", begun}, {"smell", string("sour")}}));
  keep(store, entry("count", {{"of", season.brew.id},
                              {"at", begun + day_ms},
                              {"organism", string("bacteria")},
                              {"method", string("microscope")},
                              {"density", 2e8}}));
  const BrewPage all = page();
  EXPECT_EQ(all.brew.id, season.brew.id);
  EXPECT_EQ(value(all.brew, "plan"), value(season.brew, "plan"));
  EXPECT_EQ(all.mixes.size(), 3U);
  ASSERT_EQ(all.observations.size(), 1U);
  EXPECT_EQ(value(all.observations[0], "smell"), Value(string("earthy")));
  EXPECT_EQ(all.counts.size(), 1U);
  EXPECT_EQ(all.verdicts.size(), 1U);
  ASSERT_EQ(all.applications.size(), 1U);
  EXPECT_EQ(all.applications[0].id, season.application.id);
  EXPECT_EQ(all.chart.size(), 10U);
  EXPECT_TRUE(all.history.empty());
}

TEST_P(BrewPageTest, a_page_tells_what_was_corrected_and_withdrawn) {
  keep(store, correction(season.application, {{"volume", 25.0}}, "read the wrong mark"), may_2026 + 5000);
  const Entry smell = entry("observation", {{"brew", season.brew.id}, {"at", begun}, {"smell", string("sour")}});
  keep(store, smell, may_2026 + 5000);
  keep(store, withdrawal(smell, "that was the other drum"), may_2026 + 6000);
  keep(store, correction(season.brew, {{"name", string("Night brew of May")}}, "renamed"), may_2026 + 7000);
  const BrewPage now = page();
  EXPECT_EQ(value(now.brew, "name"), Value(string("Night brew of May")));
  EXPECT_EQ(value(now.applications.at(0), "volume"), Value(25.0));
  EXPECT_TRUE(now.observations.empty());
  ASSERT_EQ(now.history.size(), 6U);  // three first entries, and what took their place
  EXPECT_EQ(now.history[0].id, season.brew.id);
  EXPECT_EQ(now.history[5].reason, "renamed");
  EXPECT_TRUE(now.history[4].withdraws);
  EXPECT_EQ(now.history[4].replaces, smell.id);

  const BrewPage then = page(may_2026 + 5500);
  EXPECT_EQ(value(then.brew, "name"), Value(string("May night brew")));
  EXPECT_EQ(value(then.applications.at(0), "volume"), Value(25.0));
  EXPECT_EQ(then.observations.size(), 1U);
  EXPECT_EQ(then.history.size(), 2U);
}

TEST_P(BrewPageTest, cleaning_is_the_last_before_and_the_first_after_of_vessel_line_and_diffuser) {
  const Entry pump = entry("pump", {{"garden", season.garden.id}, {"name", string("Shed pump")}});
  const Entry stones = entry("diffuser", {{"garden", season.garden.id}, {"name", string("Ring of stones")}});
  const Entry line =
      entry("line",
            {{"garden", season.garden.id}, {"name", string("Drum line")}, {"pump", pump.id}, {"diffuser", stones.id}});
  for (const auto& one : {pump, stones, line}) keep(store, one);
  keep(store, correction(season.brew, {{"line", line.id}}, "forgotten"));
  std::vector<string> wanted;
  const auto cleaned = [&](const Entry& gear, int days) {
    const Entry one =
        entry("cleaning", {{"vessel", gear.id}, {"at", begun + days * day_ms}, {"method", string("dried")}});
    keep(store, one);
    return one.id;
  };
  cleaned(season.vessel, -9);
  wanted.push_back(cleaned(season.vessel, -1));
  wanted.push_back(cleaned(season.vessel, 1));
  cleaned(season.vessel, 8);
  wanted.push_back(cleaned(line, -2));
  wanted.push_back(cleaned(stones, 2));
  std::vector<string> got;
  for (const auto& one : page().cleanings) got.push_back(one.id);
  EXPECT_EQ(got, wanted);
}

TEST_P(BrewPageTest, a_page_of_nothing_or_of_a_withdrawn_brew_is_refused) {
  EXPECT_TRUE(has(page_of(store, new_id()).refusals(), "records.entry.unknown_id", "id"));
  EXPECT_TRUE(has(page_of(store, season.bed.id).refusals(), "records.entry.unknown_id", "id"));
  EXPECT_TRUE(has(page_of(store, season.brew.id, 200, may_2026 - 1).refusals(), "records.entry.unknown_id", "id"));
  keep(store, withdrawal(season.brew, "never made"));
  EXPECT_TRUE(has(page_of(store, season.brew.id).refusals(), "records.entry.withdrawn", "id"));
}

TEST_P(BrewPageTest, a_chart_keeps_means_extremes_and_gaps) {
  // Two hours of one-minute readings with an hour's gap between them; drawn to six stretches of half an hour.
  std::vector<Entry> all;
  for (int i = 0; i < 180; ++i) {
    if (i >= 60 && i < 120) continue;
    all.push_back(entry("reading", {{"brew", season.second_brew.id},
                                    {"at", begun + i * minute_ms},
                                    {"oxygen", 6.0 + 0.01 * i},
                                    {"temperature", 20.0}}));
  }
  ASSERT_TRUE(store.add_all(all, may_2026).ok());
  const auto drawn = chart(season.second_brew, 6);
  ASSERT_EQ(drawn.size(), 4U);  // the two of the gap are left out
  EXPECT_EQ(drawn[0].from, begun);
  EXPECT_EQ(drawn[2].from, begun + 4 * (179 * minute_ms / 6 + 1));
  // Minutes 0 to 29 lie in the first stretch: mean 6 + 0.01 * 14.5.
  EXPECT_EQ(drawn[0].count, 30);
  EXPECT_NEAR(drawn[0].oxygen_mean_mg_per_l.value(), 6.145, 1e-9);
  EXPECT_DOUBLE_EQ(drawn[0].oxygen_lowest_mg_per_l.value(), 6.0);
  EXPECT_DOUBLE_EQ(drawn[0].oxygen_highest_mg_per_l.value(), 6.29);
  EXPECT_DOUBLE_EQ(drawn[0].temperature_mean_c.value(), 20.0);
  EXPECT_FALSE(drawn[0].ph_mean.has_value());
  std::int64_t count = 0;
  for (const auto& stretch : drawn) count += stretch.count;
  EXPECT_EQ(count, 120);
}

TEST_P(BrewPageTest, a_chart_leaves_out_what_was_withdrawn_and_takes_the_corrected_value) {
  reading(season.second_brew, begun, 7.0);
  const Entry last = reading(season.second_brew, begun + 10 * minute_ms, 8.0);
  const Entry stray = reading(season.second_brew, begun + day_ms, 0.1);
  keep(store, withdrawal(stray, "probe in the air"), may_2026 + 5000);
  keep(store, correction(last, {{"oxygen", 6.0}}, "calibrated wrong"), may_2026 + 5000);
  const auto now = chart(season.second_brew, 1);
  ASSERT_EQ(now.size(), 1U);
  EXPECT_EQ(now[0].count, 2);
  EXPECT_DOUBLE_EQ(now[0].oxygen_mean_mg_per_l.value(), 6.5);
  const auto then = chart(season.second_brew, 1, may_2026 + 4000);
  ASSERT_EQ(then.size(), 1U);
  EXPECT_EQ(then[0].count, 3);
  EXPECT_DOUBLE_EQ(then[0].oxygen_lowest_mg_per_l.value(), 0.1);
  EXPECT_TRUE(chart(season.second_brew, 5, may_2026 - 1).empty());
}

TEST_P(BrewPageTest, no_chart_has_more_stretches_than_asked_for) {
  for (int i = 0; i < 37; ++i) reading(season.second_brew, begun + i * i * minute_ms, 7.0);
  for (const int most : {1, 2, 3, 7, 36, 37, 100}) {
    const auto drawn = chart(season.second_brew, most);
    EXPECT_LE(drawn.size(), static_cast<std::size_t>(most));
    std::int64_t count = 0;
    for (const auto& stretch : drawn) count += stretch.count;
    EXPECT_EQ(count, 37) << most;
  }
}

TEST_P(BrewPageTest, live_are_brews_that_began_and_have_not_ended) {
  EXPECT_TRUE(live(begun - 1).empty());
  ASSERT_EQ(live(begun).size(), 1U);
  EXPECT_EQ(live(begun)[0].brew.id, season.brew.id);
  EXPECT_DOUBLE_EQ(std::get<double>(value(live(begun)[0].reading.value(), "oxygen")), 8.0);
  const auto later = live(begun + 7 * day_ms);
  ASSERT_EQ(later.size(), 2U);  // the one begun last comes first
  EXPECT_EQ(later[0].brew.id, season.second_brew.id);
  EXPECT_FALSE(later[0].reading.has_value());
  EXPECT_NEAR(std::get<double>(value(later[1].reading.value(), "oxygen")), 7.1, 1e-9);

  keep(store, correction(season.brew, {{"air_off_at", begun + day_ms}}, "ended"));
  EXPECT_EQ(live(begun + day_ms - 1).size(), 1U);
  EXPECT_TRUE(live(begun + day_ms).empty());
  keep(store, withdrawal(season.second_brew, "never made"));
  EXPECT_TRUE(live(begun + 7 * day_ms).empty());
}

TEST_P(BrewPageTest, live_can_be_of_one_garden) {
  const Entry other = entry("garden", {{"name", string("Lower garden")}, {"zone", string("Europe/Madrid")}});
  keep(store, other);
  EXPECT_EQ(live(begun, season.garden.id).size(), 1U);
  EXPECT_TRUE(live(begun, other.id).empty());
  EXPECT_TRUE(has(live_brews(store, begun, season.bed.id).refusals(), "records.entry.unknown_id", "id"));
}

TEST_P(BrewPageTest, things_are_called_by_their_newest_name) {
  keep(store, correction(season.bed, {{"name", string("Upper bed")}}, "renamed"));
  const BrewPage all = page();
  const auto names = names_in(store, all.applications);
  ASSERT_TRUE(names.ok()) << told(names.refusals());
  EXPECT_EQ(names->at(season.bed.id), "Upper bed");
  EXPECT_EQ(names->at(season.brew.id), "May night brew");
  EXPECT_EQ(names->at(season.ana.id), "Ana");
  const auto newest = store.read(store.count(), store.count());
  EXPECT_NE(newest.at(0).id, season.bed.id);
  EXPECT_EQ(thing_ids_of(store, newest).value(), std::vector<string>{season.bed.id});
}

}  // namespace
}  // namespace barm::records
