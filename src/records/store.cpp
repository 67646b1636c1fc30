#include "records/store.h"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>

#include "records/archive.h"
#include "records/backup.h"
#include "records/chain.h"
#include "records/reading_rows.h"
#include "records/schema.h"

namespace barm::records {
namespace {

/// 0: nothing there yet. Refuses tables that are not ours.
int version_of(Connection& connection) {
  const bool sqlite = connection.engine() == Engine::sqlite;
  const std::string tables = sqlite ? "SELECT count(*) FROM sqlite_master"
                                    : "SELECT count(*) FROM pg_tables WHERE schemaname = current_schema()";
  const std::string ours = sqlite ? tables + " WHERE type = 'table' AND name IN ('about', 'entry', 'seal')"
                                  : tables + " AND tablename IN ('about', 'entry', 'seal')";
  if (connection.whole(ours) == 3) return static_cast<int>(connection.whole("SELECT max(version) FROM about"));
  if (connection.whole(tables) == 0) return 0;
  throw Failure{{"records.store.not_a_record", "store", {{"given", connection.place().shown()}}}};
}

std::string copy_name(const Place& place, const std::string& folder, int version, const char* ending) {
  namespace fs = std::filesystem;
  const fs::path file = place.engine() == Engine::sqlite ? fs::path(place.text) : fs::path("record");
  const fs::path beside = folder.empty() ? file.parent_path() : fs::path(folder);
  const std::string stem = fmt::format("{}-before-change-{}", file.stem().string(), version + 1);
  fs::path name = beside / (stem + ending);
  for (int i = 2; fs::exists(name); ++i) name = beside / fmt::format("{}-{}{}", stem, i, ending);
  return name.string();
}

Failure as_failure(const Remarks& why) {
  return {why.front()};
}

}  // namespace

void Store::bring_up_to_date(const Opening& how) {
  const int wanted = version_of(*kinds_);
  const int found = version_of(connection_);
  if (found > wanted) {
    throw Failure{
        {"records.store.newer",
         "store",
         {{"given", connection_.place().shown()}, {"found", std::to_string(found)}, {"most", std::to_string(wanted)}}}};
  }
  if (found == wanted) return;
  if (found == 0 && !how.make)
    throw Failure{{"records.world.absent", "store", {{"given", connection_.place().shown()}}}};
  if (found > 0 && connection_.engine() == Engine::sqlite) {
    copy_file(connection_, copy_name(connection_.place(), how.backup_folder, found, ".sqlite"));
  } else if (found > 0) {
    if (how.backup_folder.empty()) throw Failure{{"records.store.no_backup_folder", "store", {}}};
    const Kinds before = kinds_at(found, *kinds_);
    Store old(Connection(connection_.place(), false), before);
    const auto done = write_archive(old, copy_name(connection_.place(), how.backup_folder, found, ".zip"));
    if (!done.ok()) throw as_failure(done.refusals());
  }
  connection_.run_on(Engine::sqlite, "PRAGMA journal_mode = WAL");
  const auto change = [&] {
    connection_.run(
        connection_.engine() == Engine::sqlite
            ? "CREATE TABLE IF NOT EXISTS about (version INTEGER PRIMARY KEY, changed_at INTEGER NOT NULL) STRICT"
            : "CREATE TABLE IF NOT EXISTS about (version bigint PRIMARY KEY, changed_at bigint NOT NULL)");
    // Another process may have come first while this one waited.
    for (int version = static_cast<int>(connection_.whole("SELECT max(version) FROM about")) + 1; version <= wanted;
         ++version) {
      for (const auto& statement : step_to(version, *kinds_, connection_.engine())) connection_.run(statement);
      connection_.run("INSERT INTO about (version, changed_at) VALUES (:p0, :p1)", {std::int64_t{version}, how.now});
    }
  };
  connection_.change_tables(change);
  connection_.forget();
}

Answer<Store> Store::open(const Place& place, const Kinds& kinds, const Opening& how) {
  return or_refusal<Store>([&]() -> Answer<Store> {
    Store store(Connection(place, how.make), kinds);
    store.bring_up_to_date(how);
    return Answer<Store>(std::move(store));
  });
}

Answer<Entry> Store::find(const std::string& id) {
  return or_refusal<Entry>([&]() -> Answer<Entry> {
    const auto number = connection_.whole("SELECT number FROM entry WHERE id = :p0", {id});
    if (number == 0) return Answer<Entry>::refused({{"records.entry.unknown_id", "id", {{"given", id.substr(0, 60)}}}});
    return read(number, number).front();
  });
}

Answer<std::vector<Entry>> Store::list(const Kind& kind, const Filter& filter) {
  using All = std::vector<Entry>;
  return or_refusal<All>([&]() -> Answer<All> {
    Row parameters = {filter.known_at, filter.after, filter.most};
    std::string where =
        " WHERE k.number > :p1 AND " + (filter.history ? "e.recorded_at <= :p0" : counts_at("e", ":p0"));
    const auto add = [&](const std::string& condition, Value value) {
      where += " AND " + condition + " :p" + std::to_string(parameters.size());
      parameters.push_back(std::move(value));
    };
    if (!filter.field.empty()) {
      const Field* field = kind.field(filter.field);
      if (field == nullptr || field->type != Type::reference)
        return Answer<All>::refused(
            {{"records.list.no_reference", "field", {{"given", filter.field}, {"kind", kind.name}}}});
      const auto thing = connection_.whole("SELECT thing FROM entry WHERE id = :p0", {filter.names});
      if (thing == 0)
        return Answer<All>::refused({{"records.entry.unknown_id", "id", {{"given", filter.names.substr(0, 60)}}}});
      add("k." + quoted(field->name) + " =", thing);
    }
    if (filter.from || filter.to) {
      if (kind.field("at") == nullptr)
        return Answer<All>::refused({{"records.list.no_time", "kind", {{"kind", kind.name}}}});
      if (filter.from) add("k.\"at\" >=", *filter.from);
      if (filter.to) add("k.\"at\" <", *filter.to);
    }
    All all;
    for (auto& row :
         connection_.rows(select_of(kind) + where + " ORDER BY k.number LIMIT :p2", parameters, columns_of(kind)))
      all.push_back(entry_of(kind, std::move(row)));
    return all;
  });
}

std::vector<Entry> Store::read(std::int64_t first, std::int64_t last) {
  return read_where("BETWEEN :p0 AND :p1", {first, last});
}

std::vector<Entry> Store::read_each(std::vector<std::int64_t> numbers) {
  std::sort(numbers.begin(), numbers.end());
  numbers.erase(std::unique(numbers.begin(), numbers.end()), numbers.end());
  std::vector<Entry> all;
  for (std::size_t at = 0; at < numbers.size(); at += list_most) {
    const auto [condition, parameters] =
        one_of(Row(numbers.begin() + static_cast<std::ptrdiff_t>(at),
                   numbers.begin() + static_cast<std::ptrdiff_t>(std::min(at + list_most, numbers.size()))));
    auto some = read_where(condition, parameters);
    all.insert(all.end(), std::make_move_iterator(some.begin()), std::make_move_iterator(some.end()));
  }
  return all;
}

std::vector<Entry> Store::read_where(const std::string& condition, const Row& parameters) {
  std::vector<Entry> all;
  const auto found =
      connection_.rows("SELECT DISTINCT kind FROM entry WHERE number " + condition, parameters, {Cell::text});
  for (const auto& name : found) {
    const Kind* kind = kinds_->find(std::get<std::string>(name[0]));
    if (kind == nullptr) continue;  // a missing entry is told by whoever counts
    for (auto& row : connection_.rows(select_of(*kind) + " WHERE k.number " + condition, parameters, columns_of(*kind)))
      all.push_back(entry_of(*kind, std::move(row)));
  }
  // A withdrawal stands in the ledger only.
  const auto withdrawals = connection_.rows(
      "SELECT e.number, e.thing, e.id, e.recorded_at, e.recorded_by, e.reason, replaced.id, e.kind FROM entry e "
      "LEFT JOIN entry replaced ON replaced.number = e.replaces WHERE e.withdraws = 1 AND e.number " +
          condition,
      parameters, {Cell::whole, Cell::whole, Cell::text, Cell::whole, Cell::text, Cell::text, Cell::text, Cell::text});
  for (auto row : withdrawals) {
    Kind bare{.name = std::get<std::string>(row.back())};
    row.pop_back();
    all.push_back(entry_of(bare, std::move(row)));
    all.back().withdraws = true;
  }
  std::sort(all.begin(), all.end(), [](const Entry& a, const Entry& b) { return a.number < b.number; });
  return all;
}

std::vector<Seal> Store::seals(std::int64_t first, std::int64_t last) {
  std::vector<Seal> all;
  for (auto& row :
       connection_.rows("SELECT last_entry, sealed_at, hash FROM seal WHERE number BETWEEN :p0 AND :p1 ORDER BY number",
                        {first, last}, {Cell::whole, Cell::whole, Cell::text})) {
    all.push_back(
        {std::get<std::int64_t>(row[0]), std::get<std::int64_t>(row[1]), std::move(std::get<std::string>(row[2]))});
  }
  return all;
}

std::int64_t Store::count() {
  return connection_.whole("SELECT max(number) FROM entry");
}

std::string Store::head() {
  const auto last = connection_.rows("SELECT hash FROM seal ORDER BY number DESC LIMIT 1", {}, {Cell::text});
  return last.empty() ? chain_start() : std::get<std::string>(last[0][0]);
}

}  // namespace barm::records
