#include "compost/feedstock.h"

#include "compost/names.h"
#include "quantity/data_entry.h"

namespace barm::compost {
namespace {

Feedstock read_one(DataEntry entry, const std::string& id) {
  Feedstock feedstock;
  feedstock.id = id;
  feedstock.english = entry.text("english");
  feedstock.spanish = entry.text("spanish");
  feedstock.is_animal_origin = entry.claim("animal");
  const auto figure = [&](const char* key, const char* unit) {
    return entry.has(key) ? entry.figure(key, unit) : Figure{};
  };
  feedstock.nitrogen_share = figure("nitrogen", "share");
  feedstock.cn = figure("cn", "1");
  feedstock.moisture_share = figure("moisture", "share");
  feedstock.bulk_density_kg_per_m3 = figure("bulk_density", "kg/m3");
  entry.promise(!(feedstock.moisture_share.high >= 1.0), "moisture is all of it");
  feedstock.source = entry.sources();
  return feedstock;
}

}  // namespace

Feedstocks Feedstocks::read(std::string_view toml) {
  Feedstocks feedstocks;
  each_data_entry(toml, "feedstock", "feedstocks.toml", [&](DataEntry entry, const std::string& id) {
    for (const auto& other : feedstocks.all_) entry.promise(other.id != id, "stands there twice");
    feedstocks.all_.push_back(read_one(std::move(entry), id));
  });
  return feedstocks;
}

Answer<const Feedstock*> Feedstocks::find(std::string_view name) const {
  const std::string wanted = plain_name(name);
  std::vector<std::string> names;
  for (const auto& each : all_) {
    if (plain_name(each.id) == wanted || plain_name(each.english) == wanted || plain_name(each.spanish) == wanted) {
      return &each;
    }
    names.insert(names.end(), {each.english, each.spanish});
  }
  Remark unknown{"compost.feedstock.unknown", "name", {{"given", std::string(name)}}};
  if (const auto meant = nearest_name(name, names); !meant.empty()) unknown.facts["suggestion"] = meant;
  return Answer<const Feedstock*>::refused({unknown});
}

}  // namespace barm::compost
