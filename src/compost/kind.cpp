#include "compost/kind.h"

#include "quantity/data_entry.h"
#include "compost/names.h"

namespace barm::compost {
namespace {

Kind::Spread spread(DataEntry& entry, std::string_view key, std::string_view unit) {
  const Figure figure = entry.figure(key, unit);
  entry.promise(figure.low > 0.0, std::string(key) + " is not positive");  // spreads are drawn on a log scale
  return {.middle = figure.value, .low = figure.low, .high = figure.high};
}

Kind read_kind(DataEntry entry, const std::string& id) {
  Kind kind;
  kind.id = id;
  kind.english = entry.text("english");
  kind.spanish = entry.text("spanish");
  kind.dry_matter_share = spread(entry, "dry_matter", "share");
  kind.volatile_share = spread(entry, "volatile_solids", "share");
  kind.bacteria_per_g = spread(entry, "bacteria", "cells/g");
  kind.fungi_ug_per_g = spread(entry, "fungi", "ug/g");
  kind.protozoa_per_g = spread(entry, "protozoa", "1/g");
  kind.nitrogen_mg_per_g = spread(entry, "nitrogen", "mg/g");
  kind.carbon_mg_cod_per_g = spread(entry, "carbon", "mg COD/g");
  kind.uptake_mg_per_g_vs_h = spread(entry, "uptake", "mg/(g h)");
  kind.bulk_density_g_per_ml = entry.number("bulk_density", "g/mL");
  entry.promise(kind.dry_matter_share.high < 1.0 && kind.volatile_share.high < 1.0, "a share is 1 or more");
  kind.source = entry.sources();
  return kind;
}

}  // namespace

Kinds Kinds::read(std::string_view toml) {
  Kinds kinds;
  each_data_entry(toml, "compost", "composts.toml", [&](DataEntry entry, const std::string& id) {
    for (const Kind& other : kinds.kinds_) entry.promise(other.id != id, "stands there twice");
    kinds.kinds_.push_back(read_kind(std::move(entry), id));
  });
  return kinds;
}

Answer<const Kind*> Kinds::find(std::string_view name) const {
  const std::string wanted = plain_name(name);
  std::vector<std::string> ids;
  std::string allowed;
  for (const Kind& kind : kinds_) {
    if (plain_name(kind.id) == wanted || plain_name(kind.english) == wanted || plain_name(kind.spanish) == wanted) {
      return &kind;
    }
    ids.push_back(kind.id);
    allowed += (allowed.empty() ? "" : ", ") + kind.id;
  }
  Remark unknown{.code = "compost.kind.unknown", .field = "kind", .facts = {}};
  unknown.facts = {{"given", std::string(name)}, {"allowed", allowed}};
  if (const std::string meant = nearest_name(name, ids); !meant.empty()) unknown.facts["suggestion"] = meant;
  return Answer<const Kind*>::refused({unknown});
}

}  // namespace barm::compost
