#include "operations/readings_csv.h"

#include "operations/csv_table.h"

namespace barm::operations {

Answer<std::vector<air::OxygenReading>> read_readings(std::string_view text, const std::string& field) {
  Findings findings;
  std::vector<air::OxygenReading> readings;
  CsvTable table(text, {.field = field, .sample = "time_s,oxygen_mg_per_l"}, findings);
  const auto time = table.column("time_s");
  const auto oxygen = table.column("oxygen_mg_per_l");
  if (findings.refused()) return std::move(findings).refusal<std::vector<air::OxygenReading>>();
  table.doubt_unused();
  while (table.next()) {
    const auto time_s = table.number(*time);
    const auto oxygen_mg_per_l = table.number(*oxygen);
    if (time_s && oxygen_mg_per_l) readings.push_back({*time_s, *oxygen_mg_per_l});
  }
  return std::move(findings).answer(std::move(readings));
}

}  // namespace barm::operations
