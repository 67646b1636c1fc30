// What a design file tells, and what a design answers; described apart from the function that joins them.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "operations/inputs.h"
#include "operations/outputs.h"
#include "operations/plan_file.h"
#include "operations/room_day_read.h"
#include "recipe/design.h"

namespace barm::operations {

/// An amount of stock and what was paid for it, as the file tells them.
struct LotRow {
  recipe::CompostLot lot;
  double price_for_g = unset;
  bool is_animal_origin = false, origin_is_told = false;
};
struct FoodRow {
  recipe::ShelfFood food;
};

struct DesignInput {
  recipe::DesignAsk ask;
  std::string zone;
  double tube_bore_m = air::Supply{}.tube_bore_mm / 1000.0;
  std::int64_t start_until_at = 0, finish_from_at = 0, finish_until_at = 0;
  bool has_start_until = false, has_finish_from = false, has_finish_until = false;
  RoomTold room;  // how it swings over the day
  std::vector<LotRow> composts;
  std::vector<FoodRow> foods;
  double labour_h = 0.0;
  std::string crop;  // group in data/crops.toml; empty: none
  std::string plan;  // file for the best design's plan; empty: none
};

struct DesignTold {
  recipe::DesignAnswer answer;
  std::string zone, currency;
  Remarks notes;
  PlanBeside beside{};
};

Inputs<DesignInput> design_inputs();
Outputs<DesignTold> design_outputs();

}  // namespace barm::operations
