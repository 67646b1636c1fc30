// The record through its operations: meters' logs, entries sent twice, long plans.
#include <unistd.h>

#include <filesystem>

#include "operations/asking.h"
#include "operations/registry.h"
#include "support/temporary_folder.h"

namespace barm::operations {
namespace {

class RecordTest : public ::testing::Test {
 protected:
  RecordTest() {
    ask("add_garden", {{"name", "Hillside garden"}, {"zone", "America/Bogota"}});
    ask("add_vessel", {{"garden", "Hillside garden"}, {"name", "Blue drum"}, {"volume", "200 L"}});
    ask("add_bed", {{"garden", "Hillside garden"}, {"name", "North bed"}, {"area", "30 m2"}});
    ask("add_brew", {{"garden", "Hillside garden"},
                     {"vessel", "Blue drum"},
                     {"name", "May night brew"},
                     {"volume", "180 L"},
                     {"air_on_at", "2026-04-30T18:00:00-05:00"}});
  }

  Result try_to(const std::string& verb, Json tree, const std::map<std::string, std::string>& files = {}) {
    tree["store"] = folder.file("record.sqlite");
    World world = world_with(files);
    world.chance = [this] {
      std::array<std::uint8_t, 10> chance{};
      chance.back() = static_cast<std::uint8_t>(++ids_made);
      return chance;
    };
    Request request;
    request.document.tree = std::move(tree);
    for (const auto& operation : all_operations()) {
      if (operation.noun == "record" && operation.verb == verb) return operation.ask(request, world);
    }
    throw std::runtime_error("no such verb: " + verb);
  }
  Json ask(const std::string& verb, Json tree, const std::map<std::string, std::string>& files = {}) {
    const auto result = try_to(verb, std::move(tree), files);
    EXPECT_TRUE(result.ok()) << verb << ": " << to_json(result).dump(1);
    return result.ok() ? *result.answer : Json();
  }
  /// Reads a log with the columns named as the fields say.
  Result readings(const std::string& log, Json named) {
    named["brew"] = "May night brew";
    named["file"] = "meter.csv";
    return try_to("readings", std::move(named), {{"meter.csv", log}});
  }
  Json page() { return ask("brew", {{"id", "May night brew"}}); }

  test::TemporaryFolder folder;
  int ids_made = 0;
};

std::string fact(const Remark& remark, const std::string& name) {
  const auto at = remark.facts.find(name);
  return at == remark.facts.end() ? "" : std::get<std::string>(at->second);
}

const Json mapped = {{"time", "Time"}, {"oxygen", "DO (mg/L)"}, {"temperature", "Temp"}, {"zone", "America/Bogota"}};

// --- logs -----------------------------------------------------------------------------------------------------------

TEST_F(RecordTest, a_log_with_a_mark_semicolons_and_decimal_commas_is_read_as_it_means) {
  const auto read = readings(
      "\xEF\xBB\xBFNo;Time;DO (mg/L);Temp\r\n"
      "1;2026-04-30 19:00;7,25;20,5\r\n"
      "2;2026-04-30 19:01;7,15;\r\n",
      mapped);
  ASSERT_TRUE(read.ok()) << to_json(read).dump(1);
  EXPECT_EQ((*read.answer)["kept_count"], 2);
  const Json brew = page();
  ASSERT_EQ(brew["chart"].size(), 2u);
  EXPECT_EQ(brew["chart"][0]["oxygen_mg_per_l"], 7.25);
  EXPECT_EQ(brew["chart"][0]["temperature_c"], 20.5);
  EXPECT_TRUE(brew["chart"][1]["temperature_c"].is_null());  // a gap stays a gap
  EXPECT_EQ(brew["chart"][0]["from_at"], "2026-04-30T19:00:00-05:00");
}

TEST_F(RecordTest, tabs_other_names_and_fahrenheit_are_mapped) {
  const auto read =
      readings("when\tPROBE 2\tT (F)\n0\t7.25\t68\n60\t7.15\t69.8\n", {{"time", "when"},
                                                                       {"oxygen", "PROBE 2"},
                                                                       {"temperature", "T (F)"},
                                                                       {"temperature_unit", "degF"},
                                                                       {"begun_at", "2026-04-30T19:00:00-05:00"}});
  ASSERT_TRUE(read.ok()) << to_json(read).dump(1);
  // 68 degF is 20 degC and 69.8 degF is 21 degC, by the definition of the scales.
  EXPECT_NEAR(page()["chart"][0]["temperature_c"].get<double>(), 20.0, 1e-9);
  EXPECT_NEAR(page()["chart"][1]["temperature_c"].get<double>(), 21.0, 1e-9);
}

TEST_F(RecordTest, a_wrong_cell_is_refused_with_line_and_column_and_nothing_is_kept) {
  const auto read = readings(
      "Time,DO (mg/L),Temp\n"
      "2026-04-30 19:00,7.2,20\n"
      "2026-04-30 19:01,warm,20\n"
      "yesterday,7.1,20\n"
      "2026-04-30 19:03,95,20\n"
      "2026-04-30 19:04,7.1\n",
      mapped);
  ASSERT_EQ(read.refusals.size(), 4u) << to_json(read).dump(1);
  const auto& all = read.refusals;
  EXPECT_EQ(all[0].code, "operations.readings.not_a_number");
  EXPECT_EQ(fact(all[0], "line") + " " + fact(all[0], "column") + " " + fact(all[0], "given"), "3 DO (mg/L) warm");
  EXPECT_EQ(all[1].code, "records.readings.not_a_time");
  EXPECT_EQ(fact(all[1], "line") + " " + fact(all[1], "column"), "4 Time");
  EXPECT_EQ(all[2].code, "records.readings.out_of_bounds");
  EXPECT_EQ(fact(all[2], "line") + " " + fact(all[2], "column") + " " + fact(all[2], "given"), "5 DO (mg/L) 95");
  EXPECT_EQ(all[3].code, "operations.readings.cells");
  EXPECT_EQ(fact(all[3], "line"), "6");
  EXPECT_EQ(page()["readings_count"], 0);
}

TEST_F(RecordTest, a_scale_at_the_end_of_a_name_is_heard) {
  for (const char* name : {"temperature_f", "Temp F", "TempF", "T_F", "water.f"}) {
    Json named = {{"time", "Time"}, {"temperature", name}, {"zone", "America/Bogota"}};
    const std::string log = std::string("Time,") + name + "\n2026-04-30 19:00,70\n";
    EXPECT_TRUE(has(readings(log, named).refusals, "records.readings.other_unit", "temperature")) << name;
    named["temperature_unit"] = "degF";
    EXPECT_TRUE(readings(log, named).ok()) << name;
  }
  for (const char* name : {"Temp", "TEMPF", "half", "temperature_c", "Temp C", "prof"}) {  // a word may end so
    const Json named = {{"time", "Time"}, {"temperature", name}, {"zone", "America/Bogota"}};
    const auto read = readings(std::string("Time,") + name + "\n2026-04-30 20:00,20\n", named);
    EXPECT_TRUE(read.ok()) << name;
    EXPECT_TRUE(read.doubts.empty()) << name;
  }
  const Json named = {{"time", "Time"}, {"temperature", "Temp"}, {"zone", "America/Bogota"}};
  const auto hot = readings("Time,Temp\n2026-04-30 21:00,70\n", named);
  EXPECT_TRUE(has(hot.doubts, "records.readings.hot", "temperature"));
}

// A slip of the pen is no tampering.
TEST_F(RecordTest, a_hash_noted_by_hand_is_read_as_a_hand_writes) {
  std::string head = ask("verify", Json::object())["head"];
  std::transform(head.begin(), head.end(), head.begin(), [](unsigned char c) { return std::toupper(c); });
  EXPECT_TRUE(try_to("verify", {{"head", " " + head.substr(0, 32) + " " + head.substr(32)}}).ok());
  for (const std::string& wrong : {std::string("deadbeef"), head.substr(0, 16), head + "0", std::string(64, 'g')})
    EXPECT_TRUE(has(try_to("verify", {{"head", wrong}}).refusals, "records.verify.not_a_hash", "head")) << wrong;
  EXPECT_TRUE(has(try_to("verify", {{"head", std::string(64, 'f')}}).refusals, "records.verify.head_unknown", ""));
}

TEST_F(RecordTest, a_column_that_tells_another_unit_is_refused) {
  const std::string log = "Time,DO %,Temp °F,EC (uS)\n2026-04-30 19:00,95,68,1200\n";
  Json named = {{"time", "Time"},
                {"oxygen", "DO %"},
                {"temperature", "Temp °F"},
                {"conductivity", "EC (uS)"},
                {"zone", "America/Bogota"}};
  const auto wrong = readings(log, named);
  EXPECT_EQ(wrong.refusals.size(), 3u);
  for (const char* field : {"oxygen", "temperature", "conductivity"})
    EXPECT_TRUE(has(wrong.refusals, "records.readings.other_unit", field)) << field;
  named.erase("oxygen");
  named["temperature_unit"] = "degF";
  named["conductivity_unit"] = "uS/cm";
  const auto right = readings(log, named);
  ASSERT_TRUE(right.ok()) << to_json(right).dump(1);
  EXPECT_NEAR(page()["chart"][0]["conductivity_ms_per_cm"].get<double>(), 1.2, 1e-12);
}

TEST_F(RecordTest, bounds_are_told_as_far_as_there_are_any) {
  const auto below = readings("Time,EC\n2026-04-30 19:00,-1\n",
                              {{"time", "Time"}, {"conductivity", "EC"}, {"zone", "America/Bogota"}});
  ASSERT_TRUE(has(below.refusals, "records.readings.out_of_bounds", "file"));
  EXPECT_TRUE(below.refusals[0].facts.contains("low"));
  EXPECT_FALSE(below.refusals[0].facts.contains("high"));  // conductivity has no upper bound
}

TEST_F(RecordTest, a_column_nobody_has_and_one_there_twice_are_refused) {
  const auto missing = readings("Time,DO (mg/l)\n2026-04-30 19:00,7\n", {{"time", "Time"}, {"oxygen", "DO (mg/L)"}});
  ASSERT_TRUE(has(missing.refusals, "records.readings.column_missing", "oxygen"));
  EXPECT_EQ(fact(missing.refusals[0], "suggestion"), "DO (mg/l)");
  EXPECT_TRUE(has(readings("Time,DO,DO\n2026-04-30 19:00,7,8\n", {{"time", "Time"}, {"oxygen", "DO"}}).refusals,
                  "operations.readings.column_repeated", "file"));
  EXPECT_TRUE(has(readings("Time,DO\n2026-04-30 19:00,7\n", {{"time", "Time"}, {"oxygen", "DO"}}).refusals,
                  "records.readings.no_zone", "file"));
}

// --- sent twice -----------------------------------------------------------------------------------------------------

TEST_F(RecordTest, a_log_read_twice_is_kept_once) {
  const std::string log = "Time,DO (mg/L),Temp\n2026-04-30 19:00,7.2,20\n2026-04-30 19:01,7.1,20\n";
  EXPECT_EQ((*readings(log, mapped).answer)["kept_count"], 2);
  const auto again = readings(log, mapped);
  EXPECT_EQ((*again.answer)["kept_count"], 0);
  EXPECT_EQ((*again.answer)["was_there_count"], 2);
}

TEST_F(RecordTest, a_log_under_an_id_is_refused_with_other_content) {
  Json named = mapped;
  named["id"] = "019f2a4e-7c00-7123-8abc-0123456789ab";
  const std::string log = "Time,DO (mg/L),Temp\n2026-04-30 19:00,7.2,20\n";
  EXPECT_EQ((*readings(log, named).answer)["kept_count"], 1);
  EXPECT_EQ((*readings(log, named).answer)["was_there_count"], 1);
  const auto other = readings("Time,DO (mg/L),Temp\n2026-04-30 19:00,7.3,20\n", named);
  ASSERT_EQ(other.refusals.size(), 1u);
  EXPECT_EQ(other.refusals[0].code, "records.entry.id_taken");
  EXPECT_NE(fact(other.refusals[0], "given").find("7.3"), std::string::npos);
  EXPECT_NE(fact(other.refusals[0], "other").find("7.2"), std::string::npos);
  named["id"] = "not an id";
  EXPECT_TRUE(has(readings(log, named).refusals, "records.entry.bad_id", "id"));
}

TEST_F(RecordTest, a_correction_sent_twice_is_kept_once_and_another_under_its_id_is_refused) {
  const std::string bed = ask("list", {{"kind", "bed"}})["entries"][0]["id"];
  Json correction = {{"id", bed},
                     {"field", "area"},
                     {"value", "32 m2"},
                     {"reason", "measured again"},
                     {"new_id", "019f2a4e-7c00-7123-8abc-0123456789ab"}};
  const Json first = ask("correct", correction);
  EXPECT_EQ(first["was_there"], false);
  EXPECT_EQ(first["id"], correction["new_id"]);
  const Json again = ask("correct", correction);
  EXPECT_EQ(again["was_there"], true);
  EXPECT_EQ(again["number"], first["number"]);
  EXPECT_EQ(again["replaces"], bed);
  correction["value"] = "33 m2";
  const auto other = try_to("correct", correction);
  ASSERT_TRUE(has(other.refusals, "records.entry.id_taken", "new_id"));
  EXPECT_NE(fact(other.refusals[0], "other").find("\"area_m2\":32"), std::string::npos);
  EXPECT_NE(fact(other.refusals[0], "given").find("\"area_m2\":33"), std::string::npos);
}

TEST_F(RecordTest, a_withdrawal_sent_twice_is_kept_once) {
  const std::string bed = ask("list", {{"kind", "bed"}})["entries"][0]["id"];
  const Json withdrawal = {
      {"id", bed}, {"reason", "entered twice"}, {"new_id", "019f2a4e-7c00-7123-8abc-0123456789ab"}};
  EXPECT_EQ(ask("withdraw", withdrawal)["was_there"], false);
  EXPECT_EQ(ask("withdraw", withdrawal)["was_there"], true);
  EXPECT_TRUE(has(try_to("withdraw", {{"id", bed}, {"reason", "again"}}).refusals, "records.entry.withdrawn", "id"));
  EXPECT_TRUE(
      has(try_to("correct", {{"id", bed}, {"field", "area"}, {"value", "3 m2"}, {"reason", "x"}, {"new_id", "short"}})
              .refusals,
          "records.entry.withdrawn", "id"));
}

// --- what screens ask for -------------------------------------------------------------------------------------------

TEST_F(RecordTest, an_entry_is_corrected_and_withdrawn_by_its_name) {
  const auto corrected =
      ask("correct", {{"id", "north bed"}, {"field", "area"}, {"value", "32 m2"}, {"reason", "measured again"}});
  const auto beds = ask("list", {{"kind", "bed"}})["entries"];
  ASSERT_EQ(beds.size(), 1u);
  EXPECT_EQ(beds[0]["id"], corrected["id"]);
  EXPECT_NE(beds[0]["text"].get<std::string>().find("area: 32 m2"), std::string::npos) << beds[0]["text"];
  ask("withdraw", {{"id", "North bed"}, {"reason", "never dug"}});
  EXPECT_EQ(ask("list", {{"kind", "bed"}})["entries"].size(), 0u);
  const auto gone = try_to("withdraw", {{"id", "North bed"}, {"reason", "never dug"}});
  EXPECT_TRUE(has(gone.refusals, "records.entry.name_of_nothing", "id"));
}

// A lot of animal origin that vanishes from under a brew would make the brew's class milder.
TEST_F(RecordTest, what_other_entries_lean_on_is_not_withdrawn_before_them) {
  ask("add_vessel", {{"garden", "Hillside garden"}, {"name", "Drum"}, {"volume", "200 L"}});
  ask("add_compost_lot", {{"garden", "Hillside garden"},
                          {"name", "Heap"},
                          {"origin", "made_here"},
                          {"animal_origin", "manure"},
                          {"method", "windrow"}});
  ask("add_brew", {{"garden", "Hillside garden"},
                   {"name", "Tea"},
                   {"vessel", "Drum"},
                   {"volume", "180 L"},
                   {"air_on_at", "2026-05-02T18:00:00-05:00"}});
  ask("add_mix", {{"into", "Tea"}, {"part", "Heap"}, {"at", "2026-05-02T18:00:00-05:00"}, {"mass", "2 kg"}});
  ask("add_reading", {{"brew", "Tea"}, {"at", "2026-05-02T20:00:00-05:00"}, {"oxygen", "7 mg/L"}});
  for (const char* thing : {"Heap", "Drum", "Hillside garden"}) {
    const auto refused = try_to("withdraw", {{"id", thing}, {"reason", "error"}});
    EXPECT_TRUE(has(refused.refusals, "records.entry.leant_on", "id")) << thing;
  }
  const auto heap = try_to("withdraw", {{"id", "Heap"}, {"reason", "error"}});
  EXPECT_EQ(fact(heap.refusals[0], "count"), "1");
  EXPECT_EQ(fact(heap.refusals[0], "kind"), "mix");
  // What a brew is made of and what was seen of it goes with it; then nothing leans on the lot.
  ask("withdraw", {{"id", "Tea"}, {"reason", "never begun"}});
  ask("withdraw", {{"id", "Drum"}, {"reason", "never bought"}});
  ask("withdraw", {{"id", "Heap"}, {"reason", "another's"}});
}

// --- what is hardly so
// ------------------------------------------------------------------------------------------------

TEST_F(RecordTest, what_is_hardly_so_is_kept_and_doubted) {
  const auto doubts = [this](const std::string& verb, const Json& tree) {
    const auto result = try_to(verb, tree);
    EXPECT_TRUE(result.ok()) << to_json(result).dump(1);
    return result.doubts;
  };
  const std::string brew = "May night brew", on = "2026-05-01T";
  EXPECT_TRUE(has(doubts("add_count", {{"of", brew},
                                       {"at", on + "10:00:00-05:00"},
                                       {"organism", "bacteria"},
                                       {"method", "plate"},
                                       {"density", "2e8 1/mL"},
                                       {"density_low", "4e8 1/mL"},
                                       {"density_high", "1e8 1/mL"}}),
                  "records.doubt.out_of_order", "density_low"));
  EXPECT_TRUE(has(doubts("add_compost_lot", {{"garden", "Hillside garden"},
                                             {"name", "Heap"},
                                             {"origin", "made_here"},
                                             {"animal_origin", "none"},
                                             {"method", "windrow"},
                                             {"made_on", "2026-04-02"},
                                             {"finished_on", "2026-04-01"}}),
                  "records.doubt.out_of_order", "made_on"));
  const Json spread = {{"bed", "North bed"}, {"brew", brew}, {"volume", "20 L"}, {"method", "drench"}};
  Json early = spread, late = spread;
  early["at"] = "2025-05-01T10:00:00-05:00";
  late["at"] = "2026-05-02T10:00:00-05:00";
  EXPECT_TRUE(has(doubts("add_application", early), "records.doubt.before_it_began", "at"));
  EXPECT_TRUE(doubts("add_application", late).empty());
  EXPECT_TRUE(has(doubts("add_mix", {{"into", brew}, {"part", brew}, {"at", on + "10:00:00-05:00"}, {"volume", "2 L"}}),
                  "records.doubt.of_itself", "part"));
  // Of a log of the wrong year it is said once.
  const auto log = readings("Time,DO (mg/L),Temp\n2024-04-30 19:00,7,20\n2024-04-30 20:00,7,20\n", mapped);
  EXPECT_EQ(std::count_if(log.doubts.begin(), log.doubts.end(),
                          [](const Remark& doubt) { return doubt.code == "records.doubt.before_it_began"; }),
            1);
}

TEST_F(RecordTest, a_new_name_sent_twice_is_kept_once) {
  const Json renamed = {{"id", "North bed"},
                        {"field", "name"},
                        {"value", "Hill bed"},
                        {"reason", "moved"},
                        {"new_id", "019f2a4e-7c00-7123-8abc-0123456789ac"}};
  EXPECT_EQ(ask("correct", renamed)["was_there"], false);
  EXPECT_EQ(ask("correct", renamed)["was_there"], true);
}

TEST_F(RecordTest, of_two_with_one_name_neither_is_touched_and_both_are_told) {
  const auto lot = [this] {
    return ask("add_compost_lot", {{"garden", "Hillside garden"},
                                   {"name", "North bed"},
                                   {"origin", "made_here"},
                                   {"animal_origin", "none"},
                                   {"method", "windrow"}})["id"]
        .get<std::string>();
  };
  const Json withdrawal = {{"id", "North bed"}, {"reason", "entered twice"}};
  const auto first = lot();
  const auto bed_or_lot = try_to("withdraw", withdrawal);
  ASSERT_EQ(bed_or_lot.refusals.size(), 1u);
  EXPECT_EQ(bed_or_lot.refusals[0].code, "records.entry.name_of_several");
  EXPECT_NE(fact(bed_or_lot.refusals[0], "allowed").find(first), std::string::npos);
  EXPECT_NE(bed_or_lot.voice.say(bed_or_lot.refusals[0]).find("(bed or compost lot)"), std::string::npos);
  EXPECT_NE(bed_or_lot.voice.next(bed_or_lot.refusals[0]).find("--kind"), std::string::npos);

  const auto second = lot();
  Json of_kind = withdrawal;
  of_kind["kind"] = "compost_lot";
  const auto two_lots = try_to("withdraw", of_kind);
  ASSERT_EQ(two_lots.refusals.size(), 1u);
  EXPECT_EQ(fact(two_lots.refusals[0], "allowed"), first + ", " + second);
  EXPECT_EQ(two_lots.voice.next(two_lots.refusals[0]).find("--kind"), std::string::npos);  // would not tell them apart
  EXPECT_EQ(ask("list", {{"kind", "compost_lot"}})["entries"].size(), 2u);

  of_kind["kind"] = "bed";
  ask("withdraw", of_kind);
  EXPECT_EQ(ask("list", {{"kind", "bed"}})["entries"].size(), 0u);
}

TEST_F(RecordTest, an_id_of_another_kind_than_told_is_refused) {
  const auto bed = ask("list", {{"kind", "bed"}})["entries"][0]["id"];
  const auto refused = try_to("withdraw", {{"id", bed}, {"kind", "brew"}, {"reason", "entered twice"}});
  EXPECT_TRUE(has(refused.refusals, "records.entry.names_another_kind", "id"));
}

// --- words ----------------------------------------------------------------------------------------------------------

TEST_F(RecordTest, refusals_call_kinds_by_their_words_and_names_to_type_by_both) {
  const auto said = [this](const std::string& verb, const Json& tree) {
    auto result = try_to(verb, tree);
    EXPECT_EQ(result.refusals.size(), 1u) << verb;
    result.voice.language = cards::Language::spanish;
    return result.refusals.empty() ? std::string() : result.voice.say(result.refusals[0]);
  };
  EXPECT_EQ(said("stock", {{"id", "Heap"}}), "No hay lote de composta o lote de alimento con el nombre Heap.");
  EXPECT_EQ(said("list", {{"kind", "bed"}, {"field", "area"}, {"names", "x"}}), "Cama no nombra nada en area.");
  EXPECT_EQ(said("list", {{"kind", "person"}, {"from", "2026-05-01T00:00:00Z"}}), "Persona no tiene hora para elegir.");
  EXPECT_NE(said("list", {{"kind", "compst_lot"}}).find("compost_lot (lote de composta), "), std::string::npos);
  const auto bed = ask("list", {{"kind", "bed"}})["entries"][0]["id"].get<std::string>();
  EXPECT_EQ(said("add_reading", {{"brew", bed}, {"at", "2026-05-01T00:00:00Z"}, {"ph", "7"}}),
            bed + " es cama; aquí va: tanda.");
}

TEST_F(RecordTest, a_long_plan_is_kept_as_it_was_from_text_and_as_a_document) {
  Json plan = {{"recipe", "balanced"}};
  for (int i = 0; i < 2000; ++i) plan["steps"].push_back(i);
  ASSERT_GT(plan.dump().size(), 4096u);
  Json brew = {{"garden", "Hillside garden"},
               {"vessel", "Blue drum"},
               {"name", "Second brew"},
               {"volume", "180 L"},
               {"air_on_at", "2026-04-30T18:00:00-05:00"},
               {"plan", plan.dump()}};
  ask("add_brew", brew);
  EXPECT_EQ(ask("brew", {{"id", "Second brew"}})["plan"], plan.dump());
  brew["name"] = "Third brew";
  brew["plan"] = plan;
  ask("add_brew", brew);
  EXPECT_EQ(Json::parse(ask("brew", {{"id", "Third brew"}})["plan"].get<std::string>()), plan);
  brew["name"] = "Fourth brew";
  brew["plan"] = "{\"cut off";
  EXPECT_TRUE(has(try_to("add_brew", brew).refusals, "records.value.not_json", "plan"));
}

TEST_F(RecordTest, a_table_made_elsewhere_may_name_what_its_cells_refer_to) {
  const std::string beds = "garden,name,area_m2\nHillside garden,South bed,20\nHillside garden,West bed,12\n";
  ask("import", {{"kind", "bed"}, {"file", "beds.csv"}}, {{"beds.csv", beds}});
  EXPECT_EQ(ask("list", {{"kind", "bed"}})["entries"].size(), 3u);
  EXPECT_EQ(ask("import", {{"kind", "bed"}, {"file", "beds.csv"}}, {{"beds.csv", beds}})["was_there_count"], 2);
  const std::string wrong = beds + "Hilside garden,East bed,5\nNowhere,Top bed,5\n";
  const auto refused = try_to("import", {{"kind", "bed"}, {"file", "beds.csv"}}, {{"beds.csv", wrong}});
  ASSERT_EQ(refused.refusals.size(), 2u);
  EXPECT_TRUE(has(refused.refusals, "records.entry.name_of_none", "garden"));
  EXPECT_NE(refused.voice.say(refused.refusals[0]).find("Line 4."), std::string::npos);
  EXPECT_NE(refused.voice.say(refused.refusals[1]).find("Line 5."), std::string::npos);
  EXPECT_EQ(ask("list", {{"kind", "bed"}})["entries"].size(), 3u);
}

TEST_F(RecordTest, lists_tell_names_beside_ids) {
  const Json bed = ask("list", {{"kind", "bed"}})["entries"][0];
  EXPECT_NE(bed["text"].get<std::string>().find("garden: Hillside garden"), std::string::npos);
  const Json& garden = bed["values"][0];
  EXPECT_EQ(garden["field"], "garden");
  EXPECT_EQ(garden["text"], "Hillside garden");
  EXPECT_EQ(garden["id"].get<std::string>().size(), 36u);
}

TEST_F(RecordTest, live_tells_the_brew_its_drum_and_its_last_reading) {
  readings("Time,DO (mg/L),Temp\n2026-04-30 18:30,7.2,20\n2026-04-30 18:31,7.1,20\n", mapped);
  const Json live = ask("live", Json::object());  // at 2026-04-30T19:00-05:00
  ASSERT_EQ(live["brews"].size(), 1u);
  EXPECT_EQ(live["brews"][0]["name"], "May night brew");
  EXPECT_EQ(live["brews"][0]["vessel"], "Blue drum");
  EXPECT_NEAR(live["brews"][0]["running_h"].get<double>(), 1.0, 1e-9);
  EXPECT_EQ(live["brews"][0]["oxygen_mg_per_l"], 7.1);
}

/// The first bytes of a PNG.
const std::string picture = "\x89PNG\r\n\x1A\n....";

TEST_F(RecordTest, a_photo_comes_back_as_it_was_taken_and_lists_stay_short) {
  const auto kept =
      ask("add_photo", {{"brew", "May night brew"}, {"at", "2026-04-30T20:00:00-05:00"}, {"image", "@foam.jpg"}},
          {{"foam.jpg", picture}});
  const auto photo = ask("photo", {{"id", kept["id"]}});
  EXPECT_EQ(photo["type"], "image/png");  // whatever its name says
  EXPECT_EQ(photo["image"], "iVBORw0KGgouLi4u");
  const auto list = ask("list", {{"kind", "photo"}});
  EXPECT_EQ(list["entries"].size(), 1u);
  EXPECT_EQ(list.dump().find("iVBOR"), std::string::npos);
}

TEST_F(RecordTest, a_brew_lists_its_photos_without_their_pictures) {
  const auto seen =
      ask("add_observation", {{"brew", "May night brew"}, {"at", "2026-04-30T20:00:00-05:00"}, {"smell", "earthy"}});
  const auto kept = ask("add_photo",
                        {{"brew", "May night brew"},
                         {"at", "2026-04-30T20:00:00-05:00"},
                         {"observation", seen["id"]},
                         {"note", "foam rising"},
                         {"image", "@foam.png"}},
                        {{"foam.png", picture}});
  const Json brew = page();
  ASSERT_EQ(brew["photos"].size(), 1u);
  const Json& photo = brew["photos"][0];
  EXPECT_EQ(photo["id"], kept["id"]);
  EXPECT_EQ(photo["at"], "2026-04-30T20:00:00-05:00");
  EXPECT_EQ(photo["seen"], "smell: earthy");
  EXPECT_EQ(photo["note"], "foam rising");
  EXPECT_EQ(photo["type"], "image/png");
  EXPECT_EQ(photo["bytes_count"], 12);
  // printf '\\x89PNG\\r\\n\\x1A\\n....' | sha256sum
  EXPECT_EQ(photo["hash"], "932cfa884e7d747be6340a893fc7c9c27b45a2b135544ef76564c979606721ad");
  EXPECT_EQ(brew.dump().find("iVBOR"), std::string::npos);
  const auto told = try_to("brew", {{"id", "May night brew"}});
  EXPECT_NE(told.text.find("Photos\n  2026-04-30T20:00:00-05:00. smell: earthy. foam rising. image/png, 0.1 kB"),
            std::string::npos)
      << told.text;
  ask("withdraw", {{"id", kept["id"]}, {"reason", "the wrong drum"}});
  EXPECT_EQ(page()["photos"].size(), 0u);
  EXPECT_EQ(page()["history"].size(), 2u);
}

TEST_F(RecordTest, what_is_no_picture_is_no_photo) {
  const auto refused =
      try_to("add_photo", {{"brew", "May night brew"}, {"at", "2026-04-30T20:00:00-05:00"}, {"image", "PHN2Zy8+"}});
  ASSERT_FALSE(refused.ok());
  EXPECT_TRUE(has(refused.refusals, "records.value.not_an_image", "image"));
}

}  // namespace
}  // namespace barm::operations
