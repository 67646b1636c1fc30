// Records that earlier programs wrote open today, after a copy was made; on both engines.
#include <sqlite3.h>

#include <filesystem>
#include <fstream>
#include <sstream>

#include "records/a_store.h"
#include "records/backup.h"
#include "records/brew_page.h"
#include "records/named.h"
#include "records/schema.h"
#include "records/verify.h"

namespace barm::records {
namespace {

using std::string;

/// Copies made before a change, in the folder.
std::vector<string> copies_in(const string& folder, const string& ending) {
  std::vector<string> all;
  for (const auto& file : std::filesystem::directory_iterator(folder)) {
    const auto name = file.path().string();
    if (name.find("-before-change-2") != string::npos && name.ends_with(ending)) all.push_back(name);
  }
  return all;
}

TEST(Yesterday, a_file_of_version_1_opens_today_with_all_that_was_in_it) {
  const Folder folder;
  const auto file = folder.file("garden-record.sqlite");
  std::ifstream text(BARM_RECORDS_OF_YESTERDAY "/version-1.sql");
  std::stringstream dump;
  dump << text.rdbuf();
  ASSERT_GT(dump.str().size(), 1000u);
  sqlite3* raw = nullptr;
  ASSERT_EQ(sqlite3_open(file.c_str(), &raw), SQLITE_OK);
  ASSERT_EQ(sqlite3_exec(raw, dump.str().c_str(), nullptr, nullptr, nullptr), SQLITE_OK) << sqlite3_errmsg(raw);
  sqlite3_close(raw);

  auto opened = Store::open({file}, all_kinds(), {.now = may_2026});
  ASSERT_TRUE(opened.ok()) << told(opened.refusals());
  Store store = std::move(opened.value());
  // What `record verify` of the program that wrote it printed.
  const string head = "8278f6f1161ef4d35071e773914beb78d521255baf023a7ab112acbae39a4485";
  EXPECT_EQ(store.count(), 8);
  EXPECT_EQ(store.head(), head);
  EXPECT_TRUE(verify(store, head)->faults.empty()) << told(verify(store, head)->faults);
  const auto brew = id_named(store, {"brew"}, "May night brew");
  ASSERT_TRUE(brew.ok()) << told(brew.refusals());
  EXPECT_EQ(page_of(store, *brew)->chart.size(), 3u);
  EXPECT_EQ(store.connection().whole("SELECT max(version) FROM about"), version_of(all_kinds()));

  const auto copies = copies_in(folder.path(), ".sqlite");
  ASSERT_EQ(copies.size(), 1u);
  Connection copy({copies[0]}, false);
  EXPECT_EQ(copy.whole("SELECT max(version) FROM about"), 1);
  EXPECT_EQ(copy.whole("SELECT count(*) FROM entry"), 8);
}

class YesterdayTest : public OnBoth {
 protected:
  /// An empty record as a program with tables of version 1 left it.
  Place first_version() {
    const auto place = empty_place();
    Connection connection(place, true);
    const char* whole = GetParam() == Engine::sqlite ? "INTEGER" : "bigint";
    connection.run(string("CREATE TABLE about (version ") + whole + " PRIMARY KEY, changed_at " + whole + " NOT NULL)");
    for (const auto& statement : step_to(1, all_kinds(), GetParam())) connection.run(statement);
    connection.run("INSERT INTO about (version, changed_at) VALUES (1, 0)");
    return place;
  }
};
INSTANTIATE_TEST_SUITE_P(Engines, YesterdayTest, ::testing::Values(Engine::sqlite, Engine::postgresql), engine_name);

TEST_P(YesterdayTest, tables_of_version_1_come_forward_and_take_entries) {
  const auto place = first_version();
  Store store = open(place);
  const auto kept = store.add_all(a_season().all(), may_2026);
  ASSERT_TRUE(kept.ok()) << told(kept.refusals());
  EXPECT_TRUE(verify(store)->faults.empty());
  EXPECT_EQ(copies_in(folder.path(), GetParam() == Engine::sqlite ? ".sqlite" : ".zip").size(), 1u);
}

TEST_P(YesterdayTest, a_server_is_not_changed_without_a_folder_for_its_copy) {
  const auto place = first_version();
  const auto opened = Store::open(place, all_kinds(), {.now = may_2026});
  if (GetParam() == Engine::sqlite) {
    EXPECT_TRUE(opened.ok());  // the copy stands beside the file
    return;
  }
  EXPECT_TRUE(has(opened.refusals(), "records.store.no_backup_folder"));
  EXPECT_EQ(Connection(place, false).whole("SELECT max(version) FROM about"), 1);
}

TEST_P(YesterdayTest, nothing_is_changed_when_the_copy_cannot_be_made) {
  const auto place = first_version();
  const auto opened =
      Store::open(place, all_kinds(), {.now = may_2026, .backup_folder = folder.file("a folder that is not there")});
  EXPECT_FALSE(opened.ok());
  EXPECT_EQ(Connection(place, false).whole("SELECT max(version) FROM about"), 1);
}

TEST_P(YesterdayTest, the_copy_of_a_server_restores_to_the_same_record) {
  if (GetParam() == Engine::sqlite) return;  // of a file the copy is opened above
  const auto place = empty_place();
  string head;
  {
    Store store = open(place);
    auto entries = a_season().all();
    std::erase_if(entries, [](const Entry& each) { return all_kinds().find(each.kind)->version > 1; });
    for (auto& each : entries) {
      const Kind& kind = *all_kinds().find(each.kind);
      for (std::size_t i = 0; i < kind.fields.size(); ++i) {
        if (kind.fields[i].version > 1) each.values.at(i) = {};
      }
    }
    ASSERT_TRUE(store.add_all(entries, may_2026).ok());
    head = store.head();
    // Back to version 1: without the indexes, and as `about` stood.
    auto& connection = store.connection();
    connection.run("SET session_replication_role = replica");
    connection.run("DELETE FROM about WHERE version > 1");
    for (const char* table : {"photo", "step"}) connection.run(string("DROP TABLE ") + table);
    for (const auto& kind : all_kinds().all()) {
      for (const auto& field : kind.fields) {
        if (kind.version == 1 && field.version > 1)
          connection.run("ALTER TABLE " + kind.name + " DROP COLUMN " + field.column());
      }
    }
    connection.run("DROP INDEX entry_correction");
    connection.run("DROP INDEX brew_by_air_on");
    for (const auto& kind : all_kinds().all()) {
      if (kind.field("name") != nullptr) connection.run("DROP INDEX " + kind.name + "_by_name");
    }
  }
  EXPECT_EQ(open(place).head(), head);
  const auto copies = copies_in(folder.path(), ".zip");
  ASSERT_EQ(copies.size(), 1u);
  const auto again = empty_place();
  ASSERT_TRUE(restore(copies[0], again, all_kinds(), may_2026).ok());
  EXPECT_EQ(open(again).head(), head);
}

}  // namespace
}  // namespace barm::records
