#include "operations/heat_csv.h"

#include <algorithm>
#include <map>
#include <utility>

#include "compost/names.h"
#include "operations/csv_table.h"
#include "operations/instant.h"

namespace barm::operations {
namespace {

constexpr std::size_t rows_most = 10'000'000;  // judged: a year of minutes at 19 places, a row each
constexpr double ms_per_h = 3'600'000.0;
constexpr const char* sample = "time,position,temperature_c,event";

struct TemperatureColumn {
  std::size_t column = 0;
  std::string position;  // empty: told in its own column
};

class HeatReader {
 public:
  HeatReader(std::string_view text, const std::string& field)
      : table_(text, {.field = field, .sample = sample, .rows_most = rows_most}, findings_), field_(field) {}

  Answer<HeatFile> read() {
    if (!findings_.refused()) name_columns();
    if (findings_.refused()) return std::move(findings_).refusal<HeatFile>();
    table_.doubt_unused();
    while (table_.next()) row();
    if (!findings_.refused() && file_.log.positions.empty())
      table_.refuse("operations.readings.empty", {{"allowed", sample}});
    return std::move(findings_).answer(std::move(file_));
  }

 private:
  void name_columns() {
    instant_ = table_.column_if_any("time");
    hours_ = table_.column_if_any("time_h");
    if (instant_.has_value() == hours_.has_value()) table_.refuse("operations.heat.one_clock", {{"allowed", sample}});
    event_ = table_.column_if_any("event");
    position_ = table_.column_if_any("position");
    const auto celsius = table_.column_if_any("temperature_c");
    const auto fahrenheit = table_.column_if_any("temperature_f");
    if (celsius && fahrenheit) return table_.refuse("operations.heat.two_scales");
    if (celsius || fahrenheit) {
      file_.log.is_fahrenheit = fahrenheit.has_value();
      temperatures_.push_back({celsius ? *celsius : *fahrenheit, position_ ? "" : compost::whole_pile});
      return;
    }
    name_wide();
  }

  void name_wide() {
    bool any_celsius = false, any_fahrenheit = false;
    for (std::size_t i = 0; i < table_.columns().size(); ++i) {
      const std::string& name = table_.columns()[i];
      const bool is_celsius = name.size() > 2 && name.ends_with("_c");
      const bool is_fahrenheit = name.size() > 2 && name.ends_with("_f");
      if (!is_celsius && !is_fahrenheit) continue;
      const auto once = table_.column_if_any(name);
      if (!once) continue;
      any_celsius = any_celsius || is_celsius;
      any_fahrenheit = any_fahrenheit || is_fahrenheit;
      temperatures_.push_back({*once, name.substr(0, name.size() - 2)});
    }
    if (any_celsius && any_fahrenheit) return table_.refuse("operations.heat.two_scales");
    if (temperatures_.empty()) return table_.refuse("operations.heat.no_temperatures", {{"allowed", sample}});
    file_.log.is_fahrenheit = any_fahrenheit;
  }

  std::optional<double> time() {
    if (hours_) return table_.number(*hours_);
    const auto at = read_instant(table_.text(*instant_));
    if (!at.ok()) {
      table_.refuse("operations.heat.not_an_instant", *instant_);
      return std::nullopt;
    }
    if (!file_.start_at) file_.start_at = at->at_ms;
    return static_cast<double>(at->at_ms - *file_.start_at) / ms_per_h;
  }

  void row() {
    const auto time_h = time();
    if (!time_h) return;
    if (event_ && !table_.text(*event_).empty()) event(*time_h);
    for (const auto& from : temperatures_) {
      if (table_.text(from.column).empty()) continue;
      const auto given = table_.number_if_any(from.column);
      if (!given) {
        table_.refuse("operations.readings.not_a_number", from.column);
        continue;
      }
      const double at_c = file_.log.is_fahrenheit ? (*given - 32.0) * 5.0 / 9.0 : *given;
      auto& position =
          position_named(from.position.empty() ? table_.text(*position_) : std::string_view(from.position));
      position.time_h.push_back(*time_h);
      position.temperature_c.push_back(static_cast<float>(at_c));
    }
  }

  void event(double time_h) {
    static const std::vector<std::string> turns = {"turn", "turned", "turning", "volteo", "volteado"};
    const auto word = compost::plain_name(table_.text(*event_));
    if (std::find(turns.begin(), turns.end(), word) != turns.end()) return file_.log.turned_at_h.push_back(time_h);
    if (!std::exchange(unknown_event_told_, true)) {
      findings_.doubt(
          {"operations.heat.event_not_used",
           field_,
           {{"given", std::string(table_.text(*event_).substr(0, 40))}, {"line", std::to_string(table_.line())}}});
    }
  }

  compost::HeatPosition& position_named(std::string_view name) {
    auto at = index_.find(name);
    if (at == index_.end()) {
      at = index_.emplace(std::string(name), file_.log.positions.size()).first;
      file_.log.positions.push_back({std::string(name), {}, {}});
    }
    return file_.log.positions[at->second];
  }

  Findings findings_;
  CsvTable table_;
  std::string field_;
  HeatFile file_;
  std::optional<std::size_t> instant_, hours_, event_, position_;
  std::vector<TemperatureColumn> temperatures_;
  std::map<std::string, std::size_t, std::less<>> index_;
  bool unknown_event_told_ = false;
};

}  // namespace

Answer<HeatFile> read_heat(std::string_view text, const std::string& field) {
  return HeatReader(text, field).read();
}

}  // namespace barm::operations
