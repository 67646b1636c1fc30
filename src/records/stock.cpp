#include "records/stock.h"

#include <fmt/format.h>

#include <cmath>

#include "records/reading_rows.h"

namespace barm::records {
namespace {

struct Sums {
  double mass_g = 0.0, volume_l = 0.0;
  std::int64_t count = 0;
};

Sums sums(Store& store, const char* kind, const char* field, std::int64_t thing, std::int64_t known_at) {
  const auto row = store.connection().rows(
      fmt::format("SELECT coalesce(sum(k.mass_g), 0.0), coalesce(sum(k.volume_l), 0.0), count(*) FROM \"{}\" k "
                  "JOIN entry e ON e.number = k.number WHERE k.\"{}\" = :p0 AND {}",
                  kind, field, counts_at("e", ":p1")),
      {thing, known_at}, {Cell::number, Cell::number, Cell::whole})[0];
  return {std::get<double>(row[0]), std::get<double>(row[1]), std::get<std::int64_t>(row[2])};
}

}  // namespace

Answer<Stock> stock_of(Store& store, const std::string& lot_id, std::int64_t known_at) {
  return or_refusal<Stock>([&]() -> Answer<Stock> {
    auto& connection = store.connection();
    const auto start =
        connection.rows("SELECT thing, kind FROM entry WHERE id = :p0", {lot_id}, {Cell::whole, Cell::text});
    if (start.empty())
      return Answer<Stock>::refused({{"records.entry.unknown_id", "id", {{"given", lot_id.substr(0, 60)}}}});
    const auto thing = std::get<std::int64_t>(start[0][0]);
    const auto kind = std::get<std::string>(start[0][1]);
    if (kind != "compost_lot" && kind != "food_lot")
      return Answer<Stock>::refused(
          {{"records.trace.kind", "id", {{"given", kind}, {"allowed", "compost_lot, food_lot"}}}});
    const auto lots = connection.rows(
        fmt::format("SELECT k.mass_g, k.volume_l, k.density_kg_per_m3 FROM {} k JOIN entry e ON e.number = k.number "
                    "WHERE e.recorded_at <= :p1 AND k.number = coalesce((SELECT max(v.number) FROM entry v WHERE "
                    "v.thing = :p0 AND v.thing <> v.number AND v.recorded_at <= :p1), :p0)",
                    kind),
        {thing, known_at}, {Cell::number, Cell::number, Cell::number});
    if (lots.empty()) return Answer<Stock>::refused({{"records.entry.withdrawn", "id", {{"given", lot_id}}}});
    const auto number = [&](std::size_t i) { return is_given(lots[0][i]) ? std::get<double>(lots[0][i]) : unset; };
    const bool by_mass = std::isfinite(number(0));
    if (!by_mass && !std::isfinite(number(1)))
      return Answer<Stock>::refused({{"records.stock.no_amount", "id", {{"given", lot_id}}}});
    const double density_g_per_l = number(2);  // 1 kg/m3 is 1 g/L
    Findings findings;
    const auto in_unit = [&](const Sums& sum) {
      const double other = by_mass ? sum.volume_l : sum.mass_g;
      const double own = by_mass ? sum.mass_g : sum.volume_l;
      if (other == 0.0) return own;
      if (!std::isfinite(density_g_per_l)) {
        findings.doubt({"records.stock.other_measure",
                        "id",
                        {{"given", by_mass ? Quantity{other, Dimension::volume} : Quantity{other, Dimension::mass}}}});
        return own;
      }
      return own + (by_mass ? other * density_g_per_l : other / density_g_per_l);
    };
    const Sums used = sums(store, "mix", "part", thing, known_at);
    Stock stock{.begun = number(by_mass ? 0 : 1), .measured = by_mass ? Dimension::mass : Dimension::volume};
    stock.used = in_unit(used);
    stock.uses_count = used.count;
    stock.changed = in_unit(sums(store, "stock_change", "lot", thing, known_at));
    if (kind == "compost_lot") stock.changed += in_unit(sums(store, "mix", "into", thing, known_at));  // a blend grows
    stock.left = stock.begun + stock.changed - stock.used;
    if (stock.left < 0.0)
      findings.doubt({"records.stock.less_than_none", "id", {{"given", Quantity{-stock.left, stock.measured}}}});
    return std::move(findings).answer(stock);
  });
}

}  // namespace barm::records
