#include "quantity/text.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "quantity/fold.h"
#include "quantity/number.h"
#include "quantity/units.h"

namespace barm {
namespace {

constexpr int most_terms = 4;  // "1 d 2 h 30 min 15 s"

/// What a reading is looked at for: one dimension, or mass or volume alike.
struct Wanted {
  std::string_view given;  // the whole text, to be shown back
  std::optional<Dimension> dimension;
  const Customs& customs;

  bool fits(Dimension found) const {
    if (dimension) return found == *dimension;
    return found == Dimension::mass || found == Dimension::volume;
  }
  std::string accepted() const {
    return std::string(dimension ? accepted_spellings(*dimension) : "g, oz, mL, cup, tbsp, tsp");
  }
};

struct Term {
  double inside = unset;
  Dimension dimension = Dimension::number;
  const Unit* unit = nullptr;  // none for a plain number
};

Remark remark(const Wanted& wanted, std::string_view code) {
  return {.code = std::string(code), .field = {}, .facts = {{"given", showable(wanted.given)}}};
}

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
    Remark why = of("quantity.unit.measures_" + std::string(dimension_key(found->dimension)));
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

Answer<Term> read_terms(const Wanted& wanted, std::string_view text, int terms_left);

/// Reads the rest of a sum behind its first term, and adds it.
Answer<Term> add_rest(const Wanted& wanted, const Term& first, std::string_view rest, bool joined, int terms_left) {
  const Wanted same{.given = wanted.given, .dimension = first.dimension, .customs = wanted.customs};
  auto others = read_terms(same, rest, terms_left - 1);
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
Answer<Term> read_terms(const Wanted& wanted, std::string_view text, int terms_left) {
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

/// The text folded, or why it cannot be read at all.
Answer<std::string> prepared(const Wanted& wanted) {
  const auto refused = [&](std::string_view code) { return Answer<std::string>::refused({remark(wanted, code)}); };
  if (wanted.given.size() > longest_text) return refused("quantity.text.too_long");
  auto folded = fold(wanted.given);
  if (!folded) return refused("quantity.text.unreadable");
  std::string text(trimmed(*folded));
  if (text.empty()) return refused("quantity.text.empty");
  return text;
}

bool only_number(std::string_view text) {
  const WrittenNumber number = read_number(text);
  return number.problem == NumberProblem::none && trimmed(text.substr(number.end)).empty();
}

Answer<Range> refuse_range(const Remarks& why) {
  return Answer<Range>::refused(why);
}

/// Reads both ends of "65 - 75 °F"; the first may lean on the unit of the second.
Answer<Range> read_ends(const Wanted& wanted, std::string_view left, std::string_view right) {
  const auto high = read_terms(wanted, right, most_terms);
  if (!high) return refuse_range(high.refusals());
  Answer<Term> low = Term{};
  if (only_number(left) && high->unit) {
    low = Term{.inside = to_inside(*high->unit, read_number(left).value), .dimension = high->dimension};
    const bool sum_behind =
        !find_unit(trimmed(right.substr(read_number(right).end)), high->dimension, wanted.customs.gallon).unit;
    if (sum_behind) return refuse_range({remark(wanted, "quantity.sum.unclear")});  // "1 - 1 lb 8 oz"
  } else {
    low = read_terms(wanted, left, most_terms);
  }
  if (!low) return refuse_range(low.refusals());
  if (!std::isfinite(low->inside)) return refuse_range({remark(wanted, "quantity.number.not_finite")});
  if (low->inside > high->inside) return refuse_range({remark(wanted, "quantity.range.reversed")});
  return Range{.low = low->inside, .high = high->inside};
}

struct Cut {
  std::string_view left, right;
};

/// Every place where the text may be a range, in order: "..", " to ", " a ", a dash that is not a sign.
std::vector<Cut> range_cuts(std::string_view text) {
  std::vector<Cut> out;
  for (std::size_t at = 1; at + 1 < text.size(); ++at) {
    for (const std::string_view mark : {std::string_view(".."), std::string_view(" to "), std::string_view(" a "),
                                        std::string_view("-"), std::string_view(&folded_dash, 1)}) {
      if (!text.substr(at).starts_with(mark)) continue;
      const std::string_view left = trimmed(text.substr(0, at));
      const std::string_view right = trimmed(text.substr(at + mark.size()));
      const bool both = !left.empty() && read_number(left).problem != NumberProblem::missing &&
                        read_number(right).problem != NumberProblem::missing;
      if (both) out.push_back({left, right});
    }
  }
  return out;
}

Answer<Range> read_range_folded(const Wanted& wanted, std::string_view text) {
  const auto single = read_terms(wanted, text, most_terms);
  if (single) return Range{.low = single->inside, .high = single->inside};
  std::optional<Answer<Range>> first_refusal;
  for (const Cut& cut : range_cuts(text)) {
    auto range = read_ends(wanted, cut.left, cut.right);
    if (range) return range;
    if (!first_refusal) first_refusal = std::move(range);
  }
  return first_refusal ? *first_refusal : refuse_range(single.refusals());
}

/// Reads a single quantity; says so when a range was written instead.
Answer<Term> read_single(const Wanted& wanted) {
  const auto text = prepared(wanted);
  if (!text) return Answer<Term>::refused(text.refusals());
  auto term = read_terms(wanted, *text, most_terms);
  if (!term && wanted.dimension && read_range_folded(wanted, *text))
    return refuse(remark(wanted, "quantity.range.not_wanted"));
  return term;
}

}  // namespace

Answer<double> read_quantity(std::string_view text, Dimension dimension, const Customs& customs) {
  const auto term = read_single({.given = text, .dimension = dimension, .customs = customs});
  if (!term) return Answer<double>::refused(term.refusals());
  return term->inside;
}

Answer<Range> read_range(std::string_view text, Dimension dimension, const Customs& customs) {
  const Wanted wanted{.given = text, .dimension = dimension, .customs = customs};
  const auto folded = prepared(wanted);
  if (!folded) return refuse_range(folded.refusals());
  return read_range_folded(wanted, *folded);
}

Answer<Amount> read_amount(std::string_view text, const Customs& customs) {
  const auto term = read_single({.given = text, .dimension = std::nullopt, .customs = customs});
  if (!term) return Answer<Amount>::refused(term.refusals());
  return Amount{.measured = {.value = term->inside, .dimension = term->dimension}};
}

Answer<Converted> convert(std::string_view text, std::string_view unit, const Customs& customs) {
  const Wanted target{.given = unit, .dimension = std::nullopt, .customs = customs};
  const auto folded = prepared(target);
  if (!folded) return Answer<Converted>::refused(folded.refusals());
  std::optional<Remarks> first_refusal;
  for (std::size_t i = 0; i < dimension_count; ++i) {  // one spelling may stand in two dimensions ("g/L")
    const auto dimension = static_cast<Dimension>(i);
    const Meaning meaning = find_unit(*folded, dimension, customs.gallon);
    if (!meaning.unit || meaning.unit->dimension != dimension) continue;
    const auto inside = read_quantity(text, dimension, customs);
    if (inside)
      return Converted{.value = from_inside(*meaning.unit, *inside),
                       .unit = std::string(meaning.unit->spelling),
                       .dimension = dimension};
    if (!first_refusal) first_refusal = inside.refusals();
  }
  if (first_refusal) return Answer<Converted>::refused(*first_refusal);

  const Meaning meaning = find_unit(*folded, std::nullopt, customs.gallon);
  Remark why = remark(target, meaning.readings.empty() ? "quantity.unit.not_known" : "quantity.unit.target_unclear");
  why.facts["unit"] = showable(unit);
  std::string allowed;
  for (const Unit* reading : meaning.readings)
    allowed += (allowed.empty() ? "" : ", ") + std::string(reading->spelling);
  if (!allowed.empty()) why.facts["allowed"] = allowed;
  return Answer<Converted>::refused({std::move(why)});
}

}  // namespace barm
