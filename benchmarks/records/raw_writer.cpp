#include "records/raw_writer.h"

#include <fmt/format.h>
#include <libpq-fe.h>
#include <sqlite3.h>

#include <stdexcept>

namespace barm::bench {

using records::Row;
using records::Value;

struct RawWriter::Engine {
  virtual ~Engine() = default;
  virtual void prepare(const std::vector<Batch>&) {}
  virtual void write(const std::vector<Batch>& batches) = 0;
};

namespace {

std::string head_of(const std::string& table, const std::vector<std::string>& columns) {
  std::string head = fmt::format("INSERT INTO \"{}\" (", table);
  for (std::size_t i = 0; i < columns.size(); ++i) head += fmt::format("{}\"{}\"", i == 0 ? "" : ", ", columns[i]);
  return head + ") VALUES ";
}

}  // namespace

struct RawWriter::Lite : Engine {
  sqlite3* file = nullptr;
  std::map<std::string, sqlite3_stmt*> statements{};

  explicit Lite(const std::string& name) {
    check(sqlite3_open(name.c_str(), &file));
    for (const char* how : {"PRAGMA foreign_keys = ON", "PRAGMA synchronous = FULL", "PRAGMA cache_size = -65536",
                            "PRAGMA trusted_schema = OFF", "PRAGMA cell_size_check = ON"})
      run(how);
  }
  ~Lite() override {
    for (auto& [table, statement] : statements) sqlite3_finalize(statement);
    sqlite3_close(file);
  }
  void check(int result) const {
    if (result != SQLITE_OK && result != SQLITE_DONE) throw std::runtime_error(sqlite3_errmsg(file));
  }
  void run(const char* statement) const { check(sqlite3_exec(file, statement, nullptr, nullptr, nullptr)); }

  sqlite3_stmt* statement_of(const Batch& batch) {
    sqlite3_stmt*& statement = statements[batch.table];
    if (statement != nullptr) return statement;
    std::string text = head_of(batch.table, batch.columns) + "(";
    for (std::size_t i = 0; i < batch.columns.size(); ++i) text += i == 0 ? "?" : ", ?";
    check(sqlite3_prepare_v2(file, (text + ")").c_str(), -1, &statement, nullptr));
    return statement;
  }

  static void bind(sqlite3_stmt* statement, int at, const Value& value) {
    if (const auto* whole = std::get_if<std::int64_t>(&value)) {
      sqlite3_bind_int64(statement, at, *whole);
    } else if (const auto* number = std::get_if<double>(&value)) {
      sqlite3_bind_double(statement, at, *number);
    } else if (const auto* text = std::get_if<std::string>(&value)) {
      sqlite3_bind_text(statement, at, text->data(), static_cast<int>(text->size()), SQLITE_STATIC);
    } else {
      sqlite3_bind_null(statement, at);
    }
  }

  void write(const std::vector<Batch>& batches) override {
    run("BEGIN IMMEDIATE");
    for (const auto& batch : batches) {
      sqlite3_stmt* statement = statement_of(batch);
      for (const auto& row : batch.rows) {
        for (std::size_t i = 0; i < row.size(); ++i) bind(statement, static_cast<int>(i) + 1, row[i]);
        check(sqlite3_step(statement));
        sqlite3_reset(statement);
      }
    }
    run("COMMIT");
  }
};

struct RawWriter::Server : Engine {
  static constexpr std::size_t together = 64;  // rows of a statement
  PGconn* link = nullptr;
  std::map<std::string, std::string> statements{};
  struct Call {
    std::string statement{};
    std::vector<std::string> texts{};
    std::vector<bool> given{};
  };
  std::vector<Call> calls{};  // every parameter as the server takes it, written out beforehand

  explicit Server(const std::string& address) : link(PQconnectdb(address.c_str())) {
    if (PQstatus(link) != CONNECTION_OK) throw std::runtime_error(PQerrorMessage(link));
    run("SET client_min_messages = warning");
  }
  ~Server() override { PQfinish(link); }
  void check(PGresult* result) const {
    const auto status = PQresultStatus(result);
    PQclear(result);
    if (status != PGRES_COMMAND_OK) throw std::runtime_error(PQerrorMessage(link));
  }
  void run(const char* statement) const { check(PQexec(link, statement)); }

  std::string statement_of(const Batch& batch, std::size_t rows) {
    std::string& name = statements[fmt::format("{} {}", batch.table, rows)];
    if (!name.empty()) return name;
    name = fmt::format("raw{}", statements.size());
    std::string text = head_of(batch.table, batch.columns);
    int parameter = 0;
    for (std::size_t row = 0; row < rows; ++row) {
      text += row == 0 ? "(" : ", (";
      for (std::size_t i = 0; i < batch.columns.size(); ++i)
        text += fmt::format("{}${}", i == 0 ? "" : ", ", ++parameter);
      text += ")";
    }
    check(PQprepare(link, name.c_str(), text.c_str(), 0, nullptr));
    return name;
  }

  static std::string text_of(const Value& value) {
    if (const auto* whole = std::get_if<std::int64_t>(&value)) return std::to_string(*whole);
    if (const auto* number = std::get_if<double>(&value)) return fmt::format("{}", *number);
    if (const auto* text = std::get_if<std::string>(&value)) return *text;
    return {};
  }

  void prepare(const std::vector<Batch>& batches) override {
    calls.clear();
    for (const auto& batch : batches) {
      for (std::size_t at = 0; at < batch.rows.size();) {
        const std::size_t rows = batch.rows.size() - at >= together ? together : 1;
        Call call{.statement = statement_of(batch, rows)};
        for (std::size_t end = at + rows; at < end; ++at) {
          for (const auto& value : batch.rows[at]) {
            call.texts.push_back(text_of(value));
            call.given.push_back(records::is_given(value));
          }
        }
        calls.push_back(std::move(call));
      }
    }
  }

  void write(const std::vector<Batch>&) override {
    run("BEGIN");
    std::vector<const char*> values;
    for (const auto& call : calls) {
      values.clear();
      for (std::size_t i = 0; i < call.texts.size(); ++i)
        values.push_back(call.given[i] ? call.texts[i].c_str() : nullptr);
      check(PQexecPrepared(link, call.statement.c_str(), static_cast<int>(values.size()), values.data(), nullptr,
                           nullptr, 0));
    }
    run("COMMIT");
  }
};

RawWriter::RawWriter(const records::Place& place) {
  if (place.engine() == records::Engine::sqlite) {
    engine_ = std::make_unique<Lite>(place.text);
  } else {
    engine_ = std::make_unique<Server>(place.text);
  }
}
RawWriter::~RawWriter() = default;

void RawWriter::prepare(const std::vector<records::Entry>& entries) {
  batches_.clear();
  batches_.push_back(
      {"entry",
       {"number", "id", "kind", "thing", "replaces", "withdraws", "reason", "recorded_at", "recorded_by"},
       {}});
  std::map<std::string, Batch> tables;
  for (const auto& entry : entries) {
    const records::Kind& kind = *records::all_kinds().find(entry.kind);
    const std::int64_t number = ++last_;
    const auto replaced =
        entry.replaces.empty() ? std::pair<std::int64_t, std::int64_t>{} : numbers_.at(entry.replaces);
    const std::int64_t thing = entry.replaces.empty() ? number : replaced.second;
    numbers_[entry.id] = {number, thing};
    batches_[0].rows.push_back({number,
                                entry.id,
                                entry.kind,
                                thing,
                                {},
                                std::int64_t{entry.withdraws},
                                {},
                                std::int64_t{1'777'593'600'000},
                                entry.recorded_by});
    if (!entry.replaces.empty()) batches_[0].rows.back()[4] = replaced.first;
    if (!entry.reason.empty()) batches_[0].rows.back()[6] = entry.reason;
    if (entry.withdraws) continue;
    Batch& batch = tables[kind.name];
    if (batch.columns.empty()) {
      batch.table = kind.name;
      batch.columns.push_back("number");
      for (const auto& field : kind.fields) batch.columns.push_back(field.column());
    }
    Row row = {number};
    for (std::size_t i = 0; i < kind.fields.size(); ++i) {
      const auto& value = entry.values[i];
      const bool names = kind.fields[i].type == records::Type::reference && records::is_given(value);
      row.push_back(names ? Value(numbers_.at(std::get<std::string>(value)).second) : value);
    }
    batch.rows.push_back(std::move(row));
  }
  for (const auto& kind : records::all_kinds().all()) {  // a kind names only kinds before it
    if (const auto batch = tables.find(kind.name); batch != tables.end()) batches_.push_back(std::move(batch->second));
  }
  engine_->prepare(batches_);
}

void RawWriter::write() {
  engine_->write(batches_);
}

}  // namespace barm::bench
