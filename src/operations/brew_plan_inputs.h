// What a plan file tells, and what a plan answers; described apart from the function that joins them.
#pragma once

#include <string>

#include "operations/inputs.h"
#include "operations/outputs.h"
#include "operations/room_day_read.h"
#include "operations/rule_class_told.h"
#include "operations/rule_inputs.h"
#include "operations/world.h"
#include "recipe/plan_cost.h"
#include "rule/contaminant.h"

namespace barm::operations {

struct PlanInput {
  recipe::PlanAsk ask;
  std::string zone;                                          // of the garden's clock
  double tube_bore_m = air::Supply{}.tube_bore_mm / 1000.0;  // the pump's own is in millimetres
  RoomTold room;                                             // how it swings over the day
  RuleChoice rules{"us_produce", {}};                        // that tell the class of the tea
  RuleFacts facts;                                           // of its compost, water and bed, for the class
  recipe::Tariffs tariffs;
  double labour_h = 0.0;         // to mix, watch, spread and clean
  double rate_l_per_ha = unset;  // what is spread
  std::string readings;          // file of the brew's log; empty: none
  std::string card;              // file for the printed card; empty: none
};

struct PlanAnswer {
  recipe::BrewPlan plan;
  std::string zone;
  std::optional<ClassTold> legal{};  // by the produce-safety rule, when it is among the rules chosen
  recipe::PlanCost cost{};
  std::string currency{};
  rule::Growth growth{};  // upper end of an indicator's growth; indicative
};

/// What an input asks the planner for; its readings aside.
recipe::PlanAsk ask_of(const PlanInput& in, Findings& findings);
/// The plan of an input, its readings read. For every operation that takes a plan file.
Answer<PlanAnswer> planned(const PlanInput& in, const World& world);
/// Kinds and foods nobody knows.
Remarks unknown_names(const PlanInput& in, const World& world);

/// Everything a plan file tells of the brew itself.
Inputs<PlanInput> brew_inputs();
/// The same, and what was read of it.
Inputs<PlanInput> forecast_inputs();
/// The same, and the card to write.
Inputs<PlanInput> plan_inputs();
Outputs<PlanAnswer> plan_outputs();
/// The part of a plan's answer that tells what the brew will do.
Outputs<PlanAnswer> forecast_outputs();

}  // namespace barm::operations
