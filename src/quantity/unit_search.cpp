// Finding a unit by its spelling; the table itself stands in units.cpp.
#include <algorithm>
#include <array>

#include "quantity/suggest.h"
#include "quantity/units.h"

namespace barm {
namespace {

constexpr std::size_t longest_spelling = 60;  // bytes, twice "US gallons/1000 square feet"; keeps the work bounded

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

char lowered(char c) {
  return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
}

bool same_but_for_capitals(std::string_view a, std::string_view b) {
  return a.size() == b.size() && std::ranges::equal(
                                     a, b, {}, [](char c) { return lowered(c); }, [](char c) { return lowered(c); });
}

/// Calls `visit` with each part of a list parted by '|', until it answers true.
template <class Visit>
bool any_part(std::string_view list, Visit visit) {
  while (!list.empty()) {
    const std::size_t bar = std::min(list.find('|'), list.size());
    if (visit(list.substr(0, bar))) return true;
    list.remove_prefix(std::min(bar + 1, list.size()));
  }
  return false;
}

/// Spellings with more than one meaning. Where the garden has said which gallon it means, `us` or `imperial` is it;
/// pump and sprayer labels (gph, gpm, gpa) mean the US one unless it has.
struct ManyMeanings {
  std::string_view spellings;
  std::string_view us;
  std::string_view imperial;
  std::string_view others;
  bool us_by_trade = false;
};
constexpr auto many_meanings = std::to_array<ManyMeanings>({
    {"gal|gals|gallon|gallons|galón|galones|galon", "US gal", "imp gal", ""},
    {"qt|qts|quart|quarts", "US qt", "imp qt", ""},
    {"pt|pts|pint|pints|pinta|pintas", "US pint", "imp pint", ""},
    {"gph", "US gal/h", "imp gal/h", "", true},
    {"gpm", "US gal/min", "imp gal/min", "", true},
    {"gpa", "US gal/acre", "imp gal/acre", "", true},
    {"ton|tons", "short ton", "", "tonne|long ton"},
    {"t|T", "", "", "tsp|tbsp|tonne"},
    {"tb|Tb|TB|ts", "", "", "tbsp|tsp"},
    {"c", "", "", "cup|°C"},
    {"k", "", "", "kg|K"},
    {"M", "", "", "m|min"},
});

/// Symbols that mean something else by a thousand or a million when the first letter changes its size.
bool prefix_clashes(std::string_view given, std::string_view entry) {
  if (given.empty() || given[0] == entry[0]) return false;
  constexpr auto milli_or_mega = std::to_array<std::string_view>({"mL", "ml", "mg", "mm", "mb", "mS", "MPa"});
  return std::ranges::any_of(milli_or_mega, [&](std::string_view symbol) { return entry.starts_with(symbol); });
}

void add_unit(std::vector<const Unit*>& to, std::string_view spelling, std::optional<Dimension> wanted) {
  const Unit* first = nullptr;
  for (const Unit& unit : units()) {
    if (unit.spelling != spelling) continue;
    if (!first || unit.dimension == wanted) first = &unit;
  }
  expects(first != nullptr, "a unit named in the program stands in the table");
  to.push_back(first);
}

/// Keeps only the readings of the wanted dimension when there are any.
void prefer(std::vector<const Unit*>& readings, std::optional<Dimension> wanted) {
  const auto fits = [&](const Unit* unit) { return unit->dimension == wanted; };
  if (std::ranges::any_of(readings, fits)) std::erase_if(readings, [&](const Unit* unit) { return !fits(unit); });
}

std::optional<Meaning> find_many_meanings(std::string_view plain, std::optional<Dimension> wanted,
                                          std::optional<Gallon> gallon) {
  for (const ManyMeanings& entry : many_meanings) {
    const bool is_it = any_part(entry.spellings, [&](std::string_view spelling) {
      const bool capitals_matter = spelling.size() <= 2 && spelling != "qt" && spelling != "pt";
      return capitals_matter ? spelling == plain : same_but_for_capitals(spelling, plain);
    });
    if (!is_it) continue;
    Meaning out;
    const std::optional<Gallon> which = !gallon && entry.us_by_trade ? Gallon::us : gallon;
    const std::string_view chosen = which == Gallon::us ? entry.us : which == Gallon::imperial ? entry.imperial : "";
    if (!chosen.empty()) {
      std::vector<const Unit*> one;
      add_unit(one, chosen, wanted);
      out.unit = one.front();
      return out;
    }
    if (!entry.us.empty()) add_unit(out.readings, entry.us, wanted);
    if (!entry.imperial.empty()) add_unit(out.readings, entry.imperial, wanted);
    any_part(entry.others, [&](std::string_view spelling) {
      add_unit(out.readings, spelling, wanted);
      return false;
    });
    prefer(out.readings, wanted);
    return out;
  }
  return std::nullopt;
}

/// Units that list `plain` among their spellings, as written.
std::vector<const Unit*> find_exact(std::string_view plain) {
  std::vector<const Unit*> out;
  for (const Unit& unit : units()) {
    const auto is_it = [&](std::string_view spelling) { return spelling == plain; };
    if (is_it(unit.spelling) || any_part(unit.others, is_it)) out.push_back(&unit);
  }
  return out;
}

struct AnyCase {
  std::vector<const Unit*> fit;
  std::vector<const Unit*> clash;  // would fit but for a prefix of another size
};

AnyCase find_any_case(std::string_view plain) {
  AnyCase out;
  for (const Unit& unit : units()) {
    bool clashes = false;
    const auto is_it = [&](std::string_view spelling) {
      if (!same_but_for_capitals(spelling, plain)) return false;
      if (!prefix_clashes(plain, spelling)) return true;
      clashes = true;
      return false;
    };
    if (is_it(unit.spelling) || any_part(unit.others, is_it)) {
      out.fit.push_back(&unit);
    } else if (clashes) {
      out.clash.push_back(&unit);
    }
  }
  return out;
}

Meaning choose(std::vector<const Unit*> found, std::optional<Dimension> wanted) {
  Meaning out;
  prefer(found, wanted);
  // One spelling may stand in two dimensions ("g/L"); the table's first is meant when neither was wanted.
  const bool one_dimension_each = std::ranges::adjacent_find(found, [](const Unit* a, const Unit* b) {
                                    return a->dimension == b->dimension;
                                  }) == found.end();
  if (!found.empty() && one_dimension_each) {
    out.unit = found.front();
  } else {
    out.readings = std::move(found);
  }
  return out;
}

Meaning find_simple(std::string_view plain, std::optional<Dimension> wanted, std::optional<Gallon> gallon) {
  if (plain.empty()) return {};
  const auto is_plain = [&](std::string_view word) { return same_but_for_capitals(word, plain); };
  if (wanted == Dimension::temperature && any_part("deg|degree|degrees|grados", is_plain)) {
    Meaning out;
    add_unit(out.readings, "°C", wanted);
    add_unit(out.readings, "°F", wanted);
    return out;
  }
  if (auto known = find_many_meanings(plain, wanted, gallon)) return *known;
  if (auto exact = find_exact(plain); !exact.empty()) return choose(std::move(exact), wanted);
  AnyCase any = find_any_case(plain);
  if (!any.fit.empty()) return choose(std::move(any.fit), wanted);
  Meaning out;
  out.readings = std::move(any.clash);
  prefer(out.readings, wanted);
  return out;
}

/// Parts of "lb/1000 US gal": the table's own spellings of each side; several where a side has several readings.
std::vector<std::string> side_spellings(std::string_view side, std::optional<Gallon> gallon) {
  std::string count;
  while (!side.empty() && (is_digit(side[0]) || side[0] == ',')) {
    if (side[0] != ',') count += side[0];
    side.remove_prefix(1);
  }
  if (side.starts_with(' ')) side.remove_prefix(1);
  if (!count.empty()) count += ' ';
  const Meaning meaning = find_simple(side, std::nullopt, gallon);
  std::vector<std::string> out;
  if (meaning.unit) out.push_back(count + std::string(meaning.unit->spelling));
  for (const Unit* reading : meaning.readings) out.push_back(count + std::string(reading->spelling));
  if (out.empty()) out.push_back(count + std::string(side));
  return out;
}

Meaning find_compound(std::string_view plain, std::optional<Dimension> wanted, std::optional<Gallon> gallon) {
  const std::size_t slash = plain.find('/');
  if (slash == std::string_view::npos || plain.find('/', slash + 1) != std::string_view::npos) return {};
  const std::string_view over = plain.substr(0, slash);
  const auto overs = over.empty() || over == "1" ? std::vector<std::string>{"1"} : side_spellings(over, gallon);
  const auto unders = side_spellings(plain.substr(slash + 1), gallon);
  Meaning only;
  std::vector<const Unit*> readings;
  for (const auto& above : overs) {
    for (const auto& below : unders) {
      auto found = find_exact(above + "/" + below);
      prefer(found, wanted);
      if (!found.empty()) readings.push_back(found.front());
    }
  }
  if (overs.size() * unders.size() == 1 && !readings.empty()) {
    only.unit = readings.front();
  } else {
    only.readings = std::move(readings);
  }
  return only;
}

}  // namespace

Meaning find_unit(std::string_view text, std::optional<Dimension> wanted, std::optional<Gallon> gallon) {
  const std::string plain = plain_unit(text);
  if (plain.size() > longest_spelling) return {};
  Meaning simple = find_simple(plain, wanted, gallon);
  if (simple.unit && (!wanted || simple.unit->dimension == wanted)) return simple;
  Meaning compound = find_compound(plain, wanted, gallon);
  const bool has_compound = compound.unit || !compound.readings.empty();
  return simple.unit || !simple.readings.empty() || !has_compound ? simple : compound;
}

std::string likely_unit(std::string_view text, Dimension wanted) {
  const std::string plain = plain_unit(text);
  std::string nearest;
  std::size_t fewest = slips_forgiven(plain.size()) + 1;
  for (const Unit& unit : units()) {
    if (unit.dimension != wanted) continue;
    const auto weigh = [&](std::string_view spelling) {
      if (spelling.size() + fewest <= plain.size() || plain.size() + fewest <= spelling.size()) return false;
      const std::size_t slips = slips_between(plain, spelling);
      if (slips < fewest && slips < spelling.size()) {
        fewest = slips;
        nearest = unit.spelling;
      }
      return false;
    };
    weigh(unit.spelling);
    any_part(unit.others, weigh);
  }
  return nearest;
}

}  // namespace barm
