#include "cards/voice.h"

#include <cmath>

#include "cards/columns.h"
#include "cards/local_time.h"

namespace barm::cards {
namespace {

constexpr double ms_per_h = 3'600'000.0;  // defined

}  // namespace

std::string Voice::label(std::string_view key, Facts facts) const {
  return say({.code = "cards." + std::string(key), .field = {}, .facts = std::move(facts)});
}

bool Voice::has_label(std::string_view key) const {
  return knows("cards." + std::string(key));
}

bool Voice::knows(std::string_view code) const {
  return catalogue_->has(code);
}

Remark Voice::told(const Remark& remark) const {
  Remark here = remark;
  for (const auto& [name, fact] : remark.facts) {
    const auto* quantity = std::get_if<Quantity>(&fact);
    if (quantity != nullptr && quantity->dimension == Dimension::duration)
      here.facts.emplace(name + "_clock", clock(quantity->value));
  }
  for (auto& [name, fact] : here.facts)
    if (auto* text = std::get_if<std::string>(&fact)) *text = clean(*text);
  return here;
}

std::string Voice::say(const Remark& remark) const {
  return catalogue_->text(told(remark), about_.language, about_.customs);
}

std::string Voice::next(const Remark& remark) const {
  return catalogue_->next(told(remark), about_.language, about_.customs);
}

std::string Voice::clock(double at_h) const {
  constexpr double furthest_h = 24.0 * 366.0;  // judged: nobody plans a brew's act a year away
  if (!(std::fabs(at_h) <= furthest_h)) return label("unknown_time");
  const auto minutes = static_cast<std::int64_t>(std::llround(at_h * 60.0));
  return local_text(about_.start_at + minutes * 60'000, about_.zone, about_.language);
}

std::string Voice::from_start(double at_h) const {
  if (std::fabs(at_h) < 1.0 / 120.0) return label("air_on");  // within half a minute
  const int digits = std::fabs(at_h) < 10.0 ? 3 : 2;          // to the minute near air on, to the hour far from it
  return (at_h < 0.0 ? "−" : at_h > 0.0 ? "+" : "") + amount(std::fabs(at_h), Dimension::duration, digits);
}

std::string Voice::lasting(double duration_h) const {
  return amount(duration_h, Dimension::duration);
}

std::string Voice::odds(double probability) const {
  if (!(probability >= 0.0 && probability <= 1.0)) return label("unknown");
  const auto of_100 = std::lround(probability * 100.0);
  if (of_100 == 0) return label("odds.fewest");
  if (of_100 == 100) return label("odds.most");
  return label("odds", {{"count", std::to_string(of_100)}});
}

std::string Voice::amount(double value, Dimension dimension, int significant) const {
  if (!std::isfinite(value)) return label("unknown");
  return write(as_told({value, dimension}), about_.customs, significant);
}

std::string Voice::many(double count) const {
  if (!std::isfinite(count)) return label("unknown");
  const auto in = [&](double unit) { return amount(count / unit, Dimension::number); };
  if (count >= 0.95e9) return in(1e9) == "1" ? label("billion") : label("billions", {{"count", in(1e9)}});
  if (count >= 0.95e6) return label("millions", {{"count", in(1e6)}});
  return in(1.0);
}

}  // namespace barm::cards
