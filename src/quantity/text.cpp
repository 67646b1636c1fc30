#include "quantity/text.h"

#include <cmath>
#include <optional>
#include <vector>

#include "quantity/fold.h"
#include "quantity/number.h"
#include "quantity/terms.h"
#include "quantity/units.h"

namespace barm {
namespace {

bool only_number(std::string_view text) {
  const WrittenNumber number = read_number(text);
  return number.problem == NumberProblem::none && trimmed(text.substr(number.end)).empty();
}

Answer<Range> refuse_range(const Remarks& why) {
  return Answer<Range>::refused(why);
}

/// Reads both ends of "65 - 75 °F"; the first may lean on the unit of the second.
Answer<Range> read_ends(const Wanted& wanted, std::string_view left, std::string_view right) {
  const auto high = read_terms(wanted, right);
  if (!high) return refuse_range(high.refusals());
  Answer<Term> low = Term{};
  if (only_number(left) && high->unit) {
    low = Term{.inside = to_inside(*high->unit, read_number(left).value), .dimension = high->dimension};
    const bool sum_behind =
        !find_unit(trimmed(right.substr(read_number(right).end)), high->dimension, wanted.customs.gallon).unit;
    if (sum_behind) return refuse_range({remark(wanted, "quantity.sum.unclear")});  // "1 - 1 lb 8 oz"
  } else {
    low = read_terms(wanted, left);
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
  const auto single = read_terms(wanted, text);
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
  auto term = read_terms(wanted, *text);
  if (!term && wanted.dimension && read_range_folded(wanted, *text))
    return Answer<Term>::refused({remark(wanted, "quantity.range.not_wanted")});
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
