// barm compost heat: which time and heat requirement a log of pile temperatures meets, and what is still owed.
#include "compost/heat_log.h"
#include "operations/heat_csv.h"
#include "operations/registry.h"
#include "operations/shipped.h"

namespace barm::operations {
namespace {

using compost::HeatAsk;
using compost::HeatClauseTold;
using compost::HeatFaults;
using compost::HeatPositionTold;
using compost::HeatTold;
using compost::Method;
using compost::Rule;

struct In {
  std::string log;
  HeatAsk ask;
};

struct Out {
  HeatTold told;
  std::optional<std::int64_t> start_at;
};

const Choices<Rule> rule_words = {{"organic", Rule::organic}, {"produce", Rule::produce}, {"sludge", Rule::sludge}};

Answer<Out> answer(const In& in, const World& world) {
  Findings findings;
  const auto text = findings.take(retarget(world.read_file(in.log), {{"", "log"}}));
  if (!text) return std::move(findings).refusal<Out>();
  const auto file = findings.take(read_heat(*text, "log"));
  if (!file) return std::move(findings).refusal<Out>();
  auto told = findings.take(compost::judge_heat(file->log, in.ask, shipped_heat_rules()));
  if (!told) return std::move(findings).refusal<Out>();
  return std::move(findings).answer(Out{std::move(*told), file->start_at});
}

std::optional<Moment> moment(const Out& out, double at_h) {
  if (!out.start_at || !std::isfinite(at_h)) return std::nullopt;
  return Moment{*out.start_at + std::llround(at_h * 3'600'000.0), "UTC"};
}

Remarks cautions(const Out&) {
  Remarks all;
  for (const char* code : {"compost.heat.caution.no_pathogen_claim", "compost.heat.caution.rule_text",
                           "compost.heat.caution.fire", "compost.heat.caution.dust"}) {
    all.push_back({code, "", {}});
  }
  return all;
}

Remark headline(const Out& out) {
  const auto& asked = out.told.asked;
  const auto& coldest = out.told.positions[out.told.coldest];
  std::map<std::string, Remark::Fact> facts{{"clause", asked.clause}};
  if (asked.meets) {
    facts.emplace("when", Quantity{asked.met_at_h, Dimension::duration});
    return {"compost.heat.headline.meets", "", std::move(facts)};
  }
  if (asked.cn_fails) {  // no heat mends it
    const bool is_hot_enough = asked.hours_owed == 0.0 && asked.turns_owed == 0;
    return {is_hot_enough ? "compost.heat.headline.mix_outside" : "compost.heat.headline.mix_outside_and_owed", "",
            std::move(facts)};
  }
  if (asked.hours_owed > 0.0) {
    facts.emplace("owed", Quantity{asked.hours_owed, Dimension::duration});
    Remark owed{"compost.heat.headline.hours_owed", "", std::move(facts)};
    compost::name_position(coldest.name, owed);
    return owed;
  }
  facts.emplace("owed", std::to_string(asked.turns_owed));
  return {"compost.heat.headline.turns_owed", "", std::move(facts)};
}

std::string clause_text(const HeatClauseTold& clause, const Voice& voice) {
  std::map<std::string, Remark::Fact> facts{{"clause", clause.clause}};
  if (clause.meets) return voice.say("compost.heat.clause.meets", std::move(facts));
  if (clause.cn_fails) return voice.say("compost.heat.clause.mix_outside", std::move(facts));
  facts.emplace("owed", Quantity{clause.hours_owed, Dimension::duration});
  facts.emplace("turns", std::to_string(clause.turns_owed));
  return voice.say("compost.heat.clause.owes", std::move(facts));
}

std::string tell(const Out& out, const Voice& voice) {
  const auto hours = [](double value) { return Quantity{value, Dimension::duration}; };
  std::string text = voice.say(headline(out)) + "\n";
  for (const auto& at : out.told.positions) {
    const bool owes = at.owed_h > 0.0;
    Remark line{owes ? "compost.heat.position.owes" : "compost.heat.position.done", "", {{"held", hours(at.held_h)}}};
    line.facts.emplace(owes ? "owed" : "done", owes ? Remark::Fact(hours(at.owed_h)) : std::string());
    compost::name_position(at.name, line);
    text += "  " + voice.say(line) + "\n";
  }
  for (const auto& clause : out.told.clauses) {
    if (clause.id != out.told.asked.id) text += clause_text(clause, voice) + "\n";
  }
  for (const auto& caution : cautions(out)) text += voice.say(caution) + "\n";
  return text;
}

struct TimedClause {
  HeatClauseTold told;
  std::optional<Moment> met_at;
};

Outputs<TimedClause> clause_outputs() {
  Outputs<TimedClause> outputs;
  outputs.text("id", at(&TimedClause::told, &HeatClauseTold::id))
      .choice("rule", at(&TimedClause::told, &HeatClauseTold::rule), rule_words)
      .text("clause", at(&TimedClause::told, &HeatClauseTold::clause))
      .flag("meets", at(&TimedClause::told, &HeatClauseTold::meets))
      .number("hours_owed", at(&TimedClause::told, &HeatClauseTold::hours_owed), Dimension::duration)
      .whole("turns_owed", at(&TimedClause::told, &HeatClauseTold::turns_owed))
      .whole("turns_counted", at(&TimedClause::told, &HeatClauseTold::turns_counted))
      .flag("cn_fails", at(&TimedClause::told, &HeatClauseTold::cn_fails))
      .number("met_at_h", at(&TimedClause::told, &HeatClauseTold::met_at_h), Dimension::duration)
      .instant("met_at", at(&TimedClause::met_at))
      .text("source", at(&TimedClause::told, &HeatClauseTold::source));
  return outputs;
}

Outputs<HeatPositionTold> position_outputs() {
  Outputs<HeatPositionTold> outputs;
  outputs.text("name", at(&HeatPositionTold::name))
      .number("held_h", at(&HeatPositionTold::held_h), Dimension::duration)
      .number("longest_h", at(&HeatPositionTold::longest_h), Dimension::duration)
      .number("hours_owed", at(&HeatPositionTold::owed_h), Dimension::duration)
      .number("low_c", at(&HeatPositionTold::low_c), Dimension::temperature)
      .number("high_c", at(&HeatPositionTold::high_c), Dimension::temperature)
      .number("sludge_time_share", at(&HeatPositionTold::sludge_share), "")
      .whole("readings_count", at(&HeatPositionTold::readings_count))
      .whole("not_counted_count", [](const HeatPositionTold& at) { return at.faults.readings_count(); })
      .number("first_not_counted_h", at(&HeatPositionTold::faults, &HeatFaults::first_at_h), Dimension::duration)
      .number("gaps_h", at(&HeatPositionTold::faults, &HeatFaults::gaps_h), Dimension::duration)
      .number("longest_gap_h", at(&HeatPositionTold::longest_gap_h), Dimension::duration);
  return outputs;
}

}  // namespace

Operation compost_heat() {
  Inputs<In> inputs;
  inputs.text("log", at(&In::log), "heat.csv", Kind::file_read).required();
  inputs
      .choice("method", at(&In::ask, &HeatAsk::method),
              Choices<Method>{{"windrow", Method::windrow},
                              {"static_aerated_pile", Method::static_aerated_pile},
                              {"in_vessel", Method::in_vessel}})
      .required();
  inputs.choice("rule", at(&In::ask, &HeatAsk::rule), rule_words);
  inputs.quantity("initial_cn", at(&In::ask, &HeatAsk::initial_cn), Dimension::number, "30").above(0.0).most(1000.0);
  inputs.quantity("longest_gap", at(&In::ask, &HeatAsk::longest_gap_h), Dimension::duration, "2 h")
      .above(0.0)
      .most(26.0);
  Outputs<Out> outputs;
  outputs.told("headline", [](const Out& out, const Voice& voice) { return voice.say(headline(out)); })
      .flag("meets", at(&Out::told, &HeatTold::asked, &HeatClauseTold::meets))
      .text("clause", at(&Out::told, &HeatTold::asked, &HeatClauseTold::clause))
      .number("hours_owed", at(&Out::told, &HeatTold::asked, &HeatClauseTold::hours_owed), Dimension::duration)
      .whole("turns_owed", at(&Out::told, &HeatTold::asked, &HeatClauseTold::turns_owed))
      .whole("turns_counted", at(&Out::told, &HeatTold::asked, &HeatClauseTold::turns_counted))
      .number("met_at_h", at(&Out::told, &HeatTold::asked, &HeatClauseTold::met_at_h), Dimension::duration)
      .instant("met_at", [](const Out& out) { return moment(out, out.told.asked.met_at_h); })
      .text("coldest_position", [](const Out& out) { return out.told.positions[out.told.coldest].name; })
      .number("log_h", at(&Out::told, &HeatTold::log_h), Dimension::duration)
      .list(
          "clauses",
          [](const Out& out) {
            std::vector<TimedClause> all;
            for (const auto& told : out.told.clauses) all.push_back({told, moment(out, told.met_at_h)});
            return all;
          },
          clause_outputs())
      .list("positions", at(&Out::told, &HeatTold::positions), position_outputs())
      .remarks("cautions", cautions);
  return define<In, Out>(
      {.noun = "compost",
       .verb = "heat",
       .inputs = inputs,
       .outputs = outputs,
       .answer = answer,
       .tell = tell,
       .examples = {{"compost heat --log examples/elder_lane_windrow.csv --method windrow --initial-cn 30"}}});
}

}  // namespace barm::operations
