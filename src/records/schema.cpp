#include "records/schema.h"

#include <fmt/format.h>

#include <algorithm>

namespace barm::records {
namespace {

const char* whole(Engine engine) {
  return engine == Engine::sqlite ? "INTEGER" : "bigint";
}
const char* strict(Engine engine) {
  return engine == Engine::sqlite ? " STRICT" : "";
}

std::string type_of(const Field& field, Engine engine) {
  switch (field.type) {
    case Type::number:
      return engine == Engine::sqlite ? "REAL" : "double precision";
    case Type::flag:
    case Type::instant:
    case Type::reference:
      return whole(engine);
    default:
      return "TEXT";
  }
}

/// Bounds and choices are held by `faults_of`: a table cannot widen them later without being written anew.
std::string column(const Field& field, Engine engine) {
  const std::string name = quoted(field.column());
  std::string text = name + " " + type_of(field, engine);
  if (field.required) text += " NOT NULL";
  if (field.type == Type::reference)
    text += " REFERENCES " + quoted(field.refers_to.size() == 1 ? field.refers_to[0] : "entry") + " (number)";
  if (field.type == Type::flag) text += fmt::format(" CHECK ({} IN (0, 1))", name);
  return text;
}

/// Entries that name another are looked for by it, those with a time in the order of time.
std::string index_of(const Kind& kind, const Field& field) {
  const std::string when = kind.field("at") != nullptr ? ", \"at\"" : "";
  return fmt::format("CREATE INDEX \"{0}_by_{1}\" ON \"{0}\" (\"{1}\"{2}){3}", kind.name, field.name, when,
                     field.required ? "" : fmt::format(" WHERE \"{}\" IS NOT NULL", field.name));
}

void forbid_changes(const std::string& table, Engine engine, std::vector<std::string>& all) {
  for (const char* what : {"UPDATE", "DELETE"}) {
    if (engine == Engine::sqlite) {
      all.push_back(
          fmt::format("CREATE TRIGGER \"{0}_no_{1}\" BEFORE {1} ON \"{0}\" BEGIN "
                      "SELECT RAISE(ABORT, 'entries are added, never changed'); END",
                      table, what));
    } else {
      all.push_back(
          fmt::format("CREATE TRIGGER \"{0}_no_{1}\" BEFORE {1} ON \"{0}\" "
                      "FOR EACH STATEMENT EXECUTE FUNCTION barm_no_change()",
                      table, what));
    }
  }
}

void ledger(Engine engine, std::vector<std::string>& all) {
  const auto table = [&](const char* name, const std::string& columns) {
    all.push_back(fmt::format("CREATE TABLE {} ({}){}", name, columns, strict(engine)));
  };
  if (engine == Engine::postgresql)
    all.push_back(
        "CREATE FUNCTION barm_no_change() RETURNS trigger LANGUAGE plpgsql AS "
        "$$ BEGIN RAISE EXCEPTION 'entries are added, never changed'; END $$");
  const std::string n = whole(engine);
  table("entry", fmt::format("number {0} PRIMARY KEY, id TEXT NOT NULL UNIQUE, kind TEXT NOT NULL, "
                             "thing {0} NOT NULL REFERENCES entry (number), replaces {0} REFERENCES entry (number), "
                             "withdraws {0} NOT NULL CHECK (withdraws IN (0, 1)), reason TEXT, "
                             "recorded_at {0} NOT NULL, recorded_by TEXT NOT NULL",
                             n));
  all.push_back("CREATE INDEX entry_later ON entry (thing, number) WHERE thing <> number");
  table("seal", fmt::format("number {0} PRIMARY KEY, last_entry {0} NOT NULL UNIQUE REFERENCES entry (number), "
                            "sealed_at {0} NOT NULL, hash TEXT NOT NULL",
                            n));
  for (const char* name : {"about", "entry", "seal"}) forbid_changes(name, engine, all);
}

/// With the second version: what a chart and a trace ask of readings stands in one index; corrections are found by
/// their number, brews by when their air went on.
void quicken(const Kinds& kinds, Engine engine, std::vector<std::string>& all) {
  all.push_back("CREATE INDEX entry_correction ON entry (number) WHERE thing <> number");
  if (kinds.find("reading") != nullptr) {
    all.push_back("DROP INDEX reading_by_brew");
    // SQLite keeps the number in every index by itself.
    all.push_back(fmt::format("CREATE INDEX reading_by_brew ON reading (brew, \"at\", oxygen_mg_per_l{})",
                              engine == Engine::sqlite ? "" : ", number"));
  }
  if (kinds.find("brew") != nullptr) all.push_back("CREATE INDEX brew_by_air_on ON brew (air_on_at, air_off_at)");
}

}  // namespace

int version_of(const Kinds& kinds) {
  return std::max(kinds.version(), quickened_version);
}

std::vector<std::string> step_to(int version, const Kinds& kinds, Engine engine) {
  std::vector<std::string> all;
  if (version == 1) ledger(engine, all);
  for (const auto& kind : kinds.all()) {
    if (kind.version == version) {
      std::string columns = fmt::format("number {} PRIMARY KEY REFERENCES entry (number)", whole(engine));
      for (const auto& field : kind.fields) {
        if (field.version == version) columns += ", " + column(field, engine);
      }
      all.push_back(fmt::format("CREATE TABLE {} ({}){}", quoted(kind.name), columns, strict(engine)));
      forbid_changes(kind.name, engine, all);
    }
    for (const auto& field : kind.fields) {
      if (field.version != version) continue;
      if (kind.version != version)
        all.push_back(fmt::format("ALTER TABLE {} ADD COLUMN {}", quoted(kind.name), column(field, engine)));
      if (field.type == Type::reference) all.push_back(index_of(kind, field));
    }
    const Field* called = kind.field("name");
    if (called != nullptr && version == std::max(called->version, quickened_version))
      all.push_back(fmt::format("CREATE INDEX \"{0}_by_name\" ON \"{0}\" (name)", kind.name));
  }
  if (version == quickened_version) quicken(kinds, engine, all);
  return all;
}

Kinds kinds_at(int version, const Kinds& kinds) {
  std::vector<Kind> then;
  for (const auto& kind : kinds.all()) {
    if (kind.version > version) continue;
    then.push_back(kind);
    std::erase_if(then.back().fields, [&](const Field& field) { return field.version > version; });
  }
  return Kinds(std::move(then));
}

}  // namespace barm::records
