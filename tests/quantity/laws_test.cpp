// What must hold for any input. A failing run prints its seed.
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "quantity/fold.h"
#include "quantity/kitchen.h"
#include "quantity/units.h"

namespace barm {
namespace {

rc::Gen<double> amounts() {
  return rc::gen::map(rc::gen::pair(rc::gen::inRange(1, 1000000), rc::gen::inRange(-7, 3)),
                      [](const std::pair<int, int>& parts) { return parts.first * std::pow(10.0, parts.second); });
}

rc::Gen<Customs> customs() {
  return rc::gen::map(rc::gen::pair(rc::gen::inRange(0, 3), rc::gen::arbitrary<bool>()),
                      [](const std::pair<int, bool>& parts) {
                        Customs out;
                        if (parts.first > 0) out.gallon = parts.first == 1 ? Gallon::us : Gallon::imperial;
                        out.measures = parts.second ? Measures::us : Measures::metric;
                        return out;
                      });
}

rc::Gen<const Unit*> any_unit() {
  return rc::gen::map(rc::gen::inRange<std::size_t>(0, units().size()), [](std::size_t i) { return &units()[i]; });
}

RC_GTEST_PROP(Laws, convert_there_and_back, ()) {
  const Unit& unit = **any_unit();
  const double reading = *amounts();
  RC_ASSERT(std::abs(from_inside(unit, to_inside(unit, reading)) - reading) <=
            1e-12 * (std::abs(reading) + std::abs(unit.zero)));
}

RC_GTEST_PROP(Laws, every_unit_of_a_dimension_converts_to_every_other, ()) {
  const Unit& from = **any_unit();
  const Unit& to = **any_unit();
  RC_PRE(from.dimension == to.dimension);
  const auto there = convert("7 " + std::string(from.spelling), to.spelling);
  RC_ASSERT(there.ok());
}

RC_GTEST_PROP(Laws, what_is_written_reads_back_within_the_printed_digits, ()) {
  const auto dimension = static_cast<Dimension>(*rc::gen::inRange<std::size_t>(0, dimension_count));
  const Quantity quantity{.value = *amounts(), .dimension = dimension};
  const Customs garden = *customs();
  const int significant = *rc::gen::inRange(3, 10);
  const std::string text = write(quantity, garden, significant);
  const auto back = read_quantity(text, dimension, garden);
  RC_LOG() << text;
  RC_ASSERT(back.ok());
  double allowed = 0.5001 * std::pow(10.0, 1 - significant) * std::abs(quantity.value);
  if (dimension == Dimension::temperature)
    allowed = 5.1 * std::pow(10.0, -significant) * (std::abs(quantity.value) + 32.0);
  if (dimension == Dimension::duration) allowed = std::max(allowed, std::min(quantity.value * 0.01, 5.001 / 60.0));
  RC_ASSERT(std::abs(*back - quantity.value) <= allowed + 1e-15);
}

RC_GTEST_PROP(Laws, kitchen_text_says_the_rounded_amount, ()) {
  const auto dimension = *rc::gen::element(Dimension::mass, Dimension::volume);
  const double amount = *amounts() + 0.5;  // grams or millilitres
  const Quantity quantity{.value = dimension == Dimension::volume ? amount / 1000.0 + 0.0002 : amount,
                          .dimension = dimension};
  const Customs garden = *customs();
  const auto kitchen = round_for_kitchen(quantity, garden);
  RC_ASSERT(kitchen.ok());
  const auto back = read_quantity(kitchen->text, dimension, garden);
  RC_LOG() << kitchen->text;
  RC_ASSERT(back.ok());
  RC_ASSERT(std::abs(*back - kitchen->rounded.value) <= 1e-9 * kitchen->rounded.value);
  RC_ASSERT(std::abs(kitchen->rounded.value / quantity.value - 1.0 - kitchen->error_share) < 1e-9);
}

RC_GTEST_PROP(Laws, any_bytes_are_read_or_refused, (const std::string& noise)) {
  const auto dimension = static_cast<Dimension>(*rc::gen::inRange<std::size_t>(0, dimension_count));
  const auto one = read_quantity(noise, dimension);
  const bool read_or_refused = one.ok() ? std::isfinite(*one) : !one.refusals().empty();
  RC_ASSERT(read_or_refused);
  const auto range = read_range(noise, dimension);
  const bool in_order = !range.ok() || range->low <= range->high;
  RC_ASSERT(in_order);
  (void)read_amount(noise);
  (void)convert(noise, noise);
}

RC_GTEST_PROP(Laws, near_misses_are_read_or_refused, ()) {
  const auto pieces = *rc::gen::container<std::vector<std::string>>(rc::gen::element<std::string>(
      "1", "2/3", "½", "1,500", ".", ",", "-", "–", " ", "to", "lb", "oz", "gal", "US gal", "°F", "h", "min", "/",
      "100", "m2", "x10^", "e9", "%", "+", "and", "²", "·", "L-1"));
  std::string text;
  for (const auto& piece : pieces) text += piece;
  const auto dimension = static_cast<Dimension>(*rc::gen::inRange<std::size_t>(0, dimension_count));
  const auto one = read_quantity(text, dimension);
  const bool read_or_refused = one.ok() ? std::isfinite(*one) : !one.refusals().empty();
  RC_ASSERT(read_or_refused);
  const auto range = read_range(text, dimension);
  const bool same = !one.ok() || (range.ok() && range->low == *one && range->high == *one);
  RC_ASSERT(same);
}

RC_GTEST_PROP(Laws, what_is_shown_back_is_valid_text, (const std::string& noise)) {
  const std::string shown = showable(noise);
  RC_ASSERT(fold(shown).has_value());
  RC_ASSERT(shown.size() <= longest_text + 6);
}

}  // namespace
}  // namespace barm
