#include "operations/registry.h"

namespace barm::operations {

const std::vector<Operation>& all_operations() {
  static const std::vector<Operation> all = [] {
    std::vector<Operation> some;
    for (const auto& operation :
         {brew_plan,    brew_forecast, brew_judge,    brew_day,         water_oxygen, water_clear,       air_test,
          air_supply,   compost_blend, compost_heat,  compost_judge,    compost_lot,  compost_heap,      count_tubes,
          count_plates, count_slide,   count_hyphae,  count_series,     rule_check,   rule_class,        rule_calendar,
          rule_tests,   rule_pack,     recipe_design, recipe_equipment, recipe_scale, recipe_substitute, units_convert})
      some.push_back(operation());
    for (auto& operation : record_add()) some.push_back(std::move(operation));
    for (const auto& operation : {record_correct, record_withdraw, record_brew, record_live, record_list, record_trace,
                                  record_stock, record_photo, record_readings, record_import, record_export,
                                  record_backup, record_restore, record_verify, record_log})
      some.push_back(operation());
    return some;
  }();
  return all;
}

}  // namespace barm::operations
