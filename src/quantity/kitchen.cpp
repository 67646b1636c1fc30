#include "quantity/kitchen.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <span>
#include <vector>

#include "quantity/units.h"

namespace barm {
namespace {

// Judged: an error people would not notice in a brew; the plainest amount within it is offered.
constexpr double error_accepted = 0.05;
constexpr double least_g = 0.5;  // a kitchen scale shows whole grams
constexpr double eighths_per_tsp = 8.0;

/// Counts of one measure: whole ones and a part of `fractions`ths.
struct Count {
  int whole = 0;
  int over = 0;
  int under = 1;
  double value() const { return whole + static_cast<double>(over) / under; }
};

/// One or two measures that make an amount: "1 cup 2 tbsp". `size` is of one measure, in the unit inside.
struct Measured {
  std::string text;
  double inside = 0.0;
};

std::string_view vulgar(int over, int under) {
  struct Shape {
    int over, under;
    std::string_view text;
  };
  constexpr auto shapes =
      std::to_array<Shape>({{1, 8, "⅛"}, {1, 4, "¼"}, {3, 8, "⅜"}, {1, 2, "½"}, {3, 4, "¾"}, {1, 3, "⅓"}, {2, 3, "⅔"}});
  for (const Shape& shape : shapes)
    if (shape.over == over && shape.under == under) return shape.text;
  throw BrokenPromise("kitchen measures come in eighths, quarters, thirds and halves");
}

Count reduced(int parts, int under) {
  Count out{.whole = parts / under, .over = parts % under, .under = under};
  while (out.over != 0 && out.over % 2 == 0 && out.under % 2 == 0) {
    out.over /= 2;
    out.under /= 2;
  }
  if (out.over == 0) out.under = 1;
  return out;
}

Count nearest(double count, int under) {
  return reduced(static_cast<int>(std::lround(count * under)), under);
}

/// The nearer of quarters and thirds, as cups are sold.
Count nearest_quarter_or_third(double count) {
  const Count quarters = nearest(count, 4), thirds = nearest(count, 3);
  return std::abs(thirds.value() - count) < std::abs(quarters.value() - count) ? thirds : quarters;
}

std::string count_text(const Count& count) {
  if (count.over == 0) return std::to_string(count.whole);
  return (count.whole > 0 ? std::to_string(count.whole) : std::string()) + std::string(vulgar(count.over, count.under));
}

/// Some of one measure, "2¼ tsp".
Measured some(const Count& count, const Unit& unit) {
  const bool several = unit.spelling == "cup" && count.value() > 1.0;
  return {.text = count_text(count) + " " + std::string(unit.spelling) + (several ? "s" : ""),
          .inside = count.value() * unit.factor};
}

/// Whole ones of a larger measure and the rest in a smaller one, "1 tbsp ¾ tsp". `larger_under` 4: quarters of the
/// larger.
Measured pair(double inside, const Unit& larger, const Unit& smaller, int smaller_under, int larger_under = 1) {
  const double rest_step = smaller.factor / smaller_under;
  const double all = std::round(inside / rest_step) * rest_step;
  const Count many = reduced(static_cast<int>(std::floor(all / larger.factor * larger_under + 1e-9)), larger_under);
  const Count rest = nearest((all - many.value() * larger.factor) / smaller.factor, smaller_under);
  if (rest.value() == 0.0) return some(many, larger);
  if (many.value() == 0.0) return some(rest, smaller);
  Measured out = some(many, larger);
  const Measured behind = some(rest, smaller);
  return {.text = out.text + " " + behind.text, .inside = out.inside + behind.inside};
}

double error_share(const Measured& measured, double exact) {
  return (measured.inside - exact) / exact;
}

/// The first (plainest) candidate near enough, else the nearest that is not nothing.
Measured plainest(std::span<const Measured> candidates, double exact) {
  const Measured* best = nullptr;
  for (const Measured& candidate : candidates) {
    if (candidate.inside <= 0.0) continue;
    const double error = std::abs(error_share(candidate, exact));
    if (error <= error_accepted) return candidate;
    if (!best || error < std::abs(error_share(*best, exact))) best = &candidate;
  }
  expects(best != nullptr, "some measure is small enough for the amount");
  return *best;
}

const Unit& of_volume(std::string_view spelling) {
  return unit_spelled(spelling, Dimension::volume);
}
const Unit& of_mass(std::string_view spelling) {
  return unit_spelled(spelling, Dimension::mass);
}

/// A number on a fixed step of a metric unit, "1.25 L".
Measured on_step(double inside, double step_inside, const Unit& unit) {
  const double rounded = std::round(inside / step_inside) * step_inside;
  const Quantity shown{.value = rounded / unit.factor, .dimension = Dimension::number};
  return {.text = write(shown, {}, 6) + " " + std::string(unit.spelling), .inside = rounded};
}

/// Volumes up to a quarter cup, by the spoon.
Measured by_spoon(double litres) {
  const Unit& tsp = of_volume("tsp");
  const Unit& tbsp = of_volume("tbsp");
  const double spoons = litres / tsp.factor;
  if (spoons < 0.5) return some(nearest(spoons, 8), tsp);
  if (spoons < 2.875) return some(nearest(spoons, 4), tsp);
  const double tablespoons = litres / tbsp.factor;
  return plainest(std::array{some(nearest(tablespoons, 1), tbsp), some(nearest(tablespoons, 2), tbsp),
                             pair(litres, tbsp, tsp, spoons < 6.0 ? 4 : 2)},
                  litres);
}

Measured by_cup_and_jug(double litres, bool imperial) {
  const Unit& tbsp = of_volume("tbsp");
  const Unit& cup = of_volume("cup");
  const Unit& quart = of_volume(imperial ? "imp qt" : "US qt");
  const Unit& gallon = of_volume(imperial ? "imp gal" : "US gal");
  const double cups = litres / cup.factor;
  if (cups < 0.5)
    return plainest(std::array{some(nearest_quarter_or_third(cups), cup), some(nearest(litres / tbsp.factor, 1), tbsp),
                               some(nearest(litres / tbsp.factor, 2), tbsp)},
                    litres);
  if (litres < quart.factor * 0.97)
    return plainest(std::array{some(nearest_quarter_or_third(cups), cup), pair(litres, cup, tbsp, 1, 4)}, litres);
  if (litres < gallon.factor * 0.97)
    return plainest(std::array{some(nearest(litres / quart.factor, 2), quart),
                               some(nearest(litres / quart.factor, 4), quart), pair(litres, quart, cup, 4)},
                    litres);
  const double gallons = litres / gallon.factor;
  if (gallons >= 20.0) return some(nearest(gallons, 1), gallon);
  return plainest(std::array{some(nearest(gallons, 1), gallon), some(nearest(gallons, 2), gallon),
                             some(nearest(gallons, 4), gallon), pair(litres, gallon, cup, 1)},
                  litres);
}

/// A measuring jug's marks, so that the error stays under a twentieth.
Measured by_metric_jug(double litres) {
  struct Mark {
    double below_l, step_l;
  };
  constexpr auto marks =
      std::to_array<Mark>({{0.25, 0.005}, {0.5, 0.01}, {1.0, 0.025}, {2.0, 0.05}, {10.0, 0.1}, {50.0, 0.5}});
  double step = 1.0;
  for (auto mark = marks.rbegin(); mark != marks.rend(); ++mark)
    if (litres < mark->below_l) step = mark->step_l;
  const bool as_litres = std::round(litres / step) * step >= 1.0 - 1e-9;
  return on_step(litres, step, of_volume(as_litres ? "L" : "mL"));
}

Measured measured_volume(double litres, const Customs& customs) {
  const double quarter_cup = of_volume("cup").factor / 4.0;
  if (litres < quarter_cup * 0.97) return by_spoon(litres);
  if (customs.measures == Measures::metric) return by_metric_jug(litres);
  return by_cup_and_jug(litres, customs.gallon == Gallon::imperial);
}

Measured by_gram_scale(double grams) {
  const double step = grams < 1000.0 ? 1.0 : grams < 10000.0 ? 5.0 : grams < 50000.0 ? 50.0 : 500.0;
  const bool as_kilograms = std::round(grams / step) * step >= 1000.0;
  return on_step(grams, step, of_mass(as_kilograms ? "kg" : "g"));
}

Measured by_pound_scale(double grams) {
  const Unit& oz = of_mass("oz");
  const Unit& lb = of_mass("lb");
  const double ounces = grams / oz.factor;
  std::vector<Measured> candidates;
  if (ounces < 15.5) {
    candidates = {some(nearest(ounces, 1), oz), some(nearest(ounces, 2), oz), some(nearest(ounces, 4), oz)};
    if (ounces < 3.0) candidates.push_back(by_gram_scale(grams));
  } else {
    const double pounds = grams / lb.factor;
    candidates = {some(nearest(pounds, 1), lb), some(nearest(pounds, 2), lb), some(nearest(pounds, 4), lb)};
    if (pounds < 8.0) candidates.push_back(pair(grams, lb, oz, 1));
  }
  return plainest(candidates, grams);
}

std::string in_metric(double inside, Dimension dimension) {
  const bool large = dimension == Dimension::volume && inside >= 1.0;
  const Unit& unit = dimension == Dimension::mass ? of_mass("g") : of_volume(large ? "L" : "mL");
  const double reading = from_inside(unit, inside);
  return write({.value = reading, .dimension = Dimension::number}, {},
               reading < 10.0     ? 2
               : reading < 1000.0 ? 3
                                  : 4) +
         " " + std::string(unit.spelling);
}

Answer<KitchenAmount> refuse(std::string_view code, Quantity given, std::optional<Quantity> least) {
  Remark why{.code = std::string(code), .field = {}, .facts = {{"given", given}}};
  if (least) why.facts["least"] = *least;
  return Answer<KitchenAmount>::refused({std::move(why)});
}

}  // namespace

Answer<KitchenAmount> round_for_kitchen(Quantity amount, const Customs& customs, double bulk_density_g_per_ml) {
  const bool by_mass = amount.dimension == Dimension::mass;
  expects(by_mass || amount.dimension == Dimension::volume, "a kitchen amount is a mass or a volume");
  expects(bulk_density_g_per_ml >= 0.0, "a bulk density is not negative; 0 when unknown");
  if (!std::isfinite(amount.value))
    return refuse("quantity.kitchen.not_finite", {.value = 0.0, .dimension = amount.dimension}, {});
  const double most = 1e9;  // what int counts of eighths bear; beyond any brew
  const Quantity least{.value = by_mass ? least_g : of_volume("tsp").factor / eighths_per_tsp,
                       .dimension = amount.dimension};
  if (amount.value < least.value * (1.0 - 1e-9)) return refuse("quantity.kitchen.too_small", amount, least);
  if (amount.value > most) return refuse("quantity.kitchen.too_large", amount, {});

  Measured measured;
  const double litres = by_mass && bulk_density_g_per_ml > 0.0 ? amount.value / bulk_density_g_per_ml / 1000.0 : 0.0;
  const bool spoonable = litres >= of_volume("tsp").factor / eighths_per_tsp && litres <= 4.0 * of_volume("cup").factor;
  if (spoonable) {
    measured = measured_volume(litres, customs);
    measured.inside *= 1000.0 * bulk_density_g_per_ml;
  } else if (by_mass) {
    measured = customs.measures == Measures::us ? by_pound_scale(amount.value) : by_gram_scale(amount.value);
  } else {
    measured = measured_volume(amount.value, customs);
  }
  KitchenAmount out;
  out.exact = amount;
  out.rounded = {.value = measured.inside, .dimension = amount.dimension};
  out.text = measured.text;
  out.beside = in_metric(measured.inside, amount.dimension);
  out.error_share = error_share(measured, amount.value);
  return out;
}

}  // namespace barm
