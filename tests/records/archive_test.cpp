// Out and in again: archives, copies, tables, calendars; and archives made to do harm.
#include "records/archive.h"

#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <zip.h>

#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>

#include "records/a_store.h"
#include "records/backup.h"
#include "records/calendar.h"
#include "records/chain.h"
#include "records/csv.h"
#include "records/line.h"
#include "records/verify.h"

namespace barm::records {
namespace {

using std::string;

string content(const string& name) {
  std::ifstream in(name, std::ios::binary);
  std::stringstream text;
  text << in.rdbuf();
  return text.str();
}

class ArchiveTest : public OnBoth {
 protected:
  Store store = open(empty_place());
  Season season = a_season();
  void SetUp() override {
    ASSERT_TRUE(store.add_all(season.all(), may_2026).ok());
    keep(store, correction(season.bed, {{"area", 32.0}}, "measured again"), may_2026 + 1500);
    keep(store, withdrawal(season.bare_harvest, "never picked"), may_2026 + day_ms);
  }
  void expect_same(Store& other) {
    EXPECT_EQ(other.count(), store.count());
    EXPECT_EQ(other.head(), store.head());
    EXPECT_TRUE(other.read(1, 1000) == store.read(1, 1000));
    EXPECT_TRUE(other.seals(1, 1000) == store.seals(1, 1000));
    EXPECT_TRUE(verify(other)->faults.empty());
  }
};
INSTANTIATE_TEST_SUITE_P(Engines, ArchiveTest, ::testing::Values(Engine::sqlite, Engine::postgresql), engine_name);

TEST_P(ArchiveTest, an_archive_restores_to_the_same_record_on_this_engine_and_in_a_file) {
  const auto name = folder.file("garden.zip");
  const auto written = write_archive(store, name);
  ASSERT_TRUE(written.ok()) << told(written.refusals());
  EXPECT_EQ(written->entries_count, store.count());
  for (const Place& place : {empty_place(), Place{folder.file("from-archive.sqlite")}}) {
    const auto restored = restore(name, place, all_kinds(), may_2026 + 9 * day_ms);
    ASSERT_TRUE(restored.ok()) << told(restored.refusals());
    Store other = open(place);
    expect_same(other);
    // And it goes on from there.
    keep(other, entry("bed", {{"garden", season.garden.id}, {"name", string("Third bed")}}), may_2026 + 10 * day_ms);
    EXPECT_TRUE(verify(other)->faults.empty());
    EXPECT_TRUE(has(read_archive(name, other).refusals(), "records.restore.not_empty"));
  }
  EXPECT_TRUE(has(write_archive(store, name).refusals(), "records.world.taken"));
}

TEST_P(ArchiveTest, the_same_record_is_the_same_archive) {
  ASSERT_TRUE(write_archive(store, folder.file("a.zip")).ok());
  ASSERT_TRUE(write_archive(store, folder.file("b.zip")).ok());
  EXPECT_TRUE(content(folder.file("a.zip")) == content(folder.file("b.zip")));
  EXPECT_EQ(std::distance(std::filesystem::directory_iterator(folder.path()), {}), GetParam() == Engine::sqlite ? 5 : 2)
      << "parts were left lying about";  // of a file store: itself, its log and its index as well
}

TEST_P(ArchiveTest, a_backup_taken_meanwhile_is_whole) {
  const auto name = folder.file(GetParam() == Engine::sqlite ? "backup.sqlite" : "backup.zip");
  const auto done = back_up(store, name);
  ASSERT_TRUE(done.ok()) << told(done.refusals());
  EXPECT_EQ(done->head, store.head());
  const auto place = empty_place();
  ASSERT_TRUE(restore(name, place, all_kinds(), may_2026).ok());
  Store other = open(place);
  expect_same(other);
  EXPECT_TRUE(has(back_up(store, name).refusals(), "records.world.taken"));
}

TEST_P(ArchiveTest, tables_come_back_as_the_same_entries) {
  Store other = open(empty_place());
  for (const auto& kind : all_kinds().all()) {
    string text;
    const auto count = write_csv(store, kind, {}, [&](std::string_view part) { text += part; });
    ASSERT_TRUE(count.ok()) << told(count.refusals());
    if (*count == 0 || kind.name == "bed") continue;
    auto entries = read_csv(text, kind);
    ASSERT_TRUE(entries.ok()) << kind.name << told(entries.refusals());
    ASSERT_EQ(entries->size(), static_cast<std::size_t>(*count));
    for (const auto& entry : *entries) EXPECT_TRUE(entry.values == store.find(entry.id)->values) << kind.name;
    const auto again = store.add_all(*entries, may_2026 + 5 * day_ms);
    ASSERT_TRUE(again.ok()) << told(again.refusals());
    for (const auto& kept : *again) EXPECT_TRUE(kept.was_there);
  }
}

TEST_P(ArchiveTest, a_calendar_tells_brews_and_days_to_use_food_by) {
  const auto words = [](const Kind& kind, const Field&, const string& name) { return kind.name + ": " + name; };
  const auto calendar = calendar_of(store, words);
  ASSERT_TRUE(calendar.ok()) << told(calendar.refusals());
  for (const string line : {"BEGIN:VCALENDAR\r\n", "VERSION:2.0\r\n", "SUMMARY:brew: May night brew\r\n",
                            "DTSTART:20260503T000000Z\r\n", "SUMMARY:food_lot: Molasses\\, second can\r\n",
                            "DTSTART;VALUE=DATE:20261201\r\n", "DTEND;VALUE=DATE:20261202\r\n", "END:VCALENDAR\r\n"}) {
    EXPECT_NE(calendar->find(line), string::npos) << line << *calendar;
  }
}

// --- archives made to do harm
// -----------------------------------------------------------------------------------------

class HostileTest : public ::testing::Test {
 protected:
  Folder folder;
  std::map<string, string> files;
  void SetUp() override {
    Store store =
        std::move(Store::open({folder.file("a.sqlite")}, all_kinds(), {.make = true, .now = may_2026}).value());
    ASSERT_TRUE(store.add_all(a_season().all(), may_2026).ok());
    ASSERT_TRUE(write_archive(store, folder.file("good.zip")).ok());
    zip_t* zip = zip_open(folder.file("good.zip").c_str(), ZIP_RDONLY, nullptr);
    for (const char* name : {"manifest.json", "seals.jsonl", "entries.jsonl"}) {
      zip_file_t* file = zip_fopen(zip, name, 0);
      char part[4096];
      for (zip_int64_t count; (count = zip_fread(file, part, sizeof part)) > 0;)
        files[name].append(part, static_cast<std::size_t>(count));
      zip_fclose(file);
    }
    zip_discard(zip);
  }
  /// Makes the manifest true again after its files were changed, as a forger would.
  void sign() {
    auto manifest = nlohmann::json::parse(files["manifest.json"]);
    for (const char* name : {"seals.jsonl", "entries.jsonl"})
      manifest["files"][name] = {{"bytes", files[name].size()}, {"sha256", hash_of(files[name])}};
    files["manifest.json"] = manifest.dump();
  }
  Remarks refusals() {
    std::filesystem::remove(folder.file("bad.zip"));
    zip_t* zip = zip_open(folder.file("bad.zip").c_str(), ZIP_CREATE, nullptr);
    for (const auto& [name, text] : files)
      zip_file_add(zip, name.c_str(), zip_source_buffer(zip, text.data(), text.size(), 0), ZIP_FL_ENC_UTF_8);
    zip_close(zip);
    const auto to = folder.file("to.sqlite");
    const auto restored = restore(folder.file("bad.zip"), {to}, all_kinds(), may_2026);
    EXPECT_EQ(std::filesystem::exists(to), restored.ok()) << "something stayed of what was refused";
    std::filesystem::remove(to);
    return restored.ok() ? Remarks{} : restored.refusals();
  }
};

TEST_F(HostileTest, the_archive_itself_is_taken) {
  EXPECT_TRUE(refusals().empty());
  sign();
  EXPECT_TRUE(refusals().empty());
}

TEST_F(HostileTest, other_names_inside_are_refused) {
  for (const char* name : {"../../etc/passwd", "/etc/passwd", "entries.jsonl/x", "notes.txt"}) {
    files[name] = "x";
    EXPECT_TRUE(has(refusals(), "records.archive.other_file")) << name;
    EXPECT_FALSE(std::filesystem::exists(folder.file("notes.txt")));
    files.erase(name);
  }
  files.erase("seals.jsonl");
  EXPECT_TRUE(has(refusals(), "records.archive.other_file"));
}

TEST_F(HostileTest, what_would_swell_a_thousandfold_is_refused_before_it_is_unpacked) {
  files["entries.jsonl"] = string(64 * 1024 * 1024, ' ');
  sign();
  EXPECT_TRUE(has(refusals(), "records.archive.shrinks_too_well"));
}

TEST_F(HostileTest, a_line_without_end_is_refused) {
  string noise;  // does not shrink
  for (std::uint64_t i = 0, x = 1; i < 10'000'000; ++i)
    noise += static_cast<char>('a' + (x = x * 6364136223846793005u + 1) % 23);
  files["entries.jsonl"] = noise;
  sign();
  EXPECT_TRUE(has(refusals(), "records.archive.counts_differ"));
}

TEST_F(HostileTest, a_changed_line_is_refused_with_or_without_its_checksum) {
  auto& lines = files["entries.jsonl"];
  lines.replace(lines.find("North bed"), 9, "Other bed");
  EXPECT_TRUE(has(refusals(), "records.archive.checksum") || has(refusals(), "records.archive.chain_broken"));
  sign();
  EXPECT_TRUE(has(refusals(), "records.archive.chain_broken"));
}

TEST_F(HostileTest, lines_that_are_no_entries_are_refused) {
  const auto first_end = files["entries.jsonl"].find('\n');
  const string good = files["entries.jsonl"].substr(0, first_end), rest = files["entries.jsonl"].substr(first_end);
  const std::pair<string, const char*> bad[] = {
      {string(100'000, '['), "records.line.not_json"},
      {"\xFF\xFE", "records.line.not_utf8"},
      {R"({"kind":"garden","kind":"bed"})", "records.line.repeated_key"},
      {R"({"kind":"garden","name":["x"]})", "records.line.not_json"},
      {R"({"kind":"sqlite_master","name":"x"})", "records.line.unknown_kind"},
      {R"({"kind":"garden","name\" TEXT); DROP TABLE entry; --":"x"})", "records.line.unknown_key"},
      {R"({"kind":"garden","altitude_m":"x"})", "records.line.wrong_value"},
      {R"({"kind":"garden","altitude_m":1e999})", "records.line.not_json"},
      {R"({"kind":"garden"})", "records.entry.bad_id"},
  };
  for (const auto& [line, code] : bad) {
    files["entries.jsonl"] = line + rest;
    sign();
    EXPECT_TRUE(has(refusals(), code)) << line.substr(0, 60) << "\n" << told(refusals());
  }
}

TEST_F(HostileTest, torn_archives_are_refused) {
  const auto whole = content(folder.file("good.zip"));
  for (std::size_t size : {std::size_t{0}, std::size_t{30}, whole.size() / 2, whole.size() - 1}) {
    std::ofstream(folder.file("torn.zip"), std::ios::binary) << whole.substr(0, size);
    const auto restored = restore(folder.file("torn.zip"), {folder.file("to.sqlite")}, all_kinds(), may_2026);
    EXPECT_FALSE(restored.ok()) << size;
    EXPECT_FALSE(std::filesystem::exists(folder.file("to.sqlite")));
  }
}

TEST_F(HostileTest, a_flipped_bit_is_refused_wherever_it_is) {
  const auto whole = content(folder.file("good.zip"));
  int taken = 0, same = 0;
  for (std::size_t at = 0; at < whole.size(); at += 1 + whole.size() / 150) {
    auto bad = whole;
    bad[at] = static_cast<char>(bad[at] ^ 0x10);
    std::ofstream(folder.file("bad.zip"), std::ios::binary) << bad;
    const auto to = folder.file("to.sqlite");
    const auto restored = restore(folder.file("bad.zip"), {to}, all_kinds(), may_2026);
    if (!restored.ok()) continue;
    ++taken;  // a bit of a date or a comment in the zip that bears nothing
    same += restored->head == nlohmann::json::parse(files["manifest.json"])["head"];
    std::filesystem::remove(to);
  }
  EXPECT_EQ(taken, same) << "a changed record was taken";
  EXPECT_LT(taken, 50);
}

// --- tables made elsewhere
// --------------------------------------------------------------------------------------------

TEST(Csv, a_text_that_a_spreadsheet_would_reckon_is_written_as_text_and_read_back) {
  Folder folder;
  Store store = std::move(Store::open({folder.file("a.sqlite")}, all_kinds(), {.make = true, .now = may_2026}).value());
  const Kind& garden = *all_kinds().find("garden");
  const std::vector<string> names = {"=cmd|' /C calc'!A0", "+1",   "-1", "@SUM(A1)", "\tx", "'quoted", "'=1+1",
                                     "a,b\"c\"\r\nd",      "año ½"};
  for (const auto& name : names)
    keep(store, entry("garden", {{"name", name}, {"zone", string("UTC")}, {"altitude", -3.5}}));
  string text;
  ASSERT_TRUE(write_csv(store, garden, {}, [&](std::string_view part) { text += part; }).ok());
  for (const char* cell : {",'=cmd", ",'+1,", ",'-1,", ",'@SUM", ",'\tx", ",'quoted,", ",''=1+1,", ",-3.5,"})
    EXPECT_NE(text.find(cell), string::npos) << cell;
  const auto back = read_csv(text, garden);
  ASSERT_TRUE(back.ok()) << told(back.refusals());
  for (std::size_t i = 0; i < names.size(); ++i) EXPECT_EQ(value((*back)[i], "name"), Value(names[i]));
}

TEST(Csv, hostile_tables_are_refused) {
  const Kind& bed = *all_kinds().find("bed");
  const auto code = [&](const string& text, const char* wanted) {
    const auto read = read_csv(text, bed);
    EXPECT_TRUE(has(read.refusals(), wanted)) << wanted << "\n" << told(read.refusals());
  };
  code(string(1'000'000, ','), "records.csv.too_many_columns");
  code("name\n\xFF\n", "records.csv.not_utf8");
  code("name\n\"open", "records.csv.quote_open");
  code("nme\nx\n", "records.csv.unknown_column");
  code("name,name\nx,y\n", "records.csv.column_twice");
  code("name,area_m2\nx\n", "records.csv.cells");
  code("name,area_m2\nx,=1+1\n", "records.csv.wrong_value");
  code("name,area_m2\nx,1e999\n", "records.csv.wrong_value");
  code("", "records.csv.empty");
}

TEST(Csv, the_same_row_without_an_id_is_the_same_entry) {
  const Kind& bed = *all_kinds().find("bed");
  const auto a = read_csv("\xEF\xBB\xBFname,garden\r\nNorth,g\r\n", bed), b = read_csv("garden,name\ng,North", bed);
  ASSERT_TRUE(a.ok() && b.ok());
  EXPECT_EQ((*a)[0].id, (*b)[0].id);
  EXPECT_NE((*a)[0].id, (*read_csv("name,garden\nSouth,g\n", bed))[0].id);
}

// --- lines
// --------------------------------------------------------------------------------------------------------------

TEST(Line, numbers_are_written_as_the_standard_shows) {
  // source: RFC 8785, appendix B (number serialization samples), from memory
  const std::pair<double, const char*> samples[] = {{0.0, "0"},
                                                    {-0.0, "0"},
                                                    {5e-324, "5e-324"},
                                                    {9007199254740992.0, "9007199254740992"},
                                                    {295147905179352830000.0, "295147905179352830000"},
                                                    {1e21, "1e+21"},
                                                    {9.999999999999997e22, "9.999999999999997e+22"},
                                                    {1e23, "1e+23"},
                                                    {0.000001, "0.000001"},
                                                    {1e-7, "1e-7"},
                                                    {333333333.33333329, "333333333.3333333"},
                                                    {1.7976931348623157e308, "1.7976931348623157e+308"},
                                                    {-4.5, "-4.5"}};
  for (const auto& [value, text] : samples) EXPECT_EQ(number_text(value), text);
}

TEST(Line, every_line_reads_back_as_the_entry_it_came_from) {
  EXPECT_TRUE(rc::check([] {
    Entry one = entry("reading", {});
    const auto& kind = *all_kinds().find("reading");
    one.recorded_at = *rc::gen::inRange<std::int64_t>(0, 4'000'000'000'000);
    for (std::size_t i = 0; i < kind.fields.size(); ++i) {
      if (*rc::gen::arbitrary<bool>()) continue;
      const Type type = kind.fields[i].type;
      if (type == Type::number) {
        const double value = *rc::gen::arbitrary<double>();
        if (std::isfinite(value)) one.values[i] = value == 0.0 ? 0.0 : value;
      } else if (type == Type::instant) {
        one.values[i] = *rc::gen::inRange<std::int64_t>(0, 4'000'000'000'000);
      } else {
        one.values[i] = *rc::gen::container<string>(rc::gen::inRange<char>(1, 127));
      }
    }
    const auto line = line_of(kind, one);
    RC_ASSERT(line.find('\n') == string::npos);
    RC_ASSERT(nlohmann::json::accept(line));
    const auto back = read_line(line, all_kinds());
    RC_ASSERT(back.ok());
    RC_ASSERT(line_of(kind, *back) == line);
    RC_ASSERT(back->values == one.values);
  }));
}

TEST(Line, utf8_is_told_from_what_is_not) {
  // source: RFC 3629, sections 3 and 4: overlong forms, surrogates and what lies past U+10FFFF are not UTF-8; from
  // memory
  for (const char* good : {"", "abc", "año", "½", "→", "\xF0\x9F\x8C\xB1", "\xF4\x8F\xBF\xBF"})
    EXPECT_TRUE(is_utf8(good)) << good;
  for (const char* bad : {"\x80", "\xC0\x80", "\xC1\xBF", "\xE0\x80\x80", "\xED\xA0\x80", "\xF0\x80\x80\x80",
                          "\xF4\x90\x80\x80", "\xF5\x80\x80\x80", "\xC3", "\xE2\x86"})
    EXPECT_FALSE(is_utf8(bad)) << bad;
  EXPECT_FALSE(is_utf8(std::string_view("\0", 1)));
}

TEST(Calendar, long_lines_are_folded_between_letters) {
  const auto folded = folded_line("SUMMARY:" + string(40, 'x') + [] {
    string s;
    for (int i = 0; i < 60; ++i) s += "ñ";
    return s;
  }());
  std::istringstream lines(folded);
  string unfolded;
  for (string line; std::getline(lines, line);) {
    EXPECT_LE(line.size() - 1, 75u);  // without the CR
    line.pop_back();
    EXPECT_TRUE(is_utf8(line));
    unfolded += unfolded.empty() ? line : line.substr(1);
  }
  EXPECT_EQ(unfolded.size(), 8 + 40 + 120u);
}

// --- versions
// ---------------------------------------------------------------------------------------------------------

Kinds first_kinds() {
  return Kinds({{"garden", {{.name = "name", .required = true}}}});
}
Kinds second_kinds() {
  auto kinds = first_kinds().all();
  kinds[0].fields.push_back({.name = "altitude", .type = Type::number, .dimension = Dimension::length, .version = 3});
  kinds.push_back(
      {.name = "bed",
       .fields = {{.name = "garden", .type = Type::reference, .refers_to = {"garden"}, .required = true, .version = 3}},
       .version = 3});
  return Kinds(std::move(kinds));
}

class VersionTest : public OnBoth {};
INSTANTIATE_TEST_SUITE_P(Engines, VersionTest, ::testing::Values(Engine::sqlite, Engine::postgresql), engine_name);

TEST_P(VersionTest, yesterdays_store_opens_today_after_a_copy_was_made) {
  const Kinds first = first_kinds(), second = second_kinds();
  const auto place = empty_place();
  const Entry garden = entry("garden", {{"name", string("Hillside garden")}}, first);
  string head;
  {
    Store store = open(place, first);
    keep(store, garden);
    head = store.head();
  }
  Store store = open(place, second);
  EXPECT_EQ(store.find(garden.id)->values, (std::vector<Value>{string("Hillside garden"), {}}));
  keep(store, entry("bed", {{"garden", garden.id}}, second));
  EXPECT_TRUE(verify(store)->faults.empty()) << told(verify(store)->faults);  // old lines are the same bytes
  EXPECT_EQ(verify(store, head)->faults.size(), 0u);
  int copies = 0;
  for (const auto& file : std::filesystem::directory_iterator(folder.path())) {
    if (file.path().string().find("-before-change-3") == string::npos) continue;
    ++copies;
    const Place again = empty_place();
    ASSERT_TRUE(restore(file.path().string(), again, first, may_2026).ok());
    EXPECT_EQ(open(again, first).head(), head);
  }
  EXPECT_EQ(copies, 1);
  EXPECT_TRUE(has(Store::open(place, first, {}).refusals(), "records.store.newer"));
}

}  // namespace
}  // namespace barm::records
