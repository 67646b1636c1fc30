#include "quantity/terms.h"

#include <algorithm>
#include <cmath>

#include "quantity/fold.h"
#include "quantity/number.h"

namespace barm {
namespace {

constexpr int most_terms = 4;

Answer<Term> refuse(Remark why) {
  return Answer<Term>::refused({std::move(why)});
}

Answer<Term> refuse_number(const Wanted& wanted, const WrittenNumber& number, std::string_view rest) {
  switch (number.problem) {
    case NumberProblem::not_finite:
      return refuse(remark(wanted, "quantity.number.not_finite"));
    case NumberProblem::unreadable:
      return refuse(remark(wanted, "quantity.number.unreadable"));
    case NumberProblem::unclear: {
      Remark why = remark(wanted, "quantity.number.unclear");
      const std::string unit = rest.empty() ? std::string() : " " + showable(rest);
      why.facts["first"] = number.first + unit;
      why.facts["second"] = number.second + unit;
      return refuse(std::move(why));
    }
    default:
      break;
  }
  const bool no_unit_exists = wanted.dimension == Dimension::number;
  Remark why = remark(wanted, no_unit_exists ? "quantity.number.missing" : "quantity.number.missing_before_unit");
  if (!no_unit_exists) why.facts["allowed"] = wanted.accepted();
  return refuse(std::move(why));
}

/// Words that are a unit elsewhere, and what was likely meant here.
std::string_view likely_instead(const Unit& found, std::optional<Dimension> wanted) {
  if (wanted == Dimension::volume && found.spelling == "oz") return "fl oz";
  if (wanted == Dimension::volume && found.spelling == "°C") return "cup";
  if (wanted == Dimension::mass && found.spelling == "fl oz") return "oz";
  if (wanted == Dimension::duration && found.spelling == "m") return "min";
  if (wanted == Dimension::area && found.spelling == "ft") return "ft2";
  if (wanted == Dimension::area && found.spelling == "m") return "m2";
  return {};
}

Answer<Term> refuse_unit(const Wanted& wanted, const Meaning& meaning, std::string_view number, std::string_view unit) {
  const auto of = [&](std::string_view code) {
    Remark why = remark(wanted, code);
    why.facts["unit"] = showable(unit);
    return why;
  };
  if (wanted.dimension == Dimension::number) return refuse(of("quantity.unit.not_wanted"));
  const bool some_fit =
      std::ranges::any_of(meaning.readings, [&](const Unit* reading) { return wanted.fits(reading->dimension); });
  if (some_fit) {
    Remark why = of("quantity.unit.unclear");
    std::string allowed;
    for (const Unit* reading : meaning.readings) {
      if (!wanted.fits(reading->dimension)) continue;
      if (!allowed.empty()) allowed += ", ";
      allowed += showable(number) + " " + std::string(reading->spelling);
    }
    why.facts["allowed"] = allowed;
    return refuse(std::move(why));
  }
  const Unit* found = meaning.unit ? meaning.unit : meaning.readings.empty() ? nullptr : meaning.readings.front();
  if (found) {
    Remark why = of("quantity.measures." + std::string(dimension_key(found->dimension)));
    const std::string_view instead = likely_instead(*found, wanted.dimension);
    why.facts["allowed"] = instead.empty() ? wanted.accepted() : std::string(instead) + ", " + wanted.accepted();
    return refuse(std::move(why));
  }
  std::string near = likely_unit(unit, wanted.dimension.value_or(Dimension::volume));
  if (near.empty() && !wanted.dimension) near = likely_unit(unit, Dimension::mass);
  Remark why = of(near.empty() ? "quantity.unit.unknown" : "quantity.unit.misspelt");
  if (!near.empty()) why.facts["suggestion"] = near;
  why.facts["allowed"] = wanted.accepted();
  return refuse(std::move(why));
}

bool has_zero_without_unit(std::optional<Dimension> dimension) {
  return dimension && dimension != Dimension::temperature;
}

Answer<Term> without_unit(const Wanted& wanted, double number) {
  // A plain number is a number, a share from 0 to 1, or degrees of an angle; and nothing is nothing in every unit but a
  // temperature's.
  const bool plain = wanted.dimension == Dimension::number || wanted.dimension == Dimension::share ||
                     wanted.dimension == Dimension::angle;
  if (plain || (number == 0.0 && has_zero_without_unit(wanted.dimension)))
    return Term{.inside = number, .dimension = *wanted.dimension};
  Remark why = remark(wanted, "quantity.unit.missing");
  why.facts["allowed"] = wanted.accepted();
  return refuse(std::move(why));
}

bool may_be_summed(Dimension dimension) {
  return dimension == Dimension::volume || dimension == Dimension::mass || dimension == Dimension::duration ||
         dimension == Dimension::length;
}

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

/// Strips what joins the terms of a sum ("+", ",", "and") from the end of the text before the next term.
std::string_view without_joint(std::string_view text) {
  text = trimmed(text);
  for (const std::string_view joint : {"+", ",", " and", " plus", " y"}) {
    if (text.ends_with(joint)) return trimmed(text.substr(0, text.size() - joint.size()));
  }
  return text;
}

Answer<Term> read_some_terms(const Wanted& wanted, std::string_view text, int terms_left);

/// Reads the rest of a sum behind its first term, and adds it.
Answer<Term> add_rest(const Wanted& wanted, const Term& first, std::string_view rest, bool joined, int terms_left) {
  const Wanted same{.given = wanted.given, .dimension = first.dimension, .customs = wanted.customs};
  auto others = read_some_terms(same, rest, terms_left - 1);
  if (!others) return others;
  const bool falls = others->unit && others->unit->factor < first.unit->factor;
  const bool adds_up = may_be_summed(first.dimension) && (falls || joined) && others->unit && others->inside >= 0.0;
  if (!adds_up || first.inside < 0.0) return refuse(remark(wanted, "quantity.sum.unclear"));
  Term sum = first;
  sum.inside += others->inside;
  return sum;
}

/// Finds where the next term of a sum begins behind a known unit, trying the longest unit first.
std::optional<Answer<Term>> read_sum(const Wanted& wanted, double number, std::string_view rest, int terms_left) {
  for (std::size_t at = rest.size() - 1; at > 0; --at) {
    const bool begins = is_digit(rest[at]) && !is_digit(rest[at - 1]) && rest[at - 1] != '.' && rest[at - 1] != '/' &&
                        rest[at - 1] != '^' && rest[at - 1] != '-';
    if (!begins) continue;
    const std::string_view before = trimmed(rest.substr(0, at));
    const std::string_view unit_text = without_joint(before);
    const Meaning meaning = find_unit(unit_text, wanted.dimension, wanted.customs.gallon);
    if (!meaning.unit || !wanted.fits(meaning.unit->dimension)) continue;
    const Term first{
        .inside = to_inside(*meaning.unit, number), .dimension = meaning.unit->dimension, .unit = meaning.unit};
    return add_rest(wanted, first, rest.substr(at), unit_text.size() < before.size() && !before.ends_with(','),
                    terms_left);
  }
  return std::nullopt;
}

/// Reads "number unit [number unit ...]" from folded text.
Answer<Term> read_some_terms(const Wanted& wanted, std::string_view text, int terms_left) {
  const WrittenNumber number = read_number(text);
  const std::string_view rest = trimmed(text.substr(number.end));
  if (number.problem != NumberProblem::none) return refuse_number(wanted, number, rest);
  if (rest.empty()) return without_unit(wanted, number.value);

  const Meaning meaning = find_unit(rest, wanted.dimension, wanted.customs.gallon);
  if (meaning.unit && wanted.fits(meaning.unit->dimension)) {
    const double inside = to_inside(*meaning.unit, number.value);
    if (!std::isfinite(inside)) return refuse(remark(wanted, "quantity.number.not_finite"));
    return Term{.inside = inside, .dimension = meaning.unit->dimension, .unit = meaning.unit};
  }
  const bool known = meaning.unit || !meaning.readings.empty();
  if (!known && terms_left > 1) {
    if (auto sum = read_sum(wanted, number.value, rest, terms_left)) return *sum;
  }
  return refuse_unit(wanted, meaning, trimmed(text.substr(0, number.end)), rest);
}

}  // namespace

Remark remark(const Wanted& wanted, std::string_view code) {
  return {.code = std::string(code), .field = {}, .facts = {{"given", showable(wanted.given)}}};
}

Answer<std::string> prepared(const Wanted& wanted) {
  const auto refused = [&](std::string_view code) { return Answer<std::string>::refused({remark(wanted, code)}); };
  if (wanted.given.size() > longest_text) return refused("quantity.text.too_long");
  auto folded = fold(wanted.given);
  if (!folded) return refused("quantity.text.unreadable");
  std::string text(trimmed(*folded));
  if (text.empty()) return refused("quantity.text.empty");
  return text;
}

Answer<Term> read_terms(const Wanted& wanted, std::string_view text) {
  return read_some_terms(wanted, text, most_terms);
}

}  // namespace barm
