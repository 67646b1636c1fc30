// barm rule pack: for an inspector, what went where, from which lots, by which rules, with tests, cleaning, people,
// corrections and whether the record is whole; as PDF and as CSV.
#include "operations/record_store.h"
#include "operations/registry.h"
#include "operations/rule_inputs.h"
#include "operations/rule_pack_rows.h"
#include "operations/written.h"

namespace barm::operations {
namespace {

struct In {
  RuleChoice choice{};
  RuleFacts facts{};
  std::string from, to, harvest, pdf, csv, store = usual_store;
};
struct Out {
  Pack pack{};
  std::int64_t made_at = 0;
};

Answer<Out> answer(const In& in, const World& world) {
  Findings findings;
  const auto sets = findings.take(chosen_rules(in.choice, world));
  PackAsk ask{read_day_input(in.from, "from", findings), read_day_input(in.to, "to", findings), in.harvest};
  if (ask.from && ask.to && *ask.to < *ask.from)
    findings.refuse({"operations.rule.to_before_from", "to", {{"given", in.to}, {"least", in.from}}});
  const auto facts = in.facts.facts(findings);
  if (!sets || findings.refused()) return std::move(findings).refusal<Out>();
  auto store = findings.take(open_store(in.store, world));
  auto pack = store ? findings.take(gather_pack(*store, ask, *sets, facts, world)) : std::nullopt;
  if (!pack) return std::move(findings).refusal<Out>();
  if (!pack->verified.faults.empty()) findings.doubt({"rule.pack.record_not_whole", "store", {}});
  std::vector<RuleTold> rules;
  for (const auto& one : pack->applications) rules.insert(rules.end(), one.rules.begin(), one.rules.end());
  doubt_rules(rules, findings);
  return std::move(findings).answer(Out{std::move(*pack), world.now()});
}

Answer<bool> write_files(const In& in, const Out& out, const World& world, const Voice& voice) {
  Findings findings;
  std::vector<WrittenFile> files;
  if (!in.csv.empty()) files.push_back({in.csv, pack_csv(out.pack, voice), "csv"});
  if (!in.pdf.empty()) {
    const auto bytes = cards::report_pdf(pack_report(out.pack, voice, out.made_at), cards::Paper::a4);
    files.push_back({in.pdf, std::string(bytes.begin(), bytes.end()), "pdf"});
  }
  write_together(files, world, findings);
  return std::move(findings).answer(true);
}

int count(const Out& out, rule::Verdict verdict) {
  int sum = 0;
  for (const auto& one : out.pack.applications) {
    for (const auto& told : one.rules) sum += told.judged.verdict == verdict ? 1 : 0;
  }
  return sum;
}

std::string tell(const Out& out, const Voice& voice) {
  std::string text =
      voice.say("rule.pack.headline", {{"given", std::to_string(out.pack.applications.size())},
                                       {"met", std::to_string(count(out, rule::Verdict::met))},
                                       {"not_met", std::to_string(count(out, rule::Verdict::not_met))},
                                       {"unknown", std::to_string(count(out, rule::Verdict::cannot_tell))}}) +
      "\n";
  const auto not_met = voice.say("rule.pack.verdict.not_met");
  for (const auto& row : pack_rows(out.pack, voice)) {
    if (row.section == "rules" && row.verdict != not_met) continue;  // the others stand in the files
    text += "  " + (row.at.empty() ? "" : row.at.substr(0, 16) + "  ") + row.thing + (row.thing.empty() ? "" : ". ") +
            row.text + (row.verdict.empty() ? "" : " [" + row.verdict + "]") + "\n";
  }
  text += voice.say("rule.pack.see_files") + "\n";
  for (const auto& caution : rule_cautions()) text += voice.say(caution) + "\n";
  return text;
}

}  // namespace

Operation rule_pack() {
  Inputs<In> inputs;
  inputs.text("rules", at(&In::choice, &RuleChoice::rules), "us_produce,us_organic");
  inputs.text("own", at(&In::choice, &RuleChoice::own), "garden_rules.toml", Kind::file_read);
  inputs.text("from", at(&In::from), "2026-05-01");
  inputs.text("to", at(&In::to), "2026-09-30");
  inputs.text("harvest", at(&In::harvest), "H-0612");
  inputs.alternatives({"harvest", "from"});
  inputs.alternatives({"harvest", "to"});
  inputs.text("pdf", at(&In::pdf), "pack.pdf", Kind::file_written);
  inputs.text("csv", at(&In::csv), "pack.csv", Kind::file_written);
  store_input(inputs, &In::store);
  fact_inputs(inputs, "", fact_names(), [](In& in) -> RuleFacts& { return in.facts; });
  Outputs<Out> outputs;
  outputs.whole("applications_count", [](const Out& out) { return out.pack.applications.size(); })
      .whole("met_count", [](const Out& out) { return count(out, rule::Verdict::met); })
      .whole("not_met_count", [](const Out& out) { return count(out, rule::Verdict::not_met); })
      .whole("cannot_tell_count", [](const Out& out) { return count(out, rule::Verdict::cannot_tell); })
      .flag("record_whole", [](const Out& out) { return out.pack.verified.faults.empty(); })
      .whole("record_entries_count", [](const Out& out) { return out.pack.verified.entries_count; })
      .text("record_head", [](const Out& out) { return out.pack.verified.head; })
      .told("csv_text", [](const Out& out, const Voice& voice) { return pack_csv(out.pack, voice); })
      .remarks("cautions", [](const Out&) { return rule_cautions(); });
  return define<In, Out>({.noun = "rule",
                          .verb = "pack",
                          .inputs = inputs,
                          .outputs = outputs,
                          .answer = answer,
                          .act = write_files,
                          .tell = tell,
                          .examples = {{"rule pack --from 2026-05-01 --to 2026-09-30 --pdf pack.pdf --csv pack.csv"}},
                          .words_of = "rule check"});
}

}  // namespace barm::operations
