#include "air/readings.h"

#include <cmath>
#include <optional>

namespace barm::air {
namespace {

// A probe out of its zero shows a little less than nothing; water under pure oxygen holds some 45 mg/L (judged).
constexpr double least_mg_per_l = -2.0;
constexpr double most_mg_per_l = 60.0;

// The first reading for which `wrong` holds, and how many there are; one remark speaks for all.
template <class Wrong>
bool refuse_where(std::size_t count, const char* code, const std::string& name, const char* part, Findings& findings,
                  std::map<std::string, Remark::Fact> facts, Wrong wrong) {
  std::optional<std::size_t> first;
  double wrong_count = 0.0;
  for (std::size_t i = 0; i < count; ++i) {
    if (!wrong(i)) continue;
    if (!first) first = i;
    wrong_count += 1.0;
  }
  if (!first) return false;
  facts["count"] = Quantity{wrong_count, Dimension::number};
  facts["row"] = Quantity{static_cast<double>(*first + 1), Dimension::number};
  findings.refuse(
      {.code = code, .field = name + "[" + std::to_string(*first) + "]." + part, .facts = std::move(facts)});
  return true;
}

}  // namespace

bool will_do(std::span<const OxygenReading> readings, int least_count, const std::string& name, Findings& findings) {
  const std::size_t n = readings.size();
  bool fine = true;
  if (n < static_cast<std::size_t>(least_count)) {
    findings.refuse({.code = "air.test.too_few_readings",
                     .field = name,
                     .facts = {{"given", Quantity{static_cast<double>(n), Dimension::number}},
                               {"least", Quantity{static_cast<double>(least_count), Dimension::number}}}});
    fine = false;
  }
  const bool numbers = !refuse_where(n, "air.test.not_a_number", name, "oxygen", findings, {}, [&](std::size_t i) {
    return !std::isfinite(readings[i].time_s) || !std::isfinite(readings[i].oxygen_mg_per_l);
  });
  if (!numbers) return false;
  const bool shown = !refuse_where(n, "air.test.oxygen_out_of_range", name, "oxygen", findings,
                                   {{"least", Quantity{least_mg_per_l, Dimension::concentration}},
                                    {"most", Quantity{most_mg_per_l, Dimension::concentration}}},
                                   [&](std::size_t i) {
                                     return readings[i].oxygen_mg_per_l < least_mg_per_l ||
                                            readings[i].oxygen_mg_per_l > most_mg_per_l;
                                   });
  const bool ordered =
      !refuse_where(n, "air.test.times_do_not_increase", name, "time", findings, {},
                    [&](std::size_t i) { return i > 0 && !(readings[i].time_s > readings[i - 1].time_s); });
  return fine && shown && ordered;
}

}  // namespace barm::air
