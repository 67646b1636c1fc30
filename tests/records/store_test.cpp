// What a store promises, on both engines.
#include "records/store.h"

#include "records/a_store.h"
#include "records/chain.h"
#include "records/line.h"
#include "records/stock.h"
#include "records/trace.h"
#include "records/verify.h"

namespace barm::records {
namespace {

using std::string;

class StoreTest : public OnBoth {
 protected:
  Place place = empty_place();
  Store store = open(place);
  Season season = a_season();
  void keep_season() {
    const auto kept = store.add_all(season.all(), may_2026);
    ASSERT_TRUE(kept.ok()) << told(kept.refusals());
  }
  std::vector<Entry> list(const char* kind, const Filter& filter = {}) {
    const auto all = store.list(*all_kinds().find(kind), filter);
    EXPECT_TRUE(all.ok()) << told(all.refusals());
    return all.ok() ? *all : std::vector<Entry>{};
  }
};
INSTANTIATE_TEST_SUITE_P(Engines, StoreTest, ::testing::Values(Engine::sqlite, Engine::postgresql), engine_name);

TEST_P(StoreTest, what_is_kept_comes_back_as_it_was) {
  keep_season();
  for (const auto& given : season.all()) {
    const auto found = store.find(given.id);
    ASSERT_TRUE(found.ok()) << told(found.refusals());
    EXPECT_EQ(found->kind, given.kind);
    EXPECT_TRUE(found->values == given.values) << line_of(*all_kinds().find(given.kind), *found);
    EXPECT_EQ(found->recorded_at, may_2026);
    EXPECT_EQ(found->recorded_by, "Ana");
  }
  EXPECT_EQ(store.count(), static_cast<std::int64_t>(season.all().size()));
}

TEST_P(StoreTest, a_store_closed_and_opened_again_holds_the_same) {
  keep_season();
  const auto head = store.head();
  Store again = open(place);
  EXPECT_EQ(again.count(), store.count());
  EXPECT_EQ(again.head(), head);
}

TEST_P(StoreTest, the_same_entry_sent_twice_is_kept_once) {
  keep(store, season.garden);
  const auto head = store.head();
  const auto again = store.add(season.garden, may_2026 + 5000);
  ASSERT_TRUE(again.ok()) << told(again.refusals());
  EXPECT_TRUE(again->was_there);
  EXPECT_EQ(again->number, 1);
  EXPECT_EQ(store.count(), 1);
  EXPECT_EQ(store.head(), head);
  const auto twice = store.add_all({season.bed, season.bed}, may_2026);
  ASSERT_TRUE(twice.ok()) << told(twice.refusals());
  EXPECT_FALSE((*twice)[0].was_there);
  EXPECT_TRUE((*twice)[1].was_there);
  EXPECT_EQ(store.count(), 2);
}

TEST_P(StoreTest, the_same_id_with_other_content_is_refused_naming_both) {
  keep(store, season.garden);
  Entry other = season.garden;
  other.values[0] = string("Valley garden");
  const auto refused = store.add(other, may_2026);
  ASSERT_TRUE(has(refused.refusals(), "records.entry.id_taken", "id")) << told(refused.refusals());
  const auto& facts = refused.refusals()[0].facts;
  EXPECT_NE(std::get<string>(facts.at("given")).find("Valley garden"), string::npos);
  EXPECT_NE(std::get<string>(facts.at("other")).find("Hillside garden"), string::npos);
  Entry another_kind = season.ana;
  another_kind.id = season.garden.id;
  EXPECT_TRUE(has(store.add(another_kind, may_2026).refusals(), "records.entry.id_taken"));
  EXPECT_EQ(store.count(), 1);
}

TEST_P(StoreTest, all_or_nothing_is_kept_of_a_list) {
  Entry lost = season.bed;
  lost.id = new_id();
  lost.values[0] = new_id();
  const auto refused = store.add_all({season.garden, season.bed, lost}, may_2026);
  ASSERT_TRUE(has(refused.refusals(), "records.entry.names_nothing", "garden")) << told(refused.refusals());
  EXPECT_EQ(std::get<string>(refused.refusals()[0].facts.at("row")), "3");
  EXPECT_EQ(store.count(), 0);
  EXPECT_EQ(list("garden").size(), 0u);
}

TEST_P(StoreTest, a_reference_names_an_entry_of_its_kind) {
  keep_season();
  Entry wrong = season.application;
  wrong.id = new_id();
  wrong.values[0] = season.vessel.id;
  const auto refused = store.add(wrong, may_2026);
  ASSERT_TRUE(has(refused.refusals(), "records.entry.names_another_kind", "bed"));
  EXPECT_EQ(std::get<string>(refused.refusals()[0].facts.at("kind")), "vessel");
}

TEST_P(StoreTest, a_correction_is_a_further_entry_and_the_old_one_can_still_be_seen) {
  keep_season();
  const auto fixed = correction(season.bed, {{"area", 32.0}}, "measured again");
  keep(store, fixed, may_2026 + day_ms);
  const auto beds = list("bed");
  ASSERT_EQ(beds.size(), 3u);
  EXPECT_EQ(value(beds.back(), "area"), Value(32.0));
  EXPECT_EQ(beds.back().replaces, season.bed.id);
  EXPECT_EQ(beds.back().reason, "measured again");
  EXPECT_EQ(value(list("bed", {.known_at = may_2026})[0], "area"), Value(30.0));
  EXPECT_EQ(list("bed", {.history = true}).size(), 4u);
  EXPECT_EQ(list("bed", {.known_at = may_2026 - 1}).size(), 0u);
}

TEST_P(StoreTest, what_is_withdrawn_is_gone_from_now_on_only) {
  keep_season();
  keep(store, withdrawal(season.application, "entered twice"), may_2026 + day_ms);
  EXPECT_EQ(list("application").size(), 1u);
  EXPECT_EQ(list("application", {.known_at = may_2026}).size(), 2u);
  EXPECT_EQ(store.find(season.application.id)->values, season.application.values);
}

TEST_P(StoreTest, two_corrections_of_one_entry_are_both_kept_and_the_second_is_doubted) {
  keep_season();
  const auto first = correction(season.bed, {{"area", 31.0}}, "from the shed phone");
  const auto second = correction(season.bed, {{"area", 33.0}}, "from the field phone");
  keep(store, first);
  const auto kept = store.add(second, may_2026);
  ASSERT_TRUE(kept.ok());
  ASSERT_TRUE(has(kept.doubts(), "records.entry.replaced_meanwhile"));
  EXPECT_EQ(std::get<string>(kept.doubts()[0].facts.at("other")), first.id);
  EXPECT_EQ(value(list("bed").back(), "area"), Value(33.0));
}

TEST_P(StoreTest, a_thing_keeps_its_name_when_a_correction_is_referred_to) {
  keep_season();
  const auto fixed = correction(season.bed, {{"area", 32.0}}, "measured again");
  keep(store, fixed);
  Entry later = season.harvest;
  later.id = new_id();
  later.values[0] = fixed.id;
  keep(store, later);
  EXPECT_EQ(value(list("harvest").back(), "bed"), Value(season.bed.id));
  EXPECT_TRUE(store.add(later, may_2026)->was_there);  // as it was sent, with the name of the correction
}

TEST_P(StoreTest, entries_are_found_by_what_they_name_and_when) {
  keep_season();
  EXPECT_EQ(list("reading", {.field = "brew", .names = season.brew.id}).size(), 10u);
  EXPECT_EQ(list("reading", {.field = "brew", .names = season.second_brew.id}).size(), 0u);
  const auto from = may_2026 + 2 * day_ms + day_ms / 4, to = may_2026 + 2 * day_ms + day_ms / 2;
  EXPECT_EQ(list("reading", {.from = from, .to = to}).size(), 2u);  // at 0.3 and 0.4; 0.5 is the end, which is left out
  EXPECT_EQ(list("reading", {.most = 3}).size(), 3u);
  EXPECT_TRUE(has(store.list(*all_kinds().find("bed"), {.from = 1}).refusals(), "records.list.no_time"));
  EXPECT_TRUE(has(store.list(*all_kinds().find("bed"), {.field = "area"}).refusals(), "records.list.no_reference"));
}

TEST_P(StoreTest, the_engine_itself_refuses_to_change_or_delete) {
  keep_season();
  for (const char* statement : {"UPDATE bed SET name = 'x'", "DELETE FROM bed", "UPDATE entry SET recorded_by = 'x'",
                                "DELETE FROM seal", "UPDATE about SET version = 9"}) {
    EXPECT_THROW(store.connection().run(statement), Failure) << statement;
  }
  EXPECT_TRUE(verify(store)->faults.empty());
}

TEST_P(StoreTest, a_newer_store_is_refused_by_name_and_version) {
  store.connection().run("INSERT INTO about (version, changed_at) VALUES (99, 0)");
  const auto refused = Store::open(place, all_kinds(), {});
  ASSERT_TRUE(has(refused.refusals(), "records.store.newer"));
  EXPECT_EQ(std::get<string>(refused.refusals()[0].facts.at("found")), "99");
}

// --- tampering ------------------------------------------------------------------------------------------------------

class TamperTest : public StoreTest {
 protected:
  /// Does what a person with the file or the server's password could do.
  void tamper(const string& statement) {
    auto& connection = store.connection();
    if (connection.engine() == Engine::postgresql) connection.run("SET session_replication_role = replica");
    connection.run_on(Engine::sqlite, "PRAGMA foreign_keys = OFF");
    for (const char* table : {"bed", "entry", "seal"}) {
      for (const char* what : {"UPDATE", "DELETE"})
        connection.run_on(Engine::sqlite, string("DROP TRIGGER IF EXISTS ") + table + "_no_" + what);
    }
    connection.run(statement);
  }
  Remarks faults(const string& noted = {}) {
    const auto verified = verify(store, noted);
    EXPECT_TRUE(verified.ok()) << told(verified.refusals());
    return verified.ok() ? verified->faults : Remarks{};
  }
};
INSTANTIATE_TEST_SUITE_P(Engines, TamperTest, ::testing::Values(Engine::sqlite, Engine::postgresql), engine_name);

TEST_P(TamperTest, an_untouched_record_is_whole) {
  keep_season();
  keep(store, correction(season.bed, {{"area", 32.0}}, "measured again"), may_2026 + 1);
  keep(store, withdrawal(season.application, "entered twice"), may_2026 + 2);
  EXPECT_TRUE(faults().empty()) << told(faults());
  EXPECT_EQ(verify(store)->seals_count, 3);
}

TEST_P(TamperTest, a_changed_value_is_told_with_its_seal) {
  keep_season();
  keep(store, correction(season.bed, {{"area", 32.0}}, "measured again"), may_2026 + 1);
  tamper("UPDATE bed SET area_m2 = 31 WHERE number = (SELECT max(number) FROM bed)");
  const auto found = faults();
  ASSERT_TRUE(has(found, "records.verify.changed")) << told(found);
  EXPECT_EQ(found.size(), 1u);
  EXPECT_EQ(std::get<string>(found[0].facts.at("first")), std::to_string(store.count()));
}

TEST_P(TamperTest, a_changed_author_is_told) {
  keep_season();
  tamper("UPDATE entry SET recorded_by = 'Luis' WHERE number = 3");
  EXPECT_TRUE(has(faults(), "records.verify.changed"));
}

TEST_P(TamperTest, a_seal_made_anew_for_a_changed_entry_is_told_by_the_one_after_it) {
  keep(store, season.garden);
  keep(store, season.bed);
  Entry changed = store.read(1, 1).at(0);
  changed.values[0] = string("Other garden");
  Sealing sealing(chain_start());
  sealing.add(line_of(*all_kinds().find("garden"), changed));
  for (const char* what : {"garden_no_UPDATE", "seal_no_UPDATE"})
    store.connection().run_on(Engine::sqlite, string("DROP TRIGGER ") + what);
  tamper("UPDATE garden SET name = 'Other garden' WHERE number = 1");
  store.connection().run("UPDATE seal SET hash = '" + sealing.hash() + "' WHERE number = 1");
  const auto all = faults();
  ASSERT_EQ(all.size(), 1u) << told(all);
  EXPECT_EQ(all[0].code, "records.verify.changed");
  EXPECT_EQ(std::get<string>(all[0].facts.at("first")), "2");
}

TEST_P(TamperTest, a_removed_row_is_told) {
  keep_season();
  tamper("DELETE FROM bed WHERE number = 3");
  EXPECT_TRUE(has(faults(), "records.verify.missing")) << told(faults());
}

TEST_P(TamperTest, a_removed_end_is_told) {
  keep_season();
  keep(store, correction(season.bed, {{"area", 32.0}}, "measured again"), may_2026 + 1);
  const auto noted = store.head();
  tamper("DELETE FROM bed WHERE number = (SELECT max(number) FROM entry)");
  tamper("DELETE FROM entry WHERE number = (SELECT max(number) FROM entry)");
  EXPECT_TRUE(has(faults(), "records.verify.missing")) << told(faults());
  tamper("DELETE FROM seal WHERE number = 2");  // and now the chain is whole, but not the one that was noted
  EXPECT_TRUE(faults().empty()) << told(faults());
  EXPECT_TRUE(has(faults(noted), "records.verify.head_unknown"));
}

TEST_P(TamperTest, an_entry_slipped_in_is_told) {
  keep_season();
  tamper("INSERT INTO bed (number, garden, name) VALUES (999, 1, 'ghost')");
  EXPECT_TRUE(has(faults(), "records.verify.slipped_in")) << told(faults());
  tamper(
      "INSERT INTO entry (number, id, kind, thing, withdraws, recorded_at, recorded_by) VALUES "
      "(999, 'x', 'bed', 999, 0, 1, 'Ana')");
  EXPECT_TRUE(has(faults(), "records.verify.unsealed")) << told(faults());
}

// --- tracing and stock ----------------------------------------------------------------------------------------------

std::vector<string> ids(const std::vector<Traced>& all, const string& kind) {
  std::vector<string> found;
  for (const auto& one : all) {
    if (one.kind == kind) found.push_back(one.id);
  }
  return found;
}

TEST_P(StoreTest, a_lot_is_traced_to_every_bed_and_harvest) {
  keep_season();
  const auto traced = trace_forward(store, season.molasses.id);
  ASSERT_TRUE(traced.ok()) << told(traced.refusals());
  // Through the second brew too, which was begun with some of the first.
  EXPECT_EQ(ids(*traced, "brew"), (std::vector<string>{season.brew.id, season.second_brew.id}));
  EXPECT_EQ(ids(*traced, "application"), (std::vector<string>{season.application.id, season.late_application.id}));
  EXPECT_EQ(ids(*traced, "bed"), (std::vector<string>{season.bed.id, season.other_bed.id}));
  // Not what was picked before the bed was treated, nor from the bed that got nothing.
  EXPECT_EQ(ids(*traced, "harvest"), (std::vector<string>{season.harvest.id}));
}

TEST_P(StoreTest, a_harvest_is_traced_back_to_lots_water_readings_and_people) {
  keep_season();
  const auto traced = trace_back(store, season.harvest.id);
  ASSERT_TRUE(traced.ok()) << told(traced.refusals());
  EXPECT_EQ(ids(*traced, "application"), (std::vector<string>{season.application.id}));
  EXPECT_EQ(ids(*traced, "brew"), (std::vector<string>{season.brew.id}));
  EXPECT_EQ(ids(*traced, "compost_lot"), (std::vector<string>{season.compost.id}));
  EXPECT_EQ(ids(*traced, "food_lot"), (std::vector<string>{season.molasses.id}));
  EXPECT_EQ(ids(*traced, "water_source"), (std::vector<string>{season.water.id}));
  EXPECT_EQ(ids(*traced, "person"), (std::vector<string>{season.ana.id}));
  EXPECT_EQ(ids(*traced, "water_test").size(), 1u);
  EXPECT_EQ(ids(*traced, "fitness").size(), 1u);
  for (const auto& one : *traced) {
    if (one.kind != "brew") continue;
    EXPECT_EQ(one.name, "May night brew");
    EXPECT_EQ(one.readings_count, 10);
    EXPECT_DOUBLE_EQ(one.oxygen_lowest_mg_per_l.value(), 8.0 - 0.1 * 9);
  }
}

TEST_P(StoreTest, a_brew_traces_back_to_the_brew_it_was_begun_with) {
  keep_season();
  const auto traced = trace_back(store, season.second_brew.id);
  ASSERT_TRUE(traced.ok()) << told(traced.refusals());
  EXPECT_EQ(ids(*traced, "brew"), (std::vector<string>{season.second_brew.id, season.brew.id}));
  EXPECT_EQ(ids(*traced, "compost_lot"), (std::vector<string>{season.compost.id}));
}

TEST_P(StoreTest, a_trace_follows_corrections_and_can_be_seen_as_it_was_known) {
  keep_season();
  keep(store, correction(season.application, {{"bed", season.bare_bed.id}}, "wrong bed"), may_2026 + day_ms);
  EXPECT_EQ(ids(*trace_forward(store, season.compost.id), "harvest"), (std::vector<string>{season.bare_harvest.id}));
  EXPECT_EQ(ids(*trace_forward(store, season.compost.id, may_2026), "harvest"),
            (std::vector<string>{season.harvest.id}));
  EXPECT_TRUE(ids(*trace_back(store, season.harvest.id), "brew").empty());
  EXPECT_TRUE(has(trace_forward(store, season.bed.id).refusals(), "records.trace.kind"));
}

TEST_P(StoreTest, stock_follows_use) {
  keep_season();
  auto stock = stock_of(store, season.compost.id);
  ASSERT_TRUE(stock.ok()) << told(stock.refusals());
  EXPECT_DOUBLE_EQ(stock->left, 48'000.0);
  // Two litres at 500 kg/m3 are a kilogram.
  keep(store,
       entry("mix", {{"into", season.second_brew.id}, {"part", season.compost.id}, {"at", may_2026}, {"volume", 2.0}}));
  keep(store, entry("stock_change",
                    {{"lot", season.compost.id}, {"at", may_2026}, {"mass", -500.0}, {"cause", string("spoiled")}}));
  stock = stock_of(store, season.compost.id);
  EXPECT_DOUBLE_EQ(stock->left, 46'500.0);
  EXPECT_EQ(stock->uses_count, 2);
  EXPECT_TRUE(stock.doubts().empty());
}

TEST_P(StoreTest, stock_used_by_the_other_measure_is_doubted_without_a_density) {
  keep_season();
  EXPECT_DOUBLE_EQ(stock_of(store, season.molasses.id)->left, 3.5);
  keep(store,
       entry("mix", {{"into", season.brew.id}, {"part", season.molasses.id}, {"at", may_2026}, {"mass", 100.0}}));
  const auto stock = stock_of(store, season.molasses.id);
  EXPECT_TRUE(has(stock.doubts(), "records.stock.other_measure"));
  EXPECT_DOUBLE_EQ(stock->left, 3.5);
  keep(store,
       entry("mix", {{"into", season.brew.id}, {"part", season.molasses.id}, {"at", may_2026}, {"volume", 9.0}}));
  EXPECT_TRUE(has(stock_of(store, season.molasses.id).doubts(), "records.stock.less_than_none"));
  EXPECT_TRUE(has(stock_of(store, season.brew.id).refusals(), "records.trace.kind"));
}

}  // namespace
}  // namespace barm::records
