#include "records/trace.h"

#include <fmt/format.h>

#include <algorithm>

#include "records/reading_rows.h"

namespace barm::records {
namespace {

// Parameters of both: p0 the number of the thing, p1 the instant the record is known at.

std::string newest(const std::string& thing) {
  return newest_of(thing, ":p1");
}

/// Rows of a kind that count, by one of their references.
std::string counted(const std::string& kind, const std::string& alias, const std::string& condition) {
  return fmt::format(" JOIN \"{0}\" {1} ON {2} JOIN entry {1}_entry ON {1}_entry.number = {1}.number AND {3}", kind,
                     alias, condition, counts_at(alias + "_entry", ":p1"));
}

/// Something of the readings of each thing in `brewed`, found by their index: left to itself, either engine may read
/// all readings there are.
std::string of_each_brew(Engine engine, const std::string& what, const std::string& further = {}) {
  if (engine == Engine::sqlite)
    return "SELECT r.brew, " + what + " FROM brewed CROSS JOIN reading r" + further + " WHERE r.brew = brewed.thing";
  return "SELECT brewed.thing, x.* FROM brewed CROSS JOIN LATERAL (SELECT " + what + " FROM reading r" + further +
         " WHERE r.brew = brewed.thing";
}
const char* end_of_each(Engine engine) {
  return engine == Engine::sqlite ? " GROUP BY r.brew" : ") x";
}

/// From `found` (stage, thing, seen_at, from_thing, to_thing) to what is told of each. Readings are added up in one
/// index; those that something took the place of are looked for among later entries only, between the first and the
/// last number of a brew's readings, and taken off again. Only when one of them was the lowest or highest of its brew
/// are its readings looked through once more. As known earlier, each has to be looked up in the ledger.
std::string telling(Engine engine, bool known_earlier) {
  const std::string kept_by_then = known_earlier ? " JOIN entry e ON e.number = r.number AND e.recorded_at <= :p1" : "";
  const std::string by_number = engine == Engine::sqlite ? " INDEXED BY entry_correction" : "";
  const auto extreme = [&](const char* which, const char* side, const char* compared) {
    return fmt::format(
        "CASE WHEN gone.{1} {2} whole.{1} THEN (SELECT {0}(r.oxygen_mg_per_l) FROM reading r{3} WHERE r.brew = "
        "whole.brew AND r.number NOT IN (SELECT number FROM passed)) ELSE whole.{1} END",
        which, side, compared, kept_by_then);
  };
  return ", brewed (thing) AS MATERIALIZED (SELECT DISTINCT found.thing FROM found JOIN entry f ON f.number = "
         "found.thing AND f.kind = 'brew'), "
         "whole (brew, readings, lowest, highest, first, last) AS MATERIALIZED (" +
         of_each_brew(engine, "count(*), min(r.oxygen_mg_per_l), max(r.oxygen_mg_per_l), min(r.number), max(r.number)",
                      kept_by_then) +
         end_of_each(engine) +
         "), passed (number) AS MATERIALIZED (SELECT l.thing FROM whole CROSS JOIN entry l WHERE l.thing BETWEEN "
         "whole.first AND whole.last AND l.thing <> l.number AND l.recorded_at <= :p1 UNION "
         "SELECT c.number FROM whole CROSS JOIN entry c" +
         by_number +
         " WHERE c.number BETWEEN whole.first AND whole.last AND c.thing <> c.number AND EXISTS (SELECT 1 FROM entry m "
         "WHERE m.thing = c.thing AND m.thing <> m.number AND m.number > c.number AND m.recorded_at <= :p1)), "
         "gone (brew, readings, lowest, highest) AS MATERIALIZED (SELECT r.brew, count(*), min(r.oxygen_mg_per_l), "
         "max(r.oxygen_mg_per_l) FROM passed CROSS JOIN reading r" +
         kept_by_then +
         " WHERE r.number = passed.number GROUP BY r.brew), "
         "measured (brew, readings, lowest, highest) AS MATERIALIZED (SELECT whole.brew, whole.readings - "
         "coalesce(gone.readings, 0), " +
         extreme("min", "lowest", "<=") + ", " + extreme("max", "highest", ">=") +
         " FROM whole LEFT JOIN gone ON gone.brew = whole.brew) SELECT first.kind, first.id, coalesce(brew.name, "
         "bed.name, compost_lot.name, food_lot.name, "
         "water_source.name, person.name, harvest.crop, fitness.verdict, \"count\".organism), found.seen_at, "
         "origin.id, goal.id, measured.readings, measured.lowest, measured.highest "
         "FROM found JOIN entry first ON first.number = found.thing JOIN entry now ON now.number = " +
         newest("found.thing") +
         " AND now.withdraws = 0 "
         "LEFT JOIN measured ON measured.brew = found.thing "
         "LEFT JOIN entry origin ON origin.number = found.from_thing LEFT JOIN entry goal ON goal.number = "
         "found.to_thing "
         "LEFT JOIN brew ON brew.number = now.number LEFT JOIN bed ON bed.number = now.number "
         "LEFT JOIN compost_lot ON compost_lot.number = now.number LEFT JOIN food_lot ON food_lot.number = now.number "
         "LEFT JOIN water_source ON water_source.number = now.number LEFT JOIN person ON person.number = now.number "
         "LEFT JOIN harvest ON harvest.number = now.number LEFT JOIN fitness ON fitness.number = now.number "
         "LEFT JOIN \"count\" ON \"count\".number = now.number ORDER BY found.stage, found.seen_at, found.thing";
}

std::string forward_query() {
  return "WITH RECURSIVE reach (thing) AS (SELECT CAST(:p0 AS bigint) UNION SELECT m.\"into\" FROM reach" +
         counted("mix", "m", "m.part = reach.thing") +
         "), applied (thing, brew, bed, seen_at) AS (SELECT a_entry.thing, a.brew, a.bed, a.\"at\" FROM reach" +
         counted("application", "a", "a.brew = reach.thing") +
         "), treated (bed, seen_at) AS (SELECT bed, min(seen_at) FROM applied GROUP BY bed), "
         "found (stage, thing, seen_at, from_thing, to_thing) AS ("
         "SELECT 1, thing, CAST(NULL AS bigint), CAST(NULL AS bigint), CAST(NULL AS bigint) FROM reach "
         "UNION ALL SELECT 2, thing, seen_at, brew, bed FROM applied "
         "UNION ALL SELECT 3, bed, seen_at, NULL, NULL FROM treated "
         "UNION ALL SELECT 4, h_entry.thing, h.\"at\", h.bed, NULL FROM treated" +
         counted("harvest", "h", "h.bed = treated.bed AND h.\"at\" >= treated.seen_at") + ")";
}

std::string back_query() {
  const auto about = [](const char* kind, const char* field) {
    return fmt::format(" UNION ALL SELECT 4, x_entry.thing, x.\"at\", x.\"{}\", NULL FROM reach", field) +
           counted(kind, "x", fmt::format("x.\"{}\" = reach.thing", field));
  };
  // A harvest looks back over its bed; an application is itself; a brew has none.
  return "WITH RECURSIVE applied (thing, brew, bed, seen_at, person) AS (SELECT a_entry.thing, a.brew, a.bed, "
         "a.\"at\", a.person "
         "FROM harvest h" +
         counted("application", "a", "a.bed = h.bed AND a.\"at\" <= h.\"at\"") + " WHERE h.number = " + newest(":p0") +
         " UNION ALL SELECT CAST(:p0 AS bigint), a.brew, a.bed, a.\"at\", a.person FROM application a WHERE a.number "
         "= " +
         newest(":p0") +
         "), reach (thing) AS (SELECT brew FROM applied UNION SELECT b.number FROM brew b WHERE b.number = CAST(:p0 AS "
         "bigint) "
         "UNION SELECT m.part FROM reach" +
         counted("mix", "m", "m.\"into\" = reach.thing") +
         "), people (person) AS (SELECT person FROM applied UNION SELECT b.person FROM reach JOIN brew b ON b.number "
         "= " +
         newest("reach.thing") + " UNION SELECT m.person FROM reach" + counted("mix", "m", "m.\"into\" = reach.thing") +
         " UNION SELECT h.person FROM harvest h WHERE h.number = " + newest(":p0") +
         "), found (stage, thing, seen_at, from_thing, to_thing) AS ("
         "SELECT 1, CAST(:p0 AS bigint), CAST(NULL AS bigint), CAST(NULL AS bigint), CAST(NULL AS bigint) "
         "UNION ALL SELECT 2, thing, seen_at, brew, bed FROM applied WHERE thing <> :p0 "
         "UNION ALL SELECT 3, thing, NULL, NULL, NULL FROM reach WHERE thing <> :p0" +
         about("water_test", "water_source") + about("compost_test", "compost_lot") + about("count", "of") +
         about("fitness", "brew") +
         " UNION ALL SELECT 5, person, NULL, NULL, NULL FROM people WHERE person IS NOT NULL)";
}

Answer<std::vector<Traced>> trace(Store& store, const std::string& id, std::int64_t known_at, const std::string& query,
                                  const std::vector<std::string>& from) {
  using All = std::vector<Traced>;
  return or_refusal<All>([&]() -> Answer<All> {
    const auto start =
        store.connection().rows("SELECT thing, kind FROM entry WHERE id = :p0", {id}, {Cell::whole, Cell::text});
    if (start.empty()) return Answer<All>::refused({{"records.entry.unknown_id", "id", {{"given", id.substr(0, 60)}}}});
    const auto& kind = std::get<std::string>(start[0][1]);
    if (std::find(from.begin(), from.end(), kind) == from.end()) {
      return Answer<All>::refused(
          {{"records.trace.kind", "id", {{"given", kind}, {"allowed", fmt::format("{}", fmt::join(from, ", "))}}}});
    }
    All all;
    const auto told = telling(store.connection().engine(), known_at < known_now);
    std::vector<Row> rows;
    store.connection().read_few([&] {
      rows = store.connection().rows(query + told, {start[0][0], known_at},
                                     {Cell::text, Cell::text, Cell::text, Cell::whole, Cell::text, Cell::text,
                                      Cell::whole, Cell::number, Cell::number});
    });
    for (auto& row : rows) {
      const auto text = [&](std::size_t i) { return is_given(row[i]) ? std::get<std::string>(row[i]) : std::string(); };
      Traced one{.kind = text(0), .id = text(1), .name = text(2), .from_id = text(4), .to_id = text(5)};
      if (is_given(row[3])) one.at = std::get<std::int64_t>(row[3]);
      if (is_given(row[6])) one.readings_count = std::get<std::int64_t>(row[6]);
      if (is_given(row[7])) one.oxygen_lowest_mg_per_l = std::get<double>(row[7]);
      if (is_given(row[8])) one.oxygen_highest_mg_per_l = std::get<double>(row[8]);
      all.push_back(std::move(one));
    }
    return all;
  });
}

}  // namespace

Answer<std::vector<Traced>> trace_forward(Store& store, const std::string& id, std::int64_t known_at) {
  return trace(store, id, known_at, forward_query(), {"compost_lot", "food_lot", "water_source", "brew"});
}

Answer<std::vector<Traced>> trace_back(Store& store, const std::string& id, std::int64_t known_at) {
  return trace(store, id, known_at, back_query(), {"harvest", "application", "brew"});
}

}  // namespace barm::records
