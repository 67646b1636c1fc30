// Every question and act the program knows.
#pragma once

#include <vector>

#include "operations/operation.h"

namespace barm::operations {

Operation water_oxygen();
Operation water_clear();
Operation units_convert();
Operation air_test();
Operation air_supply();
Operation count_tubes();
Operation count_slide();
Operation count_plates();
Operation count_hyphae();
Operation count_series();
Operation brew_plan();
Operation brew_forecast();
Operation brew_judge();
Operation brew_day();
Operation recipe_design();
Operation recipe_equipment();
Operation recipe_scale();
Operation recipe_substitute();
Operation compost_blend();
Operation compost_heat();
Operation compost_judge();
Operation compost_lot();
Operation compost_heap();
Operation rule_check();
Operation rule_class();
Operation rule_calendar();
Operation rule_tests();
Operation rule_pack();
std::vector<Operation> record_add();  // one a kind
Operation record_correct();
Operation record_withdraw();
Operation record_brew();
Operation record_live();
Operation record_list();
Operation record_trace();
Operation record_stock();
Operation record_photo();
Operation record_readings();
Operation record_log();
Operation record_import();
Operation record_export();
Operation record_backup();
Operation record_restore();
Operation record_verify();

/// In the order of the work: as help and reference list them.
const std::vector<Operation>& all_operations();

}  // namespace barm::operations
