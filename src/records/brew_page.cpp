#include "records/brew_page.h"

#include "quantity/expects.h"
#include "records/reading_rows.h"

namespace barm::records {
namespace {

std::optional<double> number_in(const Row& row, std::size_t i) {
  return is_given(row[i]) ? std::optional(std::get<double>(row[i])) : std::nullopt;
}

}  // namespace

Answer<std::vector<Stretch>> chart_of(Store& store, const std::string& brew_id, int most, std::int64_t known_at) {
  expects(most > 0, "a chart has at least one stretch");
  using All = std::vector<Stretch>;
  return or_refusal<All>([&]() -> Answer<All> {
    auto& connection = store.connection();
    const auto brew = connection.whole("SELECT thing FROM entry WHERE id = :p0 AND kind = 'brew'", {brew_id});
    if (brew == 0)
      return Answer<All>::refused({{"records.entry.unknown_id", "id", {{"given", brew_id.substr(0, 60)}}}});
    const auto first = connection.whole("SELECT min(\"at\") FROM reading WHERE brew = :p0", {brew});
    const auto last = connection.whole("SELECT max(\"at\") FROM reading WHERE brew = :p0", {brew});
    const std::int64_t width = (last - first) / most + 1;
    const auto rows = connection.rows(
        "SELECT (k.\"at\" - :p1) / :p2, count(*), avg(k.oxygen_mg_per_l), min(k.oxygen_mg_per_l), "
        "max(k.oxygen_mg_per_l), "
        "avg(k.temperature_c), avg(k.ph), avg(k.conductivity_ms_per_cm) FROM reading k JOIN entry e ON e.number = "
        "k.number "
        "WHERE k.brew = :p0 AND " +
            counts_at("e", ":p3") + " GROUP BY 1 ORDER BY 1",
        {brew, first, width, known_at},
        {Cell::whole, Cell::whole, Cell::number, Cell::number, Cell::number, Cell::number, Cell::number, Cell::number});
    All all;
    for (const auto& row : rows) {
      all.push_back({first + std::get<std::int64_t>(row[0]) * width, std::get<std::int64_t>(row[1]), number_in(row, 2),
                     number_in(row, 3), number_in(row, 4), number_in(row, 5), number_in(row, 6), number_in(row, 7)});
    }
    return all;
  });
}

Answer<BrewPage> page_of(Store& store, const std::string& brew_id, std::int64_t known_at) {
  return or_refusal<BrewPage>([&]() -> Answer<BrewPage> {
    Findings findings;
    BrewPage page;
    const auto newest = store.connection().rows(
        "SELECT coalesce((SELECT max(v.number) FROM entry v WHERE v.thing = e.thing AND v.thing <> v.number AND "
        "v.recorded_at <= :p1), e.thing) FROM entry e WHERE e.id = :p0 AND e.kind = 'brew'",
        {brew_id, known_at}, {Cell::whole});
    if (newest.empty())
      return Answer<BrewPage>::refused({{"records.entry.unknown_id", "id", {{"given", brew_id.substr(0, 60)}}}});
    const auto number = std::get<std::int64_t>(newest[0][0]);
    page.brew = store.read(number, number).at(0);
    const auto all = [&](const char* kind, const char* field) {
      const Filter filter{.field = field, .names = brew_id, .known_at = known_at};
      return findings.take(store.list(*store.kinds().find(kind), filter)).value_or(std::vector<Entry>{});
    };
    page.mixes = all("mix", "into");
    page.observations = all("observation", "brew");
    page.counts = all("count", "of");
    page.verdicts = all("fitness", "brew");
    page.applications = all("application", "brew");
    return std::move(findings).answer(std::move(page));
  });
}

}  // namespace barm::records
