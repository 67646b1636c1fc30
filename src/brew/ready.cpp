#include "brew/ready.h"

#include <algorithm>

namespace barm::brew {
namespace {

constexpr double longest_h = 24.0;  // never past a day (practice)
constexpr double settled_h = 4.0;   // most of what comes out of the compost is out (judged, docs/brew/model.md 10)
constexpr double enough_bacteria_per_ml = 3e7;  // 7.48 log10 total cells, below which no suppression was seen (M02)
constexpr double bloom_factor = 10.0;           // bacteria against what came out of the compost (judged)
constexpr double slow_factor = 1.5;             // fungi or grazers against what came out of the compost (judged)
constexpr double low_oxygen_mg_per_l = 2.0;
constexpr double over_growth_per_h = 0.02;  // slower than this the bloom is over (judged)
constexpr double after_bloom_h = 6.0;       // how long a spent bloom is still worth using (judged)

std::size_t place_of(const Forecast& f, double at_h) {
  const auto at = std::lower_bound(f.time_h.begin(), f.time_h.end(), at_h - 1e-9);
  return static_cast<std::size_t>(std::min(at, f.time_h.end() - 1) - f.time_h.begin());
}

/// First hour from which `holds` is true at a time; the horizon's end when never.
template <class Claim>
std::size_t first(const Forecast& f, std::size_t from, Claim holds) {
  for (std::size_t i = from; i < f.time_h.size(); ++i)
    if (holds(i)) return i;
  return f.time_h.size();
}

}  // namespace

ReadyWindow ready_window(const Forecast& f, Aim aim) {
  ReadyWindow window;
  if (f.time_h.empty()) return window;
  const std::size_t settled = place_of(f, settled_h), end = f.time_h.size();
  const auto& bacteria = f.bacteria_per_ml.p50;
  const auto& fungi = f.fungi_ug_per_ml.p50;
  const auto& grazers = f.protozoa_per_ml.p50;

  const std::size_t bloom = first(f, settled, [&](std::size_t i) {
    return bacteria[i] >= enough_bacteria_per_ml && bacteria[i] >= bloom_factor * bacteria[settled];
  });
  std::size_t from = bloom;
  window.why_from = "brew.ready.bacteria_enough";
  if (aim != Aim::bacterial) {
    const auto& slow = aim == Aim::fungal ? fungi : grazers;
    const std::size_t grown = first(f, settled, [&](std::size_t i) { return slow[i] >= slow_factor * slow[settled]; });
    if (grown > from || bloom == end) {
      from = std::max(from, grown);
      window.why_from = aim == Aim::fungal ? "brew.ready.fungi_grown" : "brew.ready.grazers_grown";
    }
  }
  if (from >= end) return window;

  double to_h = longest_h;
  window.why_to = "brew.ready.day_is_full";
  const std::size_t over = first(f, bloom, [&](std::size_t i) {
    return i + 4 < end && bacteria[i + 4] < bacteria[i] * (1.0 + over_growth_per_h * (f.time_h[i + 4] - f.time_h[i]));
  });
  if (over < end && f.time_h[over] + after_bloom_h < to_h && f.time_h[over] + after_bloom_h > f.time_h[from]) {
    to_h = f.time_h[over] + after_bloom_h;
    window.why_to = "brew.ready.bloom_is_over";
  }
  const std::size_t flat =
      first(f, from, [&](std::size_t i) { return f.oxygen_mg_per_l.p50[i] < low_oxygen_mg_per_l; });
  if (flat < end && f.time_h[flat] < to_h) {
    to_h = f.time_h[flat];
    window.why_to = "brew.ready.oxygen_gives_out";
  }
  window.from_h = f.time_h[from];
  window.to_h = to_h;
  window.exists = window.to_h > window.from_h;
  return window;
}

}  // namespace barm::brew
