#include "cards/night_picture.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>

namespace barm::cards {
namespace {

constexpr double ms_per_h = 3'600'000.0;  // defined

struct Between {
  std::size_t left = 0;
  double share = 0.0;  // of the way from left to the next sample
};

std::optional<Between> between(const std::vector<double>& time_h, double at_h) {
  if (time_h.size() < 2 || !(at_h >= time_h.front()) || !(at_h <= time_h.back())) return std::nullopt;
  const auto right = std::upper_bound(time_h.begin() + 1, time_h.end() - 1, at_h);
  const auto left = static_cast<std::size_t>(right - time_h.begin()) - 1;
  const double step = time_h[left + 1] - time_h[left];
  return Between{left, step > 0.0 ? (at_h - time_h[left]) / step : 0.0};
}

double value_at(const std::vector<double>& values, const Between& at) {
  if (at.left + 1 >= values.size()) return unset;
  if (at.share == 0.0) return values[at.left];
  return values[at.left] + at.share * (values[at.left + 1] - values[at.left]);
}

// A scale that holds everything shown, ending on an even number of mg/L so that 2 and 6 are on it.
double top_of_scale(const NightPicture& picture) {
  double most = 8.0;
  for (const auto* values : {&picture.saturation_mg_per_l, &picture.oxygen_mg_per_l.p95})
    for (const double value : *values)
      if (std::isfinite(value)) most = std::max(most, value);
  return 2.0 * std::ceil(std::min(most, 40.0) / 2.0);  // judged: no tea holds 40 mg/L at any pressure of the air
}

// Round hours of the local clock, found on the clock itself so that a clock change moves them as it moves people's.
std::vector<ClockMark> clock_marks(const Voice& voice, Stretch shown) {
  constexpr double quarter_h = 0.25;  // every zone in use keeps whole quarters of an hour
  std::vector<ClockMark> marks;
  const double start_quarters = static_cast<double>(voice.start_at()) / (ms_per_h * quarter_h);
  for (double quarter = std::ceil(start_quarters + shown.from_h / quarter_h);; quarter += 1.0) {
    const double at_h = (quarter - start_quarters) * quarter_h;
    if (at_h > shown.to_h) return marks;
    const std::string clock = voice.clock(at_h);
    const std::size_t space = clock.rfind(' ');
    if (space == std::string::npos || clock.size() < space + 6) continue;
    const std::string hour = clock.substr(space + 1);
    if (hour.substr(3) != "00" || std::stoi(hour.substr(0, 2)) % 3 != 0) continue;
    marks.push_back({at_h, hour, clock.substr(0, space), hour == "00:00"});
  }
}

std::vector<Act> acts(const std::vector<recipe::Step>& steps, const Voice& voice, Stretch shown) {
  std::vector<Act> found;
  for (std::size_t i = 0; i < steps.size(); ++i) {
    const double at_h = steps[i].at_h;
    if (!(at_h >= shown.from_h && at_h <= shown.to_h)) continue;
    const std::string code = "act." + steps[i].code.substr(steps[i].code.rfind('.') + 1);
    if (!voice.has_label(code)) continue;  // a thing to do that does nothing to the brew: washing up, waiting
    found.push_back({at_h, voice.label(code)});
  }
  std::stable_sort(found.begin(), found.end(), [](const Act& a, const Act& b) { return a.at_h < b.at_h; });
  std::vector<Act> ticks;
  for (const Act& act : found) {
    constexpr double together_h = 0.3;  // judged: closer than this they would be drawn on one another
    if (!ticks.empty() && act.at_h - ticks.back().at_h < together_h) {
      if (ticks.back().word.find(act.word) == std::string::npos) ticks.back().word += ", " + act.word;
    } else {
      ticks.push_back(act);
    }
  }
  return ticks;
}

// Oxygen as it was read; per cent of saturation through what the water can hold then.
std::vector<Dot> dots(const recipe::BrewPlan& plan, const NightPicture& picture) {
  std::vector<Dot> found;
  if (!plan.watched) return found;
  for (const brew::Heard& heard : plan.watched->heard) {
    const brew::LogReading& reading = heard.reading;
    const bool is_share = reading.what == brew::Measured::oxygen_share;
    if (reading.what != brew::Measured::oxygen && !is_share) continue;
    const auto full = picture.saturation_at(reading.at_h);
    if (!full) continue;  // outside the picture
    const double unit = is_share ? *full : 1.0;
    found.push_back({.at_h = reading.at_h,
                     .mg_per_l = std::clamp(reading.value * unit, 0.0, picture.top_mg_per_l),
                     .error_mg_per_l = std::isfinite(heard.noise) ? heard.noise * unit : 0.0,
                     .doubted = heard.fate != brew::Fate::used && heard.fate != brew::Fate::merged});
  }
  return found;
}

}  // namespace

std::optional<Oxygen> NightPicture::oxygen_at(double at_h) const {
  const auto at = between(time_h, at_h);
  if (!at) return std::nullopt;
  const brew::Band& band = oxygen_mg_per_l;
  const Oxygen here{value_at(band.p05, *at), value_at(band.p25, *at), value_at(band.p50, *at), value_at(band.p75, *at),
                    value_at(band.p95, *at)};
  for (const double value : std::array{here.p05, here.p25, here.p50, here.p75, here.p95})
    if (!std::isfinite(value)) return std::nullopt;
  return here;
}

std::optional<double> NightPicture::saturation_at(double at_h) const {
  const auto at = between(time_h, at_h);
  if (!at) return std::nullopt;
  const double value = value_at(saturation_mg_per_l, *at);
  return std::isfinite(value) ? std::optional(value) : std::nullopt;
}

NightPicture night_picture(const recipe::BrewPlan& plan, const Voice& voice) {
  NightPicture picture;
  picture.stay_above = voice.label("picture.stay_above");
  picture.flat_below = voice.label("picture.flat_below");
  picture.water_full = voice.label("picture.water_full");
  picture.night = voice.label("picture.night");
  picture.ready_word = voice.label("picture.ready");
  picture.unit = voice.label("picture.unit");
  picture.band_key = voice.label("picture.band_key");

  const brew::Forecast& forecast = plan.forecast;
  const auto& time = forecast.time_h;
  if (time.size() < 2 || !std::isfinite(time.front()) || !std::isfinite(time.back())) return picture;
  picture.shown = {time.front(), time.back()};
  picture.time_h = time;
  picture.oxygen_mg_per_l = forecast.oxygen_mg_per_l;
  picture.saturation_mg_per_l = forecast.saturation_mg_per_l;
  picture.top_mg_per_l = top_of_scale(picture);
  picture.clock = clock_marks(voice, picture.shown);
  picture.acts = acts(plan.steps, voice, picture.shown);
  picture.readings = dots(plan, picture);
  if (const auto& next = forecast.next_reading; next && next->what == brew::Measured::oxygen)
    if (next->at_h >= picture.shown.from_h && next->at_h <= picture.shown.to_h) picture.next_h = next->at_h;
  for (const season::Night& night : plan.nights) {
    const double from = static_cast<double>(night.from_at - plan.ask.start_at) / ms_per_h;
    const double to = static_cast<double>(night.to_at - plan.ask.start_at) / ms_per_h;
    const Stretch seen{std::max(from, picture.shown.from_h), std::min(to, picture.shown.to_h)};
    if (seen.to_h > seen.from_h) picture.nights.push_back(seen);
  }
  const brew::ReadyWindow& ready = forecast.ready;
  if (ready.exists && ready.to_h >= ready.from_h && ready.from_h <= picture.shown.to_h)
    picture.ready = Ready{{ready.from_h, ready.to_h}, voice.clock(ready.from_h), voice.clock(ready.to_h)};
  return picture;
}

}  // namespace barm::cards
