// A brew designed backwards: what the grower wants to treat and what stands on the shelf in, a brew that will work out.
// Model: docs/recipe/design.md
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "recipe/batch_cost.h"
#include "recipe/plan.h"

namespace barm::recipe {

/// What the tea is for. An extract is what the water gets out of the compost, with no food added.
enum class Purpose : std::uint8_t { bacterial, fungal, balanced, extract };

/// When the grower will spread it: the air stops then.
enum class UseHours : std::uint8_t { any, morning, evening };

struct CompostLot {
  std::string kind;  // id in data/composts.toml
  double stock_g = unset;
  Price price;
  bool in_bag = true;
  std::optional<bool> is_animal_origin;  // holds manure or another animal by-product; nothing: not known
};
struct ShelfFood {
  std::string name;
  Amount stock;
  Price price;
};
struct TreatedBed {
  std::string name;
  double area_m2 = unset;
};
struct OwnedVessel {
  std::string name;
  double capacity_l = unset;  // water it may hold without foaming over
  double diameter_m = unset;
};

struct DesignAsk {
  std::string name = "brew";
  Purpose purpose = Purpose::balanced;
  season::Place place;
  double altitude_m = 0.0;
  Customs customs;
  double volume_l = unset;       // or what the beds take
  std::vector<TreatedBed> beds;  // all of one rate
  double rate_l_per_ha = 400.0;  // practice: 1 US gal on 1,000 square feet
  std::vector<OwnedVessel> vessels;
  double water_temperature_c = 20.0;
  water::Disinfectant disinfectant;
  bool disinfectant_is_known = false;
  air::Supply air;
  double measured_kla20_per_h = unset;
  double measured_kla20_error_per_h = unset;
  double room_temperature_c = 20.0;
  RoomDay room_day;  // when told, in place of the one temperature
  double room_humidity_share = 0.5;
  std::vector<CompostLot> composts;
  std::vector<ShelfFood> foods;
  std::int64_t start_from_at = 0;  // air on, no earlier [ms UTC]
  std::optional<std::int64_t> start_until_at;
  std::optional<std::int64_t> finish_from_at, finish_until_at;  // air off
  UseHours use_hours = UseHours::any;
  double tolerance = 0.90;  // least share of brews that must stay above 6 mg/L throughout
  double longest_h = 24.0;
  bool crop_is_covered_produce = false;  // usually eaten raw, as 21 CFR 112 has it
  Tariffs tariffs;
  int members_count = 256;
  std::uint64_t seed = 1;
};

/// Why this part of a design exists.
enum class Role : std::uint8_t { best, cheapest, least_risk };

struct Design {
  Role role = Role::best;
  BrewPlan plan{};           // its ask is what `brew plan` answers with these same figures
  double yield = unset;      // of the purpose, while the brew is in its window (docs/recipe/design.md, 1 to 4)
  double yield_share = 1.0;  // of the best design's
  BatchCost cost{};
  std::int64_t finish_at = 0;
  Remarks reasons{};  // what holds it where it is, and how far it lies from common practice
};

/// What another tolerance for low oxygen would have bought, from the brews tried on the way.
struct Bargain {
  double tolerance = unset;
  double yield_share = unset;  // of the best design's
};

struct DesignAnswer {
  std::vector<Design> designs;  // the best first
  std::string vessel;           // name of the one chosen
  double area_m2 = unset;       // that the water covers at the rate
  std::vector<Bargain> bargains;
  Remarks notes;
  int tried_count = 0;  // brews forecast on the way, each with all its members
};

/// How a design is worked out beside its ask: lent threads, a place to tell how far it is, and whether to give up.
struct DesignHelp {
  brew::Parallel parallel = brew::one_after_the_other;
  std::function<void(double share)> progress;  // 0 to 1, never backwards
  std::function<bool()> should_stop;           // asked before every forecast
};

/// The best brew and up to two that really differ from it. Refuses, naming every wrong field of the ask, and when
/// nothing on hand can work: the reason and the nearest ask that can. The answer does not depend on `parallel`.
Answer<DesignAnswer> design_brew(const DesignAsk& ask, const Knowledge& knowledge, const DesignHelp& help = {});

}  // namespace barm::recipe
