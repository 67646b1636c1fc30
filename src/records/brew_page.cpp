#include "records/brew_page.h"

#include <fmt/format.h>

#include "quantity/expects.h"
#include "records/reading_rows.h"
#include "records/schema.h"

namespace barm::records {
namespace {

std::optional<double> number_in(const Row& row, std::size_t i) {
  return is_given(row[i]) ? std::optional(std::get<double>(row[i])) : std::nullopt;
}

Remark unknown(const std::string& id) {
  return {"records.entry.unknown_id", "id", {{"given", id.substr(0, 60)}}};
}

/// Number of the thing an id names, when it is of the kind; 0 when there is none.
std::int64_t thing_of(Store& store, const std::string& id, const char* kind) {
  return store.connection().whole("SELECT thing FROM entry WHERE id = :p0 AND kind = :p1", {id, std::string(kind)});
}

/// The first or last reading of a brew [ms UTC]; the index on brew and time is read from one end.
std::int64_t end_of(Store& store, std::int64_t brew, std::int64_t known_at, const char* order) {
  return store.connection().whole(
      "SELECT k.\"at\" FROM reading k JOIN entry e ON e.number = k.number WHERE k.brew = "
      ":p0 AND " +
          counts_at("e", ":p1") + " ORDER BY k.\"at\" " + order + " LIMIT 1",
      {brew, known_at}, -1);
}

std::vector<Stretch> chart(Store& store, std::int64_t brew, int most, std::int64_t known_at) {
  expects(most > 0, "a chart has at least one stretch");
  const auto first = end_of(store, brew, known_at, "ASC");
  if (first < 0) return {};
  const std::int64_t width = (end_of(store, brew, known_at, "DESC") - first) / most + 1;
  const auto rows = store.connection().rows(
      "SELECT (k.\"at\" - :p1) / :p2, count(*), avg(k.oxygen_mg_per_l), min(k.oxygen_mg_per_l), "
      "max(k.oxygen_mg_per_l), avg(k.temperature_c), avg(k.ph), avg(k.conductivity_ms_per_cm), "
      "avg(k.air_flow_l_per_h) FROM reading k JOIN entry e ON e.number = k.number WHERE k.brew = :p0 AND " +
          counts_at("e", ":p3") + " GROUP BY 1 ORDER BY 1",
      {brew, first, width, known_at},
      {Cell::whole, Cell::whole, Cell::number, Cell::number, Cell::number, Cell::number, Cell::number, Cell::number,
       Cell::number});
  std::vector<Stretch> all;
  for (const auto& row : rows) {
    all.push_back({first + std::get<std::int64_t>(row[0]) * width, std::get<std::int64_t>(row[1]), number_in(row, 2),
                   number_in(row, 3), number_in(row, 4), number_in(row, 5), number_in(row, 6), number_in(row, 7),
                   number_in(row, 8)});
  }
  return all;
}

/// One page, read within one transaction.
class Reader {
 public:
  Reader(Store& store, std::int64_t brew, std::int64_t known_at) : store_(store), brew_(brew), known_at_(known_at) {}

  std::vector<Entry> about(const char* kind, const char* field) {
    const Kind& of = *store_.kinds().find(kind);
    return entries(
        of, fmt::format(" WHERE k.{} = :p0 AND {} ORDER BY k.\"at\", k.number", quoted(field), counts_at("e", ":p1")),
        {brew_, known_at_});
  }

  std::vector<Entry> cleanings(const Entry& brew) {
    const Kind& kind = *store_.kinds().find("brew");
    const auto& air_on_at = brew.values[*kind.position("air_on_at")];
    std::vector<Entry> all;
    for (const auto gear : gear_of(brew.number)) {
      for (const char* side : {"<= :p2 AND {} ORDER BY k.\"at\" DESC", "> :p2 AND {} ORDER BY k.\"at\""}) {
        auto found = entries(
            *store_.kinds().find("cleaning"),
            " WHERE k.vessel = :p0 AND k.\"at\" " + fmt::format(fmt::runtime(side), counts_at("e", ":p1")) + " LIMIT 1",
            {gear, known_at_, air_on_at});
        all.insert(all.end(), std::make_move_iterator(found.begin()), std::make_move_iterator(found.end()));
      }
    }
    return all;
  }

  std::vector<Entry> history() {
    // Things in any version of which the brew was named.
    std::string things = "SELECT CAST(:p0 AS bigint) AS thing";
    for (const auto& [kind, field] : {std::pair{"mix", "into"},
                                      {"reading", "brew"},
                                      {"observation", "brew"},
                                      {"photo", "brew"},
                                      {"count", "of"},
                                      {"fitness", "brew"},
                                      {"application", "brew"}}) {
      things +=
          fmt::format(" UNION SELECT ke.thing FROM \"{}\" k JOIN entry ke ON ke.number = k.number WHERE k.{} = :p0",
                      kind, quoted(field));
    }
    std::vector<std::int64_t> numbers;
    for (const auto& row : store_.connection().rows(
             fmt::format(
                 "SELECT l.number, l.thing FROM ({}) t JOIN entry l ON l.thing = t.thing AND l.thing <> l.number "
                 "WHERE l.recorded_at <= :p1 ORDER BY l.number DESC LIMIT :p2",
                 things),
             {brew_, known_at_, history_most}, {Cell::whole, Cell::whole})) {
      for (const auto& number : row) numbers.push_back(std::get<std::int64_t>(number));
    }
    return store_.read_each(std::move(numbers));
  }

 private:
  std::vector<Entry> entries(const Kind& kind, const std::string& where, const Row& parameters) {
    std::vector<Entry> all;
    for (auto& row : store_.connection().rows(select_of(kind) + where, parameters, columns_of(kind)))
      all.push_back(entry_of(kind, std::move(row)));
    return all;
  }

  /// Numbers of the vessel, the line and its diffuser.
  std::vector<std::int64_t> gear_of(std::int64_t brew_version) {
    const auto rows = store_.connection().rows(
        "SELECT b.vessel, b.line, l.diffuser FROM brew b LEFT JOIN line l ON l.number = " + newest_of("b.line", ":p1") +
            " WHERE b.number = :p0",
        {brew_version, known_at_}, {Cell::whole, Cell::whole, Cell::whole});
    std::vector<std::int64_t> all;
    for (const auto& gear : rows.at(0)) {
      if (is_given(gear)) all.push_back(std::get<std::int64_t>(gear));
    }
    return all;
  }

  Store& store_;
  std::int64_t brew_, known_at_;
};

}  // namespace

Answer<std::vector<Stretch>> chart_of(Store& store, const std::string& brew_id, int most, std::int64_t known_at) {
  using All = std::vector<Stretch>;
  return or_refusal<All>([&]() -> Answer<All> {
    const auto brew = thing_of(store, brew_id, "brew");
    if (brew == 0) return Answer<All>::refused({unknown(brew_id)});
    All all;
    store.connection().read_few([&] { all = chart(store, brew, most, known_at); });
    return all;
  });
}

Answer<BrewPage> page_of(Store& store, const std::string& brew_id, int chart_most, std::int64_t known_at) {
  return or_refusal<BrewPage>([&]() -> Answer<BrewPage> {
    Remarks refusals;
    BrewPage page;
    store.connection().read_few([&] {
      const auto brew = thing_of(store, brew_id, "brew");
      const auto number = store.connection().whole(
          "SELECT " + newest_of("e.number", ":p1") + " FROM entry e WHERE e.number = :p0 AND e.recorded_at <= :p1",
          {brew, known_at});
      if (number == 0) return refusals.push_back(unknown(brew_id));
      page.brew = store.read(number, number).at(0);
      if (page.brew.withdraws) return refusals.push_back({"records.entry.withdrawn", "id", {{"given", brew_id}}});
      Reader read(store, brew, known_at);
      page.chart = chart(store, brew, chart_most, known_at);
      page.mixes = read.about("mix", "into");
      page.observations = read.about("observation", "brew");
      page.photos = read.about("photo", "brew");
      page.counts = read.about("count", "of");
      page.verdicts = read.about("fitness", "brew");
      page.applications = read.about("application", "brew");
      page.cleanings = read.cleanings(page.brew);
      page.history = read.history();
    });
    if (!refusals.empty()) return Answer<BrewPage>::refused(std::move(refusals));
    return page;
  });
}

Answer<std::vector<Live>> live_brews(Store& store, std::int64_t now, const std::string& garden_id, std::int64_t most) {
  using All = std::vector<Live>;
  return or_refusal<All>([&]() -> Answer<All> {
    auto& connection = store.connection();
    Row parameters = {now, known_now, most};
    std::string where =
        " WHERE k.air_on_at <= :p0 AND (k.air_off_at IS NULL OR k.air_off_at > :p0) AND " + counts_at("e", ":p1");
    if (!garden_id.empty()) {
      const auto garden = thing_of(store, garden_id, "garden");
      if (garden == 0) return Answer<All>::refused({unknown(garden_id)});
      where += " AND k.garden = :p3";
      parameters.push_back(garden);
    }
    const Kind& brew = *store.kinds().find("brew");
    const Kind& reading = *store.kinds().find("reading");
    All all;
    connection.read_few([&] {
      for (auto& row : connection.rows(select_of(brew) + where + " ORDER BY k.air_on_at DESC, k.number DESC LIMIT :p2",
                                       parameters, columns_of(brew)))
        all.push_back({entry_of(brew, std::move(row)), {}});
      for (auto& one : all) {
        for (auto& row : connection.rows(select_of(reading) + " WHERE k.brew = :p0 AND k.\"at\" <= :p2 AND " +
                                             counts_at("e", ":p1") + " ORDER BY k.\"at\" DESC LIMIT 1",
                                         {one.brew.thing_number, known_now, now}, columns_of(reading)))
          one.reading = entry_of(reading, std::move(row));
      }
    });
    return all;
  });
}

}  // namespace barm::records
