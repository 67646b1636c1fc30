#include "rule/tea_class.h"

#include <algorithm>
#include <set>

#include "quantity/expects.h"

namespace barm::rule {
namespace {

/// What a fact can still be.
std::vector<Known> settled(Known known) {
  if (known != Known::not_known) return {known};
  return {Known::yes, Known::no};
}
std::vector<Process> settled(Process process) {
  if (process != Process::not_known) return {process};
  return {Process::none, Process::composted, Process::validated};
}
std::vector<During> settled(During during) {
  if (during != During::not_known) return {during};
  return {During::none, During::minimised, During::contact};
}
std::vector<After> settled(After after) {
  if (after != After::not_known) return {after};
  return {After::none, After::minimised, After::possible};
}

/// Every way the facts not known can turn out.
std::vector<TeaFacts> completions(const TeaFacts& facts) {
  std::vector<TeaFacts> all = {facts};
  const auto settle = [&](auto member) {
    std::vector<TeaFacts> more;
    for (const TeaFacts& one : all) {
      for (const auto value : settled(one.*member)) {
        more.push_back(one);
        more.back().*member = value;
      }
    }
    all = std::move(more);
  };
  settle(&TeaFacts::animal_origin);
  settle(&TeaFacts::process);
  settle(&TeaFacts::held_over_an_hour);
  settle(&TeaFacts::food);
  settle(&TeaFacts::untreated_surface_water);
  settle(&TeaFacts::water_e_coli);
  settle(&TeaFacts::recontaminated);
  return all;
}

/// Of facts that are all known.
TeaStatus status_of(const TeaFacts& facts) {
  if (facts.animal_origin == Known::no) return TeaStatus::not_animal_origin;
  if (facts.process == Process::none) return TeaStatus::untreated;          // 112.51(b)(1)
  if (facts.recontaminated == Known::yes) return TeaStatus::untreated;      // 112.51(b)(2)-(4)
  const bool fails_as_tea = facts.untreated_surface_water == Known::yes ||  // 112.51(b)(1)
                            facts.water_e_coli == Known::yes ||             // 112.51(b)(1)
                            facts.food == Known::yes;                       // 112.51(b)(5)
  if (fails_as_tea) {
    // Held no longer than an hour, the clauses on tea do not speak; what it then is the rule does not say.
    return facts.held_over_an_hour == Known::yes ? TeaStatus::untreated : TeaStatus::undetermined;
  }
  return facts.process == Process::validated ? TeaStatus::treated_a : TeaStatus::treated_b;  // 112.51(a)
}

std::vector<TeaStatus> possible_of(const TeaFacts& facts) {
  std::set<TeaStatus> all;
  for (const TeaFacts& full : completions(facts)) all.insert(status_of(full));
  return {all.begin(), all.end()};
}

/// Facts not known of which some way to settle them narrows what the tea can be.
std::vector<std::string> those_that_matter(const TeaFacts& facts, std::size_t possible_count) {
  std::vector<std::string> names;
  const auto narrows = [&](const char* name, auto member) {
    using Value = std::remove_cvref_t<decltype(facts.*member)>;
    if (facts.*member != Value::not_known) return;
    for (const auto value : settled(facts.*member)) {
      TeaFacts with = facts;
      with.*member = value;
      if (possible_of(with).size() < possible_count) return names.push_back(name);
    }
  };
  narrows("animal_origin", &TeaFacts::animal_origin);
  narrows("process", &TeaFacts::process);
  narrows("held", &TeaFacts::held_over_an_hour);
  narrows("food", &TeaFacts::food);
  narrows("water_source", &TeaFacts::untreated_surface_water);
  narrows("water_e_coli", &TeaFacts::water_e_coli);
  narrows("recontaminated", &TeaFacts::recontaminated);
  return names;
}

std::vector<std::string> clauses_of(const TeaFacts& facts, TeaStatus status) {
  if (status == TeaStatus::not_animal_origin) return {"21 CFR 112.3"};
  if (status == TeaStatus::treated_a) return {"21 CFR 112.51(a)", "21 CFR 112.54(a)", "21 CFR 112.56(a)(3)"};
  if (status == TeaStatus::treated_b) return {"21 CFR 112.51(a)", "21 CFR 112.54(b)", "21 CFR 112.56(a)(2)"};
  std::vector<std::string> all;
  const bool is_tea = facts.held_over_an_hour == Known::yes;
  const bool bad_water = facts.untreated_surface_water == Known::yes || facts.water_e_coli == Known::yes;
  if (facts.process == Process::none || (is_tea && bad_water)) all.push_back("21 CFR 112.51(b)(1)");
  if (facts.recontaminated == Known::yes) all.push_back("21 CFR 112.51(b)(2)-(4)");
  if (is_tea && facts.food == Known::yes) all.push_back("21 CFR 112.51(b)(5)");
  if (status == TeaStatus::untreated) all.push_back("21 CFR 112.56(a)(1)");
  return all;
}

/// Of a status that is settled, with contact that is settled. 21 CFR 112.56(a), S34.
Permission permission_of(TeaStatus status, During during, After after) {
  switch (status) {
    case TeaStatus::not_animal_origin:
      return {Known::yes, Wait::none_asked, false};
    case TeaStatus::treated_a:
      return {Known::yes, Wait::zero_days, false};
    case TeaStatus::treated_b:
      if (during == During::contact) return {Known::no, Wait::not_known, false};
      return {Known::yes, Wait::zero_days, true};
    case TeaStatus::untreated:
      if (during != During::none) return {Known::no, Wait::not_known, false};
      return {Known::yes, after == After::none ? Wait::zero_days : Wait::reserved, after != After::none};
    case TeaStatus::undetermined:
      break;
  }
  // The rule is silent: what even untreated material may do is granted, nothing more.
  return permission_of(TeaStatus::untreated, during, after).permitted == Known::yes
             ? permission_of(TeaStatus::untreated, during, after)
             : Permission{};
}

}  // namespace

TeaClass classify(const TeaFacts& facts) {
  TeaClass tea{.is_tea = facts.held_over_an_hour, .possible = possible_of(facts)};
  tea.status = tea.possible.size() == 1 ? tea.possible.front() : TeaStatus::undetermined;
  if (tea.possible.size() > 1) tea.missing = those_that_matter(facts, tea.possible.size());
  tea.clauses = clauses_of(facts, tea.status);
  return tea;
}

Permission may_apply(const TeaClass& tea, const Contact& contact) {
  std::optional<Permission> joint;
  for (const TeaStatus status : tea.possible) {
    for (const During during : settled(contact.during)) {
      for (const After after : settled(contact.after)) {
        const Permission one = permission_of(status, during, after);
        if (!joint) {
          joint = one;
          continue;
        }
        if (joint->permitted != one.permitted) joint->permitted = Known::not_known;
        if (joint->wait != one.wait) joint->wait = Wait::not_known;
        joint->minimise = joint->minimise || one.minimise;
      }
    }
  }
  expects(joint.has_value(), "a tea can be something");
  if (joint->permitted != Known::yes) joint->wait = Wait::not_known;
  return *joint;
}

std::vector<WayOut> ways_out(const TeaFacts& facts, const Contact& contact) {
  std::vector<WayOut> ways;
  const Contact small{contact.during == During::none ? During::none : During::minimised,
                      contact.after == After::not_known ? After::possible : contact.after};
  const auto offer = [&](WayOut way, const TeaFacts& with, const Contact& how) {
    const bool changes = !(with == facts) || how.during != contact.during || how.after != contact.after;
    if (changes && may_apply(classify(with), how).permitted == Known::yes) ways.push_back(way);
  };
  const auto unfed = [](TeaFacts with) { return with.food = Known::no, with; };
  const auto composted = [](TeaFacts with) {
    return with.process = Process::composted, with.recontaminated = Known::no, with;
  };
  const auto watered = [](TeaFacts with) {
    return with.untreated_surface_water = Known::no, with.water_e_coli = Known::no, with;
  };
  offer(WayOut::without_food, unfed(facts), small);
  offer(WayOut::composted_with_record, composted(facts), small);
  offer(WayOut::tested_water, watered(facts), small);
  if (ways.empty()) offer(WayOut::plain_extract, watered(composted(unfed(facts))), small);
  TeaFacts plants = facts;
  plants.animal_origin = Known::no;
  offer(WayOut::plant_only, plants, small);
  offer(WayOut::soil_only, facts, {During::none, After::minimised});
  offer(WayOut::another_bed, facts, {During::none, After::none});
  return ways;
}

namespace {

Known known(const Facts& facts, const char* name) {
  if (facts.says(name, "yes")) return Known::yes;
  return facts.says(name, "no") ? Known::no : Known::not_known;
}

}  // namespace

Remarks contradictions(const Facts& facts) {
  Remarks wrong;
  if (!facts.says("material", "raw_manure")) return wrong;
  const auto refuse_unless = [&](const char* name, std::string_view only, const char* code) {
    const auto word = facts.word(name);
    if (word && *word != only) wrong.push_back({code, name, {{"given", *word}}});
  };
  refuse_unless("animal_origin", "yes", "rule.facts.manure_is_of_animals");
  refuse_unless("process", "none", "rule.facts.manure_is_raw");
  return wrong;
}

TeaFacts tea_facts(const Facts& facts) {
  TeaFacts tea;
  tea.animal_origin = known(facts, "animal_origin");
  if (facts.says("process", "none")) tea.process = Process::none;
  if (facts.says("process", "composted")) tea.process = Process::composted;
  if (facts.says("process", "validated")) tea.process = Process::validated;
  if (facts.says("material", "raw_manure")) {
    tea.animal_origin = Known::yes;
    tea.process = Process::none;
  }
  if (const auto held_h = facts.number("held")) tea.held_over_an_hour = *held_h > 1.0 ? Known::yes : Known::no;  // S30
  tea.food = known(facts, "food");
  if (const auto source = facts.word("water_source"))
    tea.untreated_surface_water = *source == "untreated_surface" ? Known::yes : Known::no;
  tea.water_e_coli = known(facts, "water_e_coli");
  tea.recontaminated = known(facts, "recontaminated");
  return tea;
}

Contact contact_facts(const Facts& facts) {
  Contact contact;
  if (facts.says("contact_during", "none")) contact.during = During::none;
  if (facts.says("contact_during", "minimised")) contact.during = During::minimised;
  if (facts.says("contact_during", "contact")) contact.during = During::contact;
  if (facts.says("contact_after", "none")) contact.after = After::none;
  if (facts.says("contact_after", "minimised")) contact.after = After::minimised;
  if (facts.says("contact_after", "possible")) contact.after = After::possible;
  return contact;
}

std::string_view word(TeaStatus status) {
  constexpr std::array words = {"not_animal_origin", "treated_a", "treated_b", "untreated", "undetermined"};
  return words.at(static_cast<std::size_t>(status));
}
std::string_view word(WayOut way) {
  constexpr std::array words = {
      "without_food", "composted_with_record", "tested_water", "plain_extract", "plant_only", "soil_only",
      "another_bed"};
  return words.at(static_cast<std::size_t>(way));
}
std::string_view word(Wait wait) {
  constexpr std::array words = {"none_asked", "zero_days", "reserved", "not_known"};
  return words.at(static_cast<std::size_t>(wait));
}
std::string_view word(Known known) {
  constexpr std::array words = {"yes", "no", "not_known"};
  return words.at(static_cast<std::size_t>(known));
}

Facts with_derived(Facts facts) {
  const TeaClass tea = classify(tea_facts(facts));
  if (tea.status != TeaStatus::undetermined) facts.set("tea_class", std::string(word(tea.status)));
  // NOSB 2004 (S38): an average of at most 126 E. coli or 33 enterococci per 100 mL, over at least 2 batches.
  const auto batches = facts.number("batches_tested"), e_coli = facts.number("tea_e_coli"),
             enterococci = facts.number("tea_enterococci");
  const bool passes = (e_coli && *e_coli <= 126.0) || (enterococci && *enterococci <= 33.0);
  const bool fails = e_coli && enterococci && !passes;
  if (batches && *batches >= 2.0 && passes) facts.set("tea_tests_passed", "yes");
  if ((batches && *batches < 2.0) || fails) facts.set("tea_tests_passed", "no");
  return facts;
}

}  // namespace barm::rule
