#include "operations/rule_told.h"

#include <algorithm>

namespace barm::operations {

using rule::Verdict;

std::vector<RuleTold> judge_all(const std::vector<rule::RuleSet>& sets, const rule::Facts& facts, rule::Day today) {
  std::vector<RuleTold> all;
  for (const auto& set : sets) {
    for (const auto& one : set.rules) {
      auto judged = rule::judge(one, facts, today);
      judged.rule = nullptr;  // the copy stands beside it
      if (judged.verdict != Verdict::outside) all.push_back({one, std::move(judged)});
    }
  }
  return all;
}

void doubt_rules(const std::vector<RuleTold>& rules, Findings& findings) {
  std::string old_ones, not_confirmed;
  rule::Day oldest{};
  const auto add = [](std::string& list, const std::string& citation) {
    if (list.find(citation) == std::string::npos) list += (list.empty() ? "" : "; ") + citation;
  };
  for (const auto& one : rules) {
    if (one.judged.is_past_review) {
      if (old_ones.empty() || one.rule.reviewed_on < oldest) oldest = one.rule.reviewed_on;
      add(old_ones, one.rule.citation);
    }
    if (!one.rule.is_confirmed()) add(not_confirmed, one.rule.citation);
  }
  if (!old_ones.empty())
    findings.doubt({"rule.doubt.past_review", "rules", {{"rules", old_ones}, {"given", rule::day_text(oldest)}}});
  if (!not_confirmed.empty()) findings.doubt({"rule.doubt.not_confirmed", "rules", {{"rules", not_confirmed}}});
}

const Choices<Verdict>& verdict_words() {
  static const Choices<Verdict> words = {{"met", Verdict::met},
                                         {"not_met", Verdict::not_met},
                                         {"cannot_tell", Verdict::cannot_tell},
                                         {"holds", Verdict::holds},
                                         {"outside", Verdict::outside}};
  return words;
}

const Choices<rule::Status>& status_words() {
  using rule::Status;
  static const Choices<Status> words = {{"in_force", Status::in_force},
                                        {"reserved", Status::reserved},
                                        {"recommendation", Status::recommendation},
                                        {"guidance", Status::guidance},
                                        {"practice", Status::practice},
                                        {"voluntary_standard", Status::voluntary_standard},
                                        {"criterion", Status::criterion}};
  return words;
}

const Choices<rule::Known>& known_words() {
  using rule::Known;
  static const Choices<Known> words = {{"yes", Known::yes}, {"no", Known::no}, {"not_known", Known::not_known}};
  return words;
}

const Choices<rule::TeaStatus>& class_words() {
  using rule::TeaStatus;
  static const Choices<TeaStatus> words = {{"not_animal_origin", TeaStatus::not_animal_origin},
                                           {"treated_a", TeaStatus::treated_a},
                                           {"treated_b", TeaStatus::treated_b},
                                           {"untreated", TeaStatus::untreated},
                                           {"undetermined", TeaStatus::undetermined}};
  return words;
}

const Choices<rule::Wait>& wait_words() {
  using rule::Wait;
  static const Choices<Wait> words = {{"none_asked", Wait::none_asked},
                                      {"zero_days", Wait::zero_days},
                                      {"reserved", Wait::reserved},
                                      {"not_known", Wait::not_known}};
  return words;
}

namespace {

template <class E>
const std::string& word_of(E value, const Choices<E>& choices) {
  for (const auto& [word, is] : choices) {
    if (is == value) return word;
  }
  throw BrokenPromise("a value outside its words");
}

const char* seen_word(rule::Seen seen) {
  return seen == rule::Seen::looked_up ? "look_up" : seen == rule::Seen::part ? "part" : "memory";
}

/// The first number it asks, as its file prints it.
const rule::Condition* first_number(const rule::Rule& of) {
  for (const auto& all : of.asks) {
    for (const auto& condition : all) {
      if (condition.number == condition.number) return &condition;
    }
  }
  return nullptr;
}

}  // namespace

std::string rule_name(const rule::Rule& of, const Voice& voice) {
  const auto status = voice.say("rule.status." + word_of(of.status, status_words()));
  if (of.is_confirmed()) return voice.say("rule.told.name", {{"citation", of.citation}, {"status", status}});
  const auto seen = voice.say(std::string("rule.seen.") + seen_word(of.seen));
  return voice.say("rule.told.name_not_confirmed", {{"citation", of.citation}, {"status", status}, {"seen", seen}});
}

std::string rule_text(const rule::Rule& of, const Voice& voice) {
  return voice.language == cards::Language::spanish ? of.text_es : of.text_en;
}
std::string rule_next(const rule::Rule& of, const Voice& voice) {
  return voice.language == cards::Language::spanish ? of.next_es : of.next_en;
}

std::string facts_text(const std::vector<std::string>& names, const Voice& voice) {
  std::string text;
  for (const auto& name : names) text += (text.empty() ? "" : ", ") + voice.say("rule.fact." + name);
  return text;
}

Outputs<RuleTold> rule_outputs() {
  using rule::Judged;
  using rule::Rule;
  Outputs<RuleTold> outputs;
  outputs.text("id", at(&RuleTold::rule, &Rule::id))
      .text("set", at(&RuleTold::rule, &Rule::set))
      .text("jurisdiction", at(&RuleTold::rule, &Rule::jurisdiction))
      .text("citation", at(&RuleTold::rule, &Rule::citation))
      .text("about", at(&RuleTold::rule, &Rule::about))
      .choice("verdict", at(&RuleTold::judged, &Judged::verdict), verdict_words())
      .told("text", [](const RuleTold& one, const Voice& voice) { return rule_text(one.rule, voice); })
      .told("next", [](const RuleTold& one, const Voice& voice) { return rule_next(one.rule, voice); })
      .number(
          "number",
          [](const RuleTold& one) {
            const auto* number = first_number(one.rule);
            return number == nullptr ? unset : number->number;
          },
          "")
      .text("unit",
            [](const RuleTold& one) {
              const auto* number = first_number(one.rule);
              return number == nullptr ? std::string() : number->unit;
            })
      .choice("status", at(&RuleTold::rule, &Rule::status), status_words())
      .flag("confirmed", [](const RuleTold& one) { return one.rule.is_confirmed(); })
      .texts("missing", at(&RuleTold::judged, &Judged::missing))
      .texts("failing", at(&RuleTold::judged, &Judged::failing))
      .text("source", at(&RuleTold::rule, &Rule::source))
      .text("reviewed_on", [](const RuleTold& one) { return rule::day_text(one.rule.reviewed_on); })
      .flag("past_review", at(&RuleTold::judged, &Judged::is_past_review));
  return outputs;
}

Remarks rule_cautions() {
  Remarks all;
  for (const char* code : {"rule.caution.local_codes", "rule.caution.no_promise"}) all.push_back({code, "", {}});
  return all;
}

}  // namespace barm::operations
