#include "records/connection.h"

// The order matters: SOCI's SQLite header brings sqlite3.h inside a namespace of its own.
#include <soci/soci.h>
#include <soci/postgresql/soci-postgresql.h>
#include <soci/sqlite3/soci-sqlite3.h>

#include <libpq-fe.h>

#include <deque>
#include <filesystem>
#include <map>
#include <regex>

namespace barm::records {
namespace {

constexpr std::size_t statements_most = 200;  // kept prepared
constexpr int busy_ms = 10'000;               // how long a writer waits for another

/// One parameter or column: SOCI keeps its address for as long as the statement lives.
struct Slot {
  long long whole = 0;
  double number = 0.0;
  std::string text{};
  soci::indicator is_null = soci::i_null;
};

const char* code_of_sqlite(int result) {
  switch (result & 0xFF) {  // the low byte is the primary code
    case 5:                 // SQLITE_BUSY
    case 6:                 // SQLITE_LOCKED
      return "records.world.locked";
    case 8:  // SQLITE_READONLY
      return "records.world.read_only";
    case 13:  // SQLITE_FULL
      return "records.world.disk_full";
    case 11:  // SQLITE_CORRUPT
      return "records.world.damaged";
    case 26:  // SQLITE_NOTADB
      return "records.store.not_a_record";
    case 14:  // SQLITE_CANTOPEN
      return "records.world.cannot_open";
    default:
      return "records.world.failed";
  }
}

const char* code_of_state(const std::string& state) {  // PostgreSQL manual, appendix A: error codes
  if (state.starts_with("08") || state.starts_with("57P")) return "records.world.connection_lost";
  if (state == "53100") return "records.world.disk_full";
  if (state == "55P03" || state.starts_with("40")) return "records.world.locked";
  if (state == "25006" || state == "42501") return "records.world.read_only";
  return "records.world.failed";
}

Failure failure(const Place& place, const soci::soci_error& error) {
  const char* code = "records.world.failed";
  if (const auto* lite = dynamic_cast<const soci::sqlite3_soci_error*>(&error)) {
    code = code_of_sqlite(lite->result());
  } else if (const auto* server = dynamic_cast<const soci::postgresql_soci_error*>(&error)) {
    code = code_of_state(server->sqlstate());
  }
  std::string reason = error.get_error_message();
  // A connection that broke in the middle of a statement has no state of its own.
  if (std::string_view(code) == "records.world.failed" && place.engine() == Engine::postgresql &&
      (reason.find("server closed the connection") != std::string::npos ||
       reason.find("no connection to the server") != std::string::npos ||
       reason.find("onnection to server") != std::string::npos ||
       reason.find("onnection refused") != std::string::npos ||
       reason.find("terminating connection") != std::string::npos)) {
    code = "records.world.connection_lost";
  }
  // The engines also tell a full disk and a failing device as plain text of an I/O error.
  if (reason.find("disk I/O error") != std::string::npos) code = "records.world.disk_full";
  // The library puts the name of its own function before the engine's words.
  if (const auto colon = reason.find(": "); reason.starts_with("sqlite3_") && colon != std::string::npos)
    reason.erase(0, colon + 2);
  while (!reason.empty() && (reason.back() == '\n' || reason.back() == '.')) reason.pop_back();
  return {{code, "store", {{"given", place.shown()}, {"reason", reason}}}};
}

/// SOCI takes the string apart at its '=' signs and knows no addresses of the form postgresql://; libpq reads both.
std::string in_words(const Place& place) {
  char* error = nullptr;
  const std::unique_ptr<PQconninfoOption, void (*)(PQconninfoOption*)> options(
      PQconninfoParse(place.text.c_str(), &error), &PQconninfoFree);
  const std::string reason = error == nullptr ? "" : error;
  PQfreemem(error);
  if (!options) throw Failure{{"records.world.cannot_open", "store", {{"given", place.shown()}, {"reason", reason}}}};
  std::string words;
  for (const auto* option = options.get(); option->keyword != nullptr; ++option) {
    if (option->val == nullptr) continue;
    words += std::string(words.empty() ? "" : " ") + option->keyword + "='";
    for (const char c : std::string_view(option->val))
      words += c == '\'' || c == '\\' ? std::string("\\") + c : std::string(1, c);
    words += "'";
  }
  return words;
}

}  // namespace

Engine Place::engine() const {
  const bool server =
      text.starts_with("postgresql://") || text.starts_with("postgres://") || text.find("dbname=") != std::string::npos;
  return server ? Engine::postgresql : Engine::sqlite;
}

std::string Place::shown() const {
  static const std::regex in_url("(://[^:/@]*):[^@/]*@"), in_words("password=('[^']*'|\\S*)");
  if (engine() == Engine::sqlite) return text;
  return std::regex_replace(std::regex_replace(text, in_url, "$1:***@"), in_words, "password=***");
}

struct Connection::Parts {
  Place place;
  soci::session session{};

  struct Prepared {
    std::unique_ptr<soci::statement> statement{};
    std::deque<Slot> parameters{}, columns{};
  };
  std::map<std::string, std::unique_ptr<Prepared>> prepared{};

  void fill(Prepared& one, const Row& parameters) {
    for (std::size_t i = 0; i < parameters.size(); ++i) {
      Slot& slot = one.parameters[i];
      slot.is_null = is_given(parameters[i]) ? soci::i_ok : soci::i_null;
      if (const auto* whole = std::get_if<std::int64_t>(&parameters[i])) slot.whole = *whole;
      if (const auto* number = std::get_if<double>(&parameters[i])) slot.number = *number;
      if (const auto* text = std::get_if<std::string>(&parameters[i])) slot.text = *text;
    }
  }

  static std::vector<Cell> types_of(const Row& parameters) {
    std::vector<Cell> types;
    for (const auto& value : parameters) {
      const bool whole = std::holds_alternative<std::int64_t>(value), number = std::holds_alternative<double>(value);
      types.push_back(whole ? Cell::whole : number ? Cell::number : Cell::text);
    }
    return types;
  }

  /// A statement is prepared anew for parameters of other types: each has its own place in SOCI.
  Prepared& prepare(const std::string& text, const Row& parameters, const std::vector<Cell>& types,
                    const std::vector<Cell>& columns) {
    std::string key = text + '\n';
    for (const auto type : types) key += static_cast<char>('0' + static_cast<int>(type));
    if (const auto at = prepared.find(key); at != prepared.end()) return fill(*at->second, parameters), *at->second;
    if (prepared.size() >= statements_most) prepared.clear();
    auto one = std::make_unique<Prepared>();
    one->statement = std::make_unique<soci::statement>(session);
    one->parameters.resize(parameters.size());
    one->columns.resize(columns.size());
    auto& statement = *one->statement;
    for (std::size_t i = 0; i < columns.size(); ++i) {
      Slot& slot = one->columns[i];
      if (columns[i] == Cell::whole) statement.exchange(soci::into(slot.whole, slot.is_null));
      if (columns[i] == Cell::number) statement.exchange(soci::into(slot.number, slot.is_null));
      if (columns[i] == Cell::text) statement.exchange(soci::into(slot.text, slot.is_null));
    }
    for (std::size_t i = 0; i < parameters.size(); ++i) {
      Slot& slot = one->parameters[i];
      const std::string name = "p" + std::to_string(i);
      if (types[i] == Cell::whole) {
        statement.exchange(soci::use(slot.whole, slot.is_null, name));
      } else if (types[i] == Cell::number) {
        statement.exchange(soci::use(slot.number, slot.is_null, name));
      } else {
        statement.exchange(soci::use(slot.text, slot.is_null, name));
      }
    }
    fill(*one, parameters);
    statement.alloc();
    statement.prepare(text);
    statement.define_and_bind();
    return *(prepared[key] = std::move(one));
  }

  Row row(const Prepared& one, const std::vector<Cell>& columns) const {
    Row row(columns.size());
    for (std::size_t i = 0; i < columns.size(); ++i) {
      const Slot& slot = one.columns[i];
      if (slot.is_null == soci::i_null) continue;
      if (columns[i] == Cell::whole) row[i] = std::int64_t{slot.whole};
      if (columns[i] == Cell::number) row[i] = slot.number;
      if (columns[i] == Cell::text) row[i] = slot.text;
    }
    return row;
  }

  bool is_reached = false;

  template <class Work>
  auto guarded(Work work) {
    try {
      if (!is_reached) reach();
      is_reached = true;
      return work();
    } catch (const soci::soci_error& error) {
      const auto told = failure(place, error);
      prepared.clear();  // a statement left half read would hold the store open
      if (told.remark.code == "records.world.connection_lost") lose();
      throw told;
    }
  }

  /// The server is reached anew when it is asked next.
  void lose() {
    is_reached = false;
    prepared.clear();
    try {
      session.close();
    } catch (const soci::soci_error&) {
    }
  }

  /// After a failure nothing of it may stay behind; that the rollback fails as well changes nothing.
  void roll_back() {
    if (!is_reached) return;
    try {
      session << "ROLLBACK";
    } catch (const soci::soci_error&) {
    }
  }

  void transact(const char* begin, const std::function<void()>& work) {
    guarded([&] { session << begin; });
    try {
      work();
      guarded([&] { session << "COMMIT"; });
    } catch (...) {
      prepared.clear();
      roll_back();
      throw;
    }
  }

  void reach() {
    if (place.engine() == Engine::postgresql) {
      session.open(soci::postgresql, in_words(place));
      session << "SET client_min_messages = warning";
      session << "SET synchronous_commit = on";
      session << "SET jit = off";  // every question here is short
      return;
    }
    // SOCI reads its own words out of the string; a name in quotes is taken whole.
    session.open(soci::sqlite3, "dbname=\"" + place.text + "\"");
    session << "PRAGMA busy_timeout = " + std::to_string(busy_ms);
    session << "PRAGMA foreign_keys = ON";
    session << "PRAGMA trusted_schema = OFF";
    session << "PRAGMA cell_size_check = ON";
    session << "PRAGMA synchronous = FULL";
    session << "PRAGMA cache_size = -65536";  // KiB
  }
};

Connection::Connection(const Place& place, bool make) : parts_(new Parts{.place = place}) {
  if (place.engine() == Engine::sqlite) {
    std::error_code none;
    const auto refuse = [&](const char* code) { throw Failure{{code, "store", {{"given", place.shown()}}}}; };
    if (place.text.find('"') != std::string::npos) refuse("records.world.name_with_quote");
    if (std::filesystem::is_directory(place.text, none)) refuse("records.world.folder");
    if (!make && !std::filesystem::exists(place.text, none)) refuse("records.world.absent");
  }
  parts_->guarded([] {});
}

Connection::~Connection() {
  if (parts_) parts_->prepared.clear();
}
Connection::Connection(Connection&&) noexcept = default;

Engine Connection::engine() const {
  return parts_->place.engine();
}
const Place& Connection::place() const {
  return parts_->place;
}

void Connection::run(const std::string& statement, const Row& parameters) {
  parts_->guarded([&] {
    if (parameters.empty()) {
      parts_->session << statement;
    } else {
      parts_->prepare(statement, parameters, Parts::types_of(parameters), {}).statement->execute(true);
    }
  });
}

void Connection::run(const std::string& statement, const Row& parameters, const std::vector<Cell>& types) {
  parts_->guarded([&] { parts_->prepare(statement, parameters, types, {}).statement->execute(true); });
}

void Connection::run_on(Engine engine, const std::string& statement) {
  if (this->engine() == engine) run(statement);
}

std::vector<Row> Connection::rows(const std::string& query, const Row& parameters, const std::vector<Cell>& columns) {
  return parts_->guarded([&] {
    auto& one = parts_->prepare(query, parameters, Parts::types_of(parameters), columns);
    std::vector<Row> all;
    one.statement->execute();
    while (one.statement->fetch()) all.push_back(parts_->row(one, columns));
    return all;
  });
}

std::int64_t Connection::whole(const std::string& query, const Row& parameters, std::int64_t otherwise) {
  const auto all = rows(query, parameters, {Cell::whole});
  return all.empty() || !is_given(all[0][0]) ? otherwise : std::get<std::int64_t>(all[0][0]);
}

void Connection::write(const std::function<void()>& work) {
  if (engine() == Engine::sqlite) return parts_->transact("BEGIN IMMEDIATE", work);
  parts_->transact("BEGIN", [&] {
    // Writers take turns, since each entry has a number and each seal rests on the one before; readers are not kept
    // waiting.
    run("LOCK TABLE seal IN SHARE ROW EXCLUSIVE MODE");
    work();
  });
}

void Connection::change_tables(const std::function<void()>& work) {
  if (engine() == Engine::sqlite) return parts_->transact("BEGIN IMMEDIATE", work);
  parts_->transact("BEGIN", [&] {
    rows("SELECT 1 FROM pg_advisory_xact_lock(1651467885)", {}, {Cell::whole});  // "barm" in four bytes
    work();
  });
}

void Connection::read(const std::function<void()>& work) {
  parts_->transact(engine() == Engine::sqlite ? "BEGIN" : "BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY", work);
}

void Connection::read_few(const std::function<void()>& work) {
  read([&] {
    if (engine() == Engine::postgresql)
      rows(
          "SELECT set_config('enable_seqscan', 'off', true), set_config('enable_hashjoin', 'off', true), "
          "set_config('enable_mergejoin', 'off', true)",
          {}, {Cell::text, Cell::text, Cell::text});
    work();
  });
}

void Connection::reconnect() {
  parts_->lose();
  parts_->guarded([] {});
}

void Connection::forget() {
  parts_->prepared.clear();
}

}  // namespace barm::records
