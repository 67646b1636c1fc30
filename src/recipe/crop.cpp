#include "recipe/crop.h"

#include "quantity/data_entry.h"
#include "compost/names.h"

namespace barm::recipe {

Remark Crop::said() const {
  return {"recipe.crop.convention",
          "",
          {{"crop", names.front()},
           {"crop_es", spanish},
           {"low", Quantity{low, Dimension::number}},
           {"high", Quantity{high, Dimension::number}}}};
}

Crops Crops::read(std::string_view toml) {
  Crops crops;
  each_data_entry(toml, "crop", "crops.toml", [&](DataEntry entry, const std::string& id) {
    Crop crop;
    crop.id = id;
    crop.names = entry.texts("names");
    crop.spanish = entry.text("spanish");
    crop.low = entry.number("ratio_low", "g/g");
    crop.high = entry.number("ratio_high", "g/g");
    crop.source = entry.sources();
    entry.promise(crop.low > 0.0 && crop.low <= crop.high, "the range does not run from low to high");
    crops.all_.push_back(std::move(crop));
  });
  return crops;
}

Answer<const Crop*> Crops::find(std::string_view name) const {
  const std::string wanted = compost::plain_name(name);
  std::vector<std::string> known;
  std::string allowed;
  for (const Crop& crop : all_) {
    if (compost::plain_name(crop.id) == wanted || compost::plain_name(crop.spanish) == wanted) return &crop;
    for (const std::string& own : crop.names)
      if (compost::plain_name(own) == wanted) return &crop;
    known.insert(known.end(), crop.names.begin(), crop.names.end());
    allowed += (allowed.empty() ? "" : ", ") + crop.names.front();
  }
  Remark unknown{.code = "recipe.crop.unknown", .field = "name", .facts = {}};
  unknown.facts = {{"given", std::string(name)}, {"allowed", allowed}};
  if (const std::string meant = compost::nearest_name(name, known); !meant.empty()) unknown.facts["suggestion"] = meant;
  return Answer<const Crop*>::refused({unknown});
}

}  // namespace barm::recipe
