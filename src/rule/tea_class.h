// What the law of growing produce calls a tea, and where it may go for that. 21 CFR 112.3, 112.51, 112.56 (S30, S31,
// S34). Every combination of the facts, and what comes of it: docs/rule/class.md
#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "quantity/answer.h"
#include "rule/facts.h"

namespace barm::rule {

enum class Known : std::uint8_t { yes, no, not_known };
enum class Process : std::uint8_t { none, composted, validated, not_known };  // 112.54(b), 112.54(a)
enum class During : std::uint8_t { none, minimised, contact, not_known };
enum class After : std::uint8_t { none, minimised, possible, not_known };

/// The facts of a class, each of which may not be known.
struct TeaFacts {
  Known animal_origin = Known::not_known;  // anything in it: manure, bones, fish, food scraps with meat
  Process process = Process::not_known;    // of that material
  Known held_over_an_hour = Known::not_known;
  Known food = Known::not_known;  // any microbe food
  Known untreated_surface_water = Known::not_known;
  Known water_e_coli = Known::not_known;    // generic E. coli found in 100 mL of the water
  Known recontaminated = Known::not_known;  // after treatment, or mixed with untreated material
  bool operator==(const TeaFacts&) const = default;
};

enum class TeaStatus : std::uint8_t {
  not_animal_origin,  // subpart F does not speak of it
  treated_a,          // process validated to the three-pathogen standard
  treated_b,          // composted
  untreated,
  undetermined,  // a fact that matters is missing, or the rule is silent
};

struct TeaClass {
  TeaStatus status = TeaStatus::undetermined;
  Known is_tea = Known::not_known;     // held longer than an hour
  std::vector<std::string> missing{};  // facts that could still change the status, by the names of `all_facts`
  std::vector<std::string> clauses{};  // citations that decide it
  std::vector<TeaStatus> possible{};   // what it can still be; one of them when determined
};

/// The status that holds whatever the facts not known turn out to be; undetermined when they matter. Held for an hour
/// or less it is no tea: its status is then that of the compost alone, and where the clauses on tea would decide
/// otherwise the rule is silent and nothing is granted.
TeaClass classify(const TeaFacts& facts);

/// Days to wait before the harvest, as the law puts it.
enum class Wait : std::uint8_t { none_asked, zero_days, reserved, not_known };

struct Permission {
  Known permitted = Known::not_known;  // not known counts against
  Wait wait = Wait::not_known;         // not known as well when it is not permitted
  bool minimise = false;               // only so that contact is kept small
};
struct Contact {
  During during = During::not_known;
  After after = After::not_known;
};
/// Whether it may be applied so to covered produce. 21 CFR 112.56(a).
Permission may_apply(const TeaClass& tea, const Contact& contact);

/// A change that makes the application compliant, each by itself; the simplest first.
enum class WayOut : std::uint8_t {
  without_food,
  composted_with_record,
  tested_water,
  plain_extract,  // the three together, when none of them suffices alone
  plant_only,
  soil_only,    // the water never touches the crop while applied
  another_bed,  // nothing eaten there touches it at all
};
/// Tried with contact kept small where it is meant to touch the crop, or nothing is told of it.
std::vector<WayOut> ways_out(const TeaFacts& facts, const Contact& contact);

/// Facts that cannot hold together, each with its field: raw manure is of animals and unprocessed.
Remarks contradictions(const Facts& facts);
/// Where they contradict each other, raw manure stays raw manure.
TeaFacts tea_facts(const Facts& facts);
Contact contact_facts(const Facts& facts);
std::string_view word(TeaStatus status);
std::string_view word(WayOut way);
std::string_view word(Wait wait);
std::string_view word(Known known);

/// The facts with what follows from them: "tea_class" unless undetermined, "tea_tests_passed" when the tests of a tea
/// with food are known to have passed or not.
Facts with_derived(Facts facts);

}  // namespace barm::rule
