#include "operations/rule_pack_rows.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "cards/local_time.h"
#include "cards/picture.h"
#include "operations/record_words.h"

namespace barm::operations {
namespace {

using rule::Verdict;

class Rows {
 public:
  Rows(const Pack& pack, const Voice& voice) : pack_(&pack), voice_(&voice) {}

  std::vector<PackRow> take() {
    for (const auto& one : pack_->applications) application(one);
    for (const auto& one : pack_->harvests) entry("applications", one);
    for (const auto& one : pack_->applications) rules(one);
    for (const auto& one : pack_->tests) entry("tests", one);
    for (const auto& one : pack_->cleaning) entry("cleaning", one);
    for (const auto& one : pack_->photos) photo(one);
    for (const auto& one : pack_->people) entry("people", one);
    for (const auto& one : pack_->corrections) correction(one);
    record();
    return std::move(rows_);
  }

 private:
  std::string say(const std::string& code, std::map<std::string, Remark::Fact> facts = {}) const {
    return voice_->say(code, std::move(facts));
  }

  static const records::Kind& kind_of(const PackEntry& one) { return *records::all_kinds().find(one.entry.kind); }

  std::string at_of(const PackEntry& one) const {
    const auto at = kind_of(one).position("at");
    if (!at || *at >= one.entry.values.size()) return {};
    const auto* instant = std::get_if<std::int64_t>(&one.entry.values[*at]);
    return instant == nullptr ? std::string() : cards::iso_text(*instant, pack_->zone);
  }

  /// What the entry holds: "bed: North bed; how: drench; volume: 20 L".
  std::string in_words(const PackEntry& one) const {
    std::string text;
    const auto& kind = kind_of(one);
    for (std::size_t i = 0; i < one.entry.values.size(); ++i) {
      const auto& field = kind.fields[i];
      if (!records::is_given(one.entry.values[i]) || field.type == records::Type::json || field.name == "at") continue;
      const auto called = one.called.find(field.name);
      if (field.type == records::Type::reference && called == one.called.end()) continue;
      append_said(
          text, field.name,
          called != one.called.end() ? called->second : value_text(field, one.entry.values[i], pack_->zone, *voice_),
          *voice_);
    }
    return text;
  }

  void entry(const char* section, const PackEntry& one) {
    rows_.push_back(
        {.section = section, .at = at_of(one), .thing = say("records.kind." + one.entry.kind), .text = in_words(one)});
  }

  void photo(const PackPhoto& one) {
    PackEntry entry = one.entry;
    if (!one.seen.empty()) entry.called["observation"] = seen_text(one.seen, *voice_);
    rows_.push_back({.section = "photos",
                     .at = at_of(one.entry),
                     .thing = say("records.kind.photo"),
                     .text = in_words(entry) + "; " + file_text(one.file, *voice_),
                     .photo = &one.file});
  }

  void application(const PackApplication& one) {
    entry("applications", one.application);
    for (const auto& lot : one.lots) {
      rows_.push_back({.section = "applications",
                       .thing = say("rule.pack.from", {{"given", say("records.kind." + lot.entry.kind)}}),
                       .text = in_words(lot)});
    }
  }

  std::string name_of_application(const PackApplication& one) const {
    const auto bed = one.application.called.find("bed");
    return bed == one.application.called.end() ? std::string() : bed->second;
  }

  /// The facts a rule rests on, as known: "food: yes; held: 25 h".
  std::string facts_of(const rule::Rule& of, const rule::Facts& facts) const {
    std::set<std::string> names;
    for (const auto& condition : of.applies) names.insert(condition.fact);
    for (const auto& all : of.asks) {
      for (const auto& condition : all) names.insert(condition.fact);
    }
    std::string text;
    for (const auto& name : names) {
      const auto number = facts.number(name);
      const auto word = facts.word(name);
      const std::string value = number ? number_text(*number, rule::fact_kind(name)->dimension, "", *voice_)
                                : word ? say("rule.word." + *word)
                                       : say("operations.told.unknown");
      text += fmt::format("{}{}: {}", text.empty() ? "" : "; ", say("rule.fact." + name), value);
    }
    return text;
  }

  void rules(const PackApplication& one) {
    const std::string at = at_of(one.application), bed = name_of_application(one);
    const bool is_class_told = std::any_of(one.rules.begin(), one.rules.end(),
                                           [](const RuleTold& rule) { return rule.rule.set == "us_produce"; });
    if (is_class_told)
      rows_.push_back({.section = "rules",
                       .at = at,
                       .thing = bed,
                       .text = say(class_headline(one.legal).code),
                       .verdict = say("rule.word." + std::string(rule::word(one.legal.tea.status)))});
    for (const Verdict verdict : {Verdict::not_met, Verdict::cannot_tell, Verdict::met, Verdict::holds}) {
      for (const auto& told : one.rules) {
        if (told.judged.verdict != verdict) continue;
        rows_.push_back({.section = "rules",
                         .at = at,
                         .thing = bed + ": " + told.rule.citation,
                         .text = rule_text(told.rule, *voice_),
                         .status = status_of(told.rule),
                         .verdict = say("rule.pack.verdict." + word_of(verdict)),
                         .facts = facts_of(told.rule, one.facts),
                         .warns = rule::counts_against(verdict)});
      }
    }
  }

  std::string status_of(const rule::Rule& of) const {
    // What stands in brackets behind the clause, without the clause.
    const auto name = rule_name(of, *voice_);
    const auto open = of.citation.size() + 2;
    return name.size() > open + 1 ? name.substr(open, name.size() - open - 1) : name;
  }

  static std::string word_of(Verdict verdict) {
    for (const auto& [word, is] : verdict_words()) {
      if (is == verdict) return word;
    }
    throw BrokenPromise("a verdict without a word");
  }

  void correction(const PackEntry& one) {
    rows_.push_back({.section = "corrections",
                     .at = cards::iso_text(one.entry.recorded_at, pack_->zone),
                     .thing = say("records.kind." + one.entry.kind),
                     .text = say(one.entry.withdraws ? "rule.pack.withdrawn" : "rule.pack.corrected",
                                 {{"reason", one.entry.reason}, {"by", one.entry.recorded_by}})});
  }

  void record() {
    const auto& verified = pack_->verified;
    std::map<std::string, Remark::Fact> facts{{"given", std::to_string(verified.entries_count)},
                                              {"seals", std::to_string(verified.seals_count)},
                                              {"head", verified.head}};
    const bool whole = verified.faults.empty();
    rows_.push_back({.section = "record",
                     .text = say(whole ? "rule.pack.whole" : "rule.pack.not_whole", std::move(facts)),
                     .warns = !whole});
    for (const auto& fault : verified.faults)
      rows_.push_back({.section = "record", .text = voice_->say(fault), .warns = true});
  }

  const Pack* pack_;
  const Voice* voice_;
  std::vector<PackRow> rows_{};
};

/// "2026-05-03 14:00", by the garden's clock.
std::string short_time(const std::string& at) {
  std::string text = at.substr(0, 16);
  if (text.size() > 10) text[10] = ' ';
  return text;
}

std::string period(const Pack& pack, const Voice& voice) {
  if (!pack.ask.harvest.empty()) return voice.say("rule.pack.of_harvest", {{"given", pack.ask.harvest}});
  const auto text = [](const std::optional<rule::Day>& day) { return day ? rule::day_text(*day) : std::string("…"); };
  return voice.say("rule.pack.period", {{"from", text(pack.ask.from)}, {"to", text(pack.ask.to)}});
}

std::string cell(std::string text) {
  if (!text.empty() && std::string("=+-@\t").find(text.front()) != std::string::npos) text.insert(0, "'");
  if (text.find_first_of(",\"\r\n") == std::string::npos) return text;
  std::string quoted = "\"";
  for (const char c : text) {
    if (c == '"') quoted += '"';
    quoted += c;
  }
  return quoted + "\"";
}

}  // namespace

std::vector<PackRow> pack_rows(const Pack& pack, const Voice& voice) {
  return Rows(pack, voice).take();
}

cards::Report pack_report(const Pack& pack, const Voice& voice, std::int64_t made_at) {
  cards::Report report{.title = voice.say("rule.pack.title"), .made_at = made_at};
  report.about = voice.say("rule.pack.about", {{"garden", pack.garden.empty() ? "…" : pack.garden},
                                               {"period", period(pack, voice)},
                                               {"made", short_time(cards::iso_text(made_at, pack.zone))}});
  report.foot = report.title + " · " + period(pack, voice);
  const auto rows = pack_rows(pack, voice);
  for (const char* section :
       {"record", "applications", "rules", "tests", "cleaning", "photos", "people", "corrections"}) {
    cards::ReportSection part{.title = voice.say(std::string("rule.pack.section.") + section)};
    for (const auto& row : rows) {
      if (row.section != section) continue;
      const std::string when = short_time(row.at);
      std::string text = row.thing + (row.thing.empty() || row.text.empty() ? "" : ". ") + row.text;
      if (!row.verdict.empty() && !row.status.empty()) text.insert(0, row.verdict + ": ");
      std::string detail = row.status;
      if (!row.facts.empty()) detail += (detail.empty() ? "" : ". ") + row.facts;
      const std::string picture = row.photo == nullptr ? std::string() : row.photo->bytes;
      if (row.photo != nullptr && !cards::Picture::read(picture)) detail = voice.say("rule.pack.not_printed");
      part.rows.push_back({.lead = when, .text = text, .detail = detail, .picture = picture, .warns = row.warns});
    }
    if (part.rows.empty()) part.rows.push_back({.text = voice.say("rule.pack.nothing")});
    report.sections.push_back(std::move(part));
  }
  cards::ReportSection last{.title = voice.say("rule.pack.section.before")};
  for (const auto& caution : rule_cautions()) last.rows.push_back({.text = voice.say(caution)});
  report.sections.push_back(std::move(last));
  return report;
}

std::string pack_csv(const Pack& pack, const Voice& voice) {
  std::string text = "section,at,thing,text,status,verdict,facts\r\n";
  for (const auto& row : pack_rows(pack, voice)) {
    bool is_first = true;
    for (const auto* part : {&row.section, &row.at, &row.thing, &row.text, &row.status, &row.verdict, &row.facts}) {
      text += (is_first ? "" : ",") + cell(*part);
      is_first = false;
    }
    text += "\r\n";
  }
  return text;
}

}  // namespace barm::operations
