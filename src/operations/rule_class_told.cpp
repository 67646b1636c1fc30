#include "operations/rule_class_told.h"

#include <fmt/format.h>

namespace barm::operations {
namespace {

using rule::Known;
using rule::TeaStatus;
using rule::WayOut;

std::string way_text(WayOut way, const Voice& voice) {
  return voice.say("rule.way." + std::string(rule::word(way)));
}

}  // namespace

ClassTold ClassTold::of(const rule::TeaFacts& facts, const rule::Contact& contact) {
  ClassTold told{.facts = facts, .tea = rule::classify(facts)};
  told.permission = rule::may_apply(told.tea, contact);
  if (!told.is_allowed()) told.ways = rule::ways_out(facts, contact);
  return told;
}

std::vector<std::string> class_facts() {
  return {"material",     "animal_origin", "process",        "held",           "food",
          "water_source", "water_e_coli",  "recontaminated", "contact_during", "contact_after"};
}

Remark class_headline(const ClassTold& told) {
  const bool fed_tea = told.facts.food == Known::yes && told.facts.held_over_an_hour != Known::no;
  if (told.tea.status == TeaStatus::untreated && told.facts.food == Known::yes &&
      told.facts.held_over_an_hour == Known::yes)
    return {"rule.class.untreated_by_food", "", {}};
  if (told.tea.status == TeaStatus::undetermined && told.facts.animal_origin == Known::not_known && fed_tea)
    return {"rule.class.undetermined_with_food", "", {}};
  if (told.tea.status == TeaStatus::undetermined && told.tea.missing.empty()) return {"rule.class.silent", "", {}};
  return {"rule.class." + std::string(rule::word(told.tea.status)), "", {}};
}

std::string class_text(const ClassTold& told, const Voice& voice) {
  std::string text = voice.say(class_headline(told)) + "\n";
  if (!told.tea.missing.empty())
    text += voice.say("rule.told.missing", {{"facts", facts_text(told.tea.missing, voice)}}) + "\n";
  if (!told.tea.clauses.empty())
    text += voice.say("rule.told.clauses", {{"rules", fmt::format("{}", fmt::join(told.tea.clauses, "; "))}}) + "\n";
  text += voice.say("rule.permitted." + std::string(rule::word(told.permission.permitted)));
  if (told.is_allowed()) {
    text += " " + voice.say("rule.wait." + std::string(rule::word(told.permission.wait)));
    if (told.permission.minimise) text += " " + voice.say("rule.told.minimise");
  }
  text += "\n";
  if (!told.ways.empty()) text += voice.say("rule.told.ways") + "\n";
  for (const WayOut way : told.ways) text += "  → " + way_text(way, voice) + "\n";
  return text;
}

Outputs<ClassTold> class_outputs() {
  using rule::Permission;
  using rule::TeaClass;
  Outputs<WayOut> ways;
  ways.text("way", [](const WayOut& way) { return std::string(rule::word(way)); })
      .told("text", [](const WayOut& way, const Voice& voice) { return way_text(way, voice); });
  Outputs<ClassTold> outputs;
  outputs.told("headline", [](const ClassTold& told, const Voice& voice) { return voice.say(class_headline(told)); })
      .choice("class", at(&ClassTold::tea, &TeaClass::status), class_words())
      .choice("is_tea", at(&ClassTold::tea, &TeaClass::is_tea), known_words())
      .choice("permitted", at(&ClassTold::permission, &Permission::permitted), known_words())
      .choice("wait", at(&ClassTold::permission, &Permission::wait), wait_words())
      .flag("minimise_contact", at(&ClassTold::permission, &Permission::minimise))
      .texts("missing", at(&ClassTold::tea, &TeaClass::missing))
      .texts("clauses", at(&ClassTold::tea, &TeaClass::clauses))
      .list("ways_out", at(&ClassTold::ways), ways);
  return outputs;
}

}  // namespace barm::operations
