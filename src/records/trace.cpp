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

/// From `found` (stage, thing, seen_at, from_thing, to_thing) to what is told of each.
std::string telling() {
  const std::string readings =
      "FROM reading r JOIN entry r_entry ON r_entry.number = r.number WHERE r.brew = found.thing AND " +
      counts_at("r_entry", ":p1");
  return fmt::format(
      "SELECT first.kind, first.id, coalesce(brew.name, bed.name, compost_lot.name, food_lot.name, water_source.name, "
      "person.name, harvest.crop, fitness.verdict, \"count\".organism), found.seen_at, origin.id, goal.id, "
      "CASE WHEN first.kind = 'brew' THEN (SELECT count(*) {0}) END, "
      "CASE WHEN first.kind = 'brew' THEN (SELECT min(r.oxygen_mg_per_l) {0}) END, "
      "CASE WHEN first.kind = 'brew' THEN (SELECT max(r.oxygen_mg_per_l) {0}) END "
      "FROM found JOIN entry first ON first.number = found.thing JOIN entry now ON now.number = {1} AND now.withdraws "
      "= 0 "
      "LEFT JOIN entry origin ON origin.number = found.from_thing LEFT JOIN entry goal ON goal.number = found.to_thing "
      "LEFT JOIN brew ON brew.number = now.number LEFT JOIN bed ON bed.number = now.number "
      "LEFT JOIN compost_lot ON compost_lot.number = now.number LEFT JOIN food_lot ON food_lot.number = now.number "
      "LEFT JOIN water_source ON water_source.number = now.number LEFT JOIN person ON person.number = now.number "
      "LEFT JOIN harvest ON harvest.number = now.number LEFT JOIN fitness ON fitness.number = now.number "
      "LEFT JOIN \"count\" ON \"count\".number = now.number ORDER BY found.stage, found.seen_at, found.thing",
      readings, newest("found.thing"));
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
         counted("harvest", "h", "h.bed = treated.bed AND h.\"at\" >= treated.seen_at") + ") " + telling();
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
         " UNION ALL SELECT 5, person, NULL, NULL, NULL FROM people WHERE person IS NOT NULL) " + telling();
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
    for (auto& row : store.connection().rows(query, {start[0][0], known_at},
                                             {Cell::text, Cell::text, Cell::text, Cell::whole, Cell::text, Cell::text,
                                              Cell::whole, Cell::number, Cell::number})) {
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
