// One connection to SQLite or PostgreSQL. SOCI stands behind this door only; the statements are the same for both
// engines.
#pragma once

#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "quantity/answer.h"
#include "records/entry.h"

namespace barm::records {

enum class Engine : std::uint8_t { sqlite, postgresql };

/// Where a store is: a file, or a connection string of PostgreSQL ("postgresql://host/database" or "host=...
/// dbname=...").
struct Place {
  std::string text{};
  Engine engine() const;
  /// As it may be shown: without the password.
  std::string shown() const;
};

/// The device, the file or the server failed. Thrown inside this room; the functions of the store turn it into a
/// refusal.
struct Failure {
  Remark remark;
};

enum class Cell : std::uint8_t { whole, number, text };  // what a column of an answer holds
using Row = std::vector<Value>;

class Connection {
 public:
  /// Opens the file or reaches the server; throws Failure. A file is made when it is not there and `make` is set.
  Connection(const Place& place, bool make);
  ~Connection();
  Connection(Connection&&) noexcept;
  Connection& operator=(Connection&&) = delete;

  Engine engine() const;
  const Place& place() const;

  /// Runs one statement. Parameters are written :p0, :p1 ... All throw Failure.
  void run(const std::string& statement, const Row& parameters = {});
  /// The same with the types of the parameters said, for statements that run often with values left out here and there.
  void run(const std::string& statement, const Row& parameters, const std::vector<Cell>& types);
  /// Runs a query and gives its rows.
  std::vector<Row> rows(const std::string& query, const Row& parameters, const std::vector<Cell>& columns);
  /// One whole number; `otherwise` when there is no row or it is null.
  std::int64_t whole(const std::string& query, const Row& parameters = {}, std::int64_t otherwise = 0);

  /// Statements that hold for one engine only.
  void run_on(Engine engine, const std::string& statement);

  /// Does `work` as the only writer, all of it or nothing.
  void write(const std::function<void()>& work);
  /// The same for a change of tables, before there is anything to take turns by.
  void change_tables(const std::function<void()>& work);
  /// Does `work` on the store as it stands now, whatever is written meanwhile.
  void read(const std::function<void()>& work);
  /// The same for questions that touch few rows of large tables: the server, which may think them many before it has
  /// counted, is kept from reading whole tables.
  void read_few(const std::function<void()>& work);
  /// After the server went away: reaches it again.
  void reconnect();
  /// Forgets prepared statements, as after a change of tables.
  void forget();

 private:
  struct Parts;
  std::unique_ptr<Parts> parts_;
};

}  // namespace barm::records
