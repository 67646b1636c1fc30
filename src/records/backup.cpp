#include "records/backup.h"

#include <cstdio>
#include <filesystem>
#include <memory>

namespace barm::records {
namespace {

namespace fs = std::filesystem;

std::string in_quotes(const std::string& text) {
  std::string quoted = "'";
  for (const char c : text) quoted += c == '\'' ? "''" : std::string(1, c);
  return quoted + "'";
}

bool begins_like_a_file_store(const std::string& file) {
  const std::unique_ptr<std::FILE, int (*)(std::FILE*)> in(std::fopen(file.c_str(), "rb"), &std::fclose);
  char head[16] = {};
  return in && std::fread(head, 1, sizeof head, in.get()) == sizeof head &&
         std::string_view(head, sizeof head) ==
             std::string_view("SQLite format 3\0", 16);  // SQLite file format, section 1.3
}

/// A database read through by its own engine; throws Failure when a page of it is damaged.
void read_through(Connection& connection) {
  const auto told = connection.rows("PRAGMA integrity_check(1)", {}, {Cell::text});
  if (told.empty() || told[0][0] != Value(std::string("ok"))) {
    const auto reason = told.empty() ? std::string() : std::get<std::string>(told[0][0]);
    throw Failure{{"records.world.damaged", "store", {{"given", connection.place().shown()}, {"reason", reason}}}};
  }
}

Failure taken(const std::string& name) {
  return {{"records.world.taken", "file", {{"given", name}}}};
}

}  // namespace

void copy_file(Connection& connection, const std::string& to) {
  if (fs::exists(to)) throw taken(to);
  const std::string part = to + ".part";
  std::error_code error;
  fs::remove(part, error);
  try {
    connection.run("VACUUM INTO " +
                   in_quotes(part));  // SQLite: one read transaction, so that writers are not kept waiting
    Connection copy({part}, false);
    read_through(copy);
  } catch (...) {
    fs::remove(part, error);
    throw;
  }
  fs::rename(part, to, error);
  if (error) throw Failure{{"records.world.not_written", "file", {{"given", to}, {"reason", error.message()}}}};
}

Answer<Archived> back_up(Store& store, const std::string& to) {
  if (store.connection().engine() == Engine::postgresql) return write_archive(store, to);
  return or_refusal<Archived>([&]() -> Answer<Archived> {
    copy_file(store.connection(), to);
    auto copy = Store::open({to}, store.kinds(), {});
    if (!copy.ok()) return Answer<Archived>::refused(copy.refusals());
    return Archived{copy.value().count(), copy.value().head()};
  });
}

Answer<Archived> restore(const std::string& from, const Place& to, const Kinds& kinds, std::int64_t now) {
  return or_refusal<Archived>([&]() -> Answer<Archived> {
    const bool is_file = to.engine() == Engine::sqlite;
    if (!fs::exists(from)) return Answer<Archived>::refused({{"records.world.absent", "from", {{"given", from}}}});
    if (is_file && fs::exists(to.text)) throw taken(to.text);
    if (begins_like_a_file_store(from)) {
      if (!is_file) return Answer<Archived>::refused({{"records.restore.file_to_server", "from", {{"given", from}}}});
      Connection copy({from}, false);
      copy_file(copy, to.text);
      auto store = Store::open(to, kinds, {.now = now});
      if (!store.ok()) return Answer<Archived>::refused(store.refusals());
      return Archived{store.value().count(), store.value().head()};
    }
    auto store = Store::open(to, kinds, {.make = true, .now = now});
    if (!store.ok()) return Answer<Archived>::refused(store.refusals());
    auto done = read_archive(from, store.value());
    if (!done.ok() && is_file) {  // nothing stays of what could not be restored
      const std::string name = to.text;
      { const Store closed = std::move(store.value()); }
      std::error_code error;
      for (const char* ending : {"", "-wal", "-shm"}) fs::remove(name + ending, error);
    }
    return done;
  });
}

}  // namespace barm::records
