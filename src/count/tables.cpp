#include "count/tables.h"

#include "quantity/data_entry.h"
#include "quantity/suggest.h"

namespace barm::count {
namespace {

PlateRule read_rule(DataEntry entry, const std::string& id) {
  PlateRule rule{.id = id,
                 .low_count = entry.number("low", "colonies"),
                 .high_count = entry.number("high", "colonies"),
                 .estimated_from_count = entry.number("estimated_from", "colonies"),
                 .takes_next_dilution = entry.claim("takes_next_dilution")};
  if (entry.claim("five_to_even")) rule.rounding = Rounding::five_to_even;
  entry.promise(rule.estimated_from_count <= rule.low_count && rule.low_count < rule.high_count, "limits are crooked");
  rule.source = entry.sources();
  return rule;
}

Chamber read_chamber(DataEntry entry, const std::string& id) {
  const double side_mm = entry.number("side", "mm"), depth_mm = entry.number("depth", "mm");
  entry.promise(side_mm > 0.0 && depth_mm > 0.0, "a chamber has a size");
  return {id, side_mm * side_mm * depth_mm / 1000.0, side_mm / 1000.0, entry.sources()};
}

std::vector<Figure> read_factors(DataEntry& entry, std::string_view list) {
  std::vector<Figure> all;
  for (const std::string& name : entry.texts(list)) {
    all.push_back(entry.figure(name, name.ends_with("_dry_matter") ? "g/g" : "g/cm3"));
    entry.promise(all.back().low > 0.0, name + " is not positive");
  }
  return all;
}

BiomassFactors read_biomass(DataEntry entry, const std::string& id) {
  auto fungal = read_factors(entry, "fungal_factors");
  auto bacterial = read_factors(entry, "bacterial_factors");
  return {id, std::move(fungal), std::move(bacterial), entry.sources()};
}

SeriesRule read_series_rule(DataEntry entry, const std::string& id) {
  SeriesRule rule{.id = id,
                  .mean_most = entry.number_or("mean_most", "1/100 mL", unset),
                  .is_arithmetic = entry.claim("arithmetic"),
                  .single_most = entry.number_or("single_most", "1/100 mL", unset),
                  .single_over_share = entry.number_or("single_over", "share", 0.0),
                  .samples_least = static_cast<std::int64_t>(entry.number("samples", "1")),
                  .unit = "1/100 mL",
                  .clause = entry.text("clause")};
  entry.promise(rule.mean_most > 0.0 || rule.single_most > 0.0, "a rule asks for something");
  entry.promise(rule.single_over_share >= 0.0 && rule.single_over_share < 1.0 && rule.samples_least > 0, "crooked");
  rule.source = entry.sources();
  return rule;
}

CellFigures read_cells(DataEntry entry) {
  CellFigures cells{.hyphal_diameter_um = entry.figure("hyphal_diameter", "um"),
                    .bacterial_volume_um3 = entry.figure("bacterial_volume", "um3"),
                    .diameter_reading = entry.figure("diameter_reading", "1"),
                    .size_reading = entry.figure("size_reading", "1"),
                    .fungal_carbon = entry.figure("fungal_carbon", "g/g"),
                    .bacterial_carbon_fg_per_um3 = entry.figure("bacterial_carbon", "fg/um3")};
  cells.source = entry.sources();
  return cells;
}

template <class T>
Answer<const T*> find(const std::vector<T>& all, std::string_view id, const char* field) {
  std::vector<std::string> known;
  std::string allowed;
  for (const T& each : all) {
    if (each.id == id) return &each;
    known.push_back(each.id);
    allowed += (allowed.empty() ? "" : ", ") + each.id;
  }
  Remark why{.code = "count.name.unknown", .field = field};
  why.facts = {{"given", std::string(id)}, {"allowed", allowed}};
  if (const auto near = likely_spelling(id, known); !near.empty()) why.facts["suggestion"] = near;
  return Answer<const T*>::refused({why});
}

}  // namespace

Tables Tables::read(std::string_view toml) {
  Tables tables;
  constexpr const char* file = "counts.toml";
  each_data_entry(toml, "plate_rule", file, [&](const DataEntry& entry, const std::string& id) {
    tables.plate_rules_.push_back(read_rule(entry, id));
  });
  each_data_entry(toml, "chamber", file, [&](const DataEntry& entry, const std::string& id) {
    tables.chambers_.push_back(read_chamber(entry, id));
  });
  each_data_entry(toml, "biomass", file, [&](const DataEntry& entry, const std::string& id) {
    tables.biomass_factors_.push_back(read_biomass(entry, id));
  });
  each_data_entry(toml, "series_rule", file, [&](const DataEntry& entry, const std::string& id) {
    tables.series_rules_.push_back(read_series_rule(entry, id));
  });
  each_data_entry(toml, "cells", file,
                  [&](const DataEntry& entry, const std::string&) { tables.cells_ = read_cells(entry); });
  return tables;
}

Answer<const PlateRule*> Tables::plate_rule(std::string_view id) const {
  return find(plate_rules_, id, "standard");
}
Answer<const Chamber*> Tables::chamber(std::string_view id) const {
  return find(chambers_, id, "chamber");
}

Answer<const BiomassFactors*> Tables::biomass_factors(std::string_view id) const {
  return find(biomass_factors_, id, "factors");
}

Answer<const SeriesRule*> Tables::series_rule(std::string_view id) const {
  return find(series_rules_, id, "rule");
}

}  // namespace barm::count
