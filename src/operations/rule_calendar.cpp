// barm rule calendar: the earliest harvest after an application, and the last day to apply before one; of one bed told
// here, or of every bed of a record.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "operations/record_store.h"
#include "operations/registry.h"
#include "operations/rule_inputs.h"
#include "operations/rule_record.h"
#include "operations/rule_told.h"
#include "operations/rule_told_facts.h"
#include "rule/waits.h"

namespace barm::operations {
namespace {

struct In {
  RuleChoice choice{};
  RuleFacts facts{};
  std::string applied, harvest, store = usual_store;
};
struct WaitRow {
  rule::Rule rule{};
  rule::WaitTold told{};
};
struct BedRow {
  std::string bed{}, brew{}, bed_id{}, brew_id{};
  rule::CalendarAsk ask{};
  rule::CalendarTold told{};
  std::vector<WaitRow> waits{};
};
struct Out {
  std::vector<BedRow> beds{};
};

BedRow row_of(const std::vector<rule::RuleSet>& sets, const rule::Facts& facts, const rule::CalendarAsk& ask,
              const World& world) {
  BedRow row{.ask = ask, .told = rule::calendar(sets, rule::with_derived(facts), ask, today(world))};
  for (auto wait : row.told.waits) {
    const rule::Rule of = *wait.rule;
    wait.rule = nullptr;
    row.waits.push_back({of, std::move(wait)});
  }
  row.told.waits.clear();
  return row;
}

/// Without days of its own: every bed with its last application of each brew, and the first harvest planned from then
/// on.
void read_beds(const In& in, const std::vector<rule::RuleSet>& sets, const World& world, Findings& findings, Out& out) {
  auto store = findings.take(open_store(in.store, world));
  if (!store) return findings.refuse({"operations.rule.no_day", "applied", {}});
  Things things(*store);
  ToldFacts told(in.facts.facts());
  const auto zone = zone_of(*store);
  for (const auto& application : things.all("application")) {
    const auto* bed = things.named(things.text(application, "bed"));
    const auto* brew = things.named(things.text(application, "brew"));
    const auto at = things.whole(application, "at");
    if (bed == nullptr || !at) continue;
    rule::CalendarAsk ask{.applied_on = local_day(*at, zone)};
    for (const auto* planned : things.of("planned_harvest", "bed", *bed)) {
      const auto on = rule::read_day(things.text(*planned, "on"));
      if (on && *on >= *ask.applied_on && (!ask.harvest_on || *on < *ask.harvest_on)) ask.harvest_on = on;
    }
    out.beds.push_back(row_of(sets, told.beside(facts_of_application(things, application)), ask, world));
    out.beds.back().bed = things.name(bed);
    out.beds.back().brew = things.name(brew);
    out.beds.back().bed_id = things.text(application, "bed");
    out.beds.back().brew_id = things.text(application, "brew");
  }
  for (const auto& why : things.failures()) findings.refuse(why);
  told.doubt(findings);
}

Answer<Out> answer(const In& in, const World& world) {
  Findings findings;
  const auto sets = findings.take(chosen_rules(in.choice, world));
  const rule::CalendarAsk ask{read_day_input(in.applied, "applied", findings),
                              read_day_input(in.harvest, "harvest", findings)};
  if (ask.applied_on && ask.harvest_on && *ask.harvest_on < *ask.applied_on)
    findings.refuse({"operations.rule.harvest_before", "harvest", {{"given", in.harvest}, {"least", in.applied}}});
  const auto facts = in.facts.facts(findings);
  if (!sets || findings.refused()) return std::move(findings).refusal<Out>();
  Out out;
  if (!in.applied.empty() || !in.harvest.empty()) {
    out.beds.push_back(row_of(*sets, facts, ask, world));
  } else {
    read_beds(in, *sets, world, findings, out);
  }
  std::vector<RuleTold> rules;
  for (const auto& bed : out.beds) {
    for (const auto& wait : bed.waits) rules.push_back({wait.rule, {}});
  }
  doubt_rules(rules, findings);
  return std::move(findings).answer(std::move(out));
}

std::string text_of(const std::optional<rule::Day>& day) {
  return day ? rule::day_text(*day) : std::string();
}

/// What the waits come to, a sentence a line.
std::string sentences(const BedRow& bed, const Voice& voice) {
  std::string text;
  const auto say = [&](const char* code, std::map<std::string, Remark::Fact> facts = {}) {
    text += voice.say(code, std::move(facts)) + "\n";
  };
  if (bed.told.is_reserved) say("rule.calendar.reserved");
  if (std::isfinite(bed.told.longest_days)) {
    const std::string days = fmt::format("{:.0f}", bed.told.longest_days);
    if (bed.told.earliest_harvest)
      say(bed.told.is_reserved ? "rule.calendar.earliest_of_the_rest" : "rule.calendar.earliest",
          {{"given", text_of(bed.told.earliest_harvest)}, {"days", days}});
    if (bed.told.last_application)
      say("rule.calendar.last",
          {{"given", text_of(bed.told.last_application)}, {"harvest", text_of(bed.ask.harvest_on)}, {"days", days}});
  }
  if (bed.told.counts_unknown) say("rule.calendar.counts_unknown");
  if (bed.told.is_kept) say(*bed.told.is_kept ? "rule.calendar.kept" : "rule.calendar.not_kept");
  if (bed.waits.empty()) say("rule.calendar.none");
  return text;
}

/// A wait may be counted though it may not apply.
std::string may_apply(const WaitRow& wait, const Voice& voice) {
  if (wait.told.applies != rule::Truth::not_known) return {};
  return voice.say("rule.calendar.may_apply", {{"facts", facts_text(wait.told.missing, voice)}});
}

std::string tell_bed(const BedRow& bed, const Voice& voice) {
  std::string text;
  if (!bed.bed.empty())
    text +=
        voice.say("rule.calendar.bed", {{"bed", bed.bed}, {"brew", bed.brew}, {"given", text_of(bed.ask.applied_on)}}) +
        "\n";
  text += sentences(bed, voice);
  for (const auto& wait : bed.waits) {
    text += "  " + rule_name(wait.rule, voice) + "\n    " + rule_text(wait.rule, voice) + "\n";
    if (const auto why = may_apply(wait, voice); !why.empty()) text += "    " + why + "\n";
  }
  return text + "\n";
}

std::string tell(const Out& out, const Voice& voice) {
  std::string text;
  if (out.beds.empty()) text += voice.say("rule.calendar.no_applications") + "\n";
  for (const auto& bed : out.beds) text += tell_bed(bed, voice);
  for (const auto& caution : rule_cautions()) text += voice.say(caution) + "\n";
  return text;
}

std::string kept_word(const BedRow& bed) {
  return !bed.told.is_kept ? "not_known" : *bed.told.is_kept ? "yes" : "no";
}

}  // namespace

Operation rule_calendar() {
  Inputs<In> inputs;
  inputs.text("rules", at(&In::choice, &RuleChoice::rules), "us_produce,us_organic");
  inputs.text("own", at(&In::choice, &RuleChoice::own), "garden_rules.toml", Kind::file_read);
  inputs.text("applied", at(&In::applied), "2026-05-01");
  inputs.text("harvest", at(&In::harvest), "2026-09-15");
  store_input(inputs, &In::store);
  fact_inputs(inputs, "",
              {"material", "animal_origin", "process", "food", "held", "water_source", "water_e_coli", "recontaminated",
               "batches_tested", "tea_e_coli", "tea_enterococci", "covered_produce", "foliar", "crop_contact",
               "contact_during", "contact_after"},
              [](In& in) -> RuleFacts& { return in.facts; });
  Outputs<WaitRow> wait;
  wait.text("id", at(&WaitRow::rule, &rule::Rule::id))
      .text("citation", at(&WaitRow::rule, &rule::Rule::citation))
      .told("text", [](const WaitRow& row, const Voice& voice) { return rule_text(row.rule, voice); })
      .number("days", at(&WaitRow::told, &rule::WaitTold::days), "d")
      .flag("reserved", at(&WaitRow::told, &rule::WaitTold::is_reserved))
      .texts("missing", at(&WaitRow::told, &rule::WaitTold::missing))
      .told("may_apply", may_apply)
      .choice("status", at(&WaitRow::rule, &rule::Rule::status), status_words())
      .flag("confirmed", [](const WaitRow& row) { return row.rule.is_confirmed(); })
      .text("source", at(&WaitRow::rule, &rule::Rule::source));
  Outputs<BedRow> bed;
  bed.text("bed", at(&BedRow::bed))
      .text("brew", at(&BedRow::brew))
      .text("bed_id", at(&BedRow::bed_id))
      .text("brew_id", at(&BedRow::brew_id))
      .told("text", sentences)
      .text("applied_on", [](const BedRow& row) { return text_of(row.ask.applied_on); })
      .text("harvest_on", [](const BedRow& row) { return text_of(row.ask.harvest_on); })
      .number("longest_days", at(&BedRow::told, &rule::CalendarTold::longest_days), "d")
      .flag("reserved", at(&BedRow::told, &rule::CalendarTold::is_reserved))
      .flag("counts_unknown", at(&BedRow::told, &rule::CalendarTold::counts_unknown))
      .text("earliest_harvest", [](const BedRow& row) { return text_of(row.told.earliest_harvest); })
      .text("last_application", [](const BedRow& row) { return text_of(row.told.last_application); })
      .choice("kept", kept_word, Choices<std::string>{{"yes", "yes"}, {"no", "no"}, {"not_known", "not_known"}})
      .list("waits", at(&BedRow::waits), wait);
  Outputs<Out> outputs;
  outputs.list("beds", at(&Out::beds), bed).remarks("cautions", [](const Out&) { return rule_cautions(); });
  return define<In, Out>({.noun = "rule",
                          .verb = "calendar",
                          .inputs = inputs,
                          .outputs = outputs,
                          .answer = answer,
                          .tell = tell,
                          .examples = {{"rule calendar --rules us_organic --material raw_manure --crop-contact soil "
                                        "--food no --applied 2026-05-01"}},
                          .words_of = "rule check"});
}

}  // namespace barm::operations
