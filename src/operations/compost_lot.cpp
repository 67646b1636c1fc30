// barm compost lot: what the record knows of a lot of compost, and what of it enters a plan.
#include <fmt/format.h>

#include <algorithm>

#include "compost/maturity.h"
#include "operations/count_told.h"
#include "operations/record_counts.h"
#include "operations/instant.h"
#include "operations/registry.h"
#include "records/named.h"
#include "records/stock.h"
#include "operations/shipped.h"

namespace barm::operations {
namespace {

struct In {
  std::string lot, store = usual_store, kind{};
};
struct Out {
  std::string name{}, kind{}, animal_origin{}, method{};
  double age_d = unset, since_finished_d = unset;
  double left = unset;
  Dimension measured = Dimension::mass;
  compost::LotMeasured lot{};
  double cn = unset, germination_share = unset;
  std::int64_t counts_count = 0, tests_count = 0;
};

constexpr double ms_per_d = 86'400'000.0;
constexpr double long_kept_d = 365.0;  // judged: a year in a heap, and its life is another

/// The kind of compost a lot is like where nobody says: by the way it was made.
std::string kind_made_by(const std::string& method) {
  return method == "vermicompost" ? "worm" : "mixed";
}

/// Since a date; unset without one.
double days_since(const std::string& day, std::int64_t now) {
  const auto at = read_instant(day + "T00:00:00Z");
  return at.ok() ? static_cast<double>(now - at->at_ms) / ms_per_d : unset;
}

/// A later value stands in place of an earlier one, what was not measured again stays.
void renew(double& kept, double newer) {
  if (std::isfinite(newer)) kept = newer;
}

void read_tests(records::Store& store, const std::string& id, Out& out, Findings& findings) {
  const auto& kind = *records::all_kinds().find("compost_test");
  for (const auto& entry : entries_about(store, kind, {"compost_lot", id}, findings)) {
    const Fields fields(kind, entry);
    ++out.tests_count;
    renew(out.lot.moisture_share, fields.number("moisture"));
    renew(out.cn, fields.number("carbon_to_nitrogen"));
    renew(out.germination_share, fields.number("germination"));
    const double respiration = fields.number("carbon_dioxide_mg_per_g_per_day");
    if (!std::isfinite(respiration)) continue;
    out.lot.uptake_mg_per_g_vs_h = compost::uptake_of_respiration(respiration, 25.0);
    findings.doubt({.code = "compost.maturity.test_temperature_assumed",
                    .field = "lot",
                    .facts = {{"given", Quantity{25.0, Dimension::temperature}}}});
  }
}

void read_counts(records::Store& store, const std::string& id, Out& out, Findings& findings) {
  const LotCounts counts = counts_of_lot(store, id, std::nullopt, findings);
  out.counts_count = counts.counts_count;
  out.lot.bacteria_per_g = counts.bacteria_per_g, out.lot.bacteria_ln_error = counts.bacteria_ln_error;
  if (counts.grown_count > 0) findings.doubt({.code = "compost.lot.not_seen", .field = "lot"});
}

Answer<Out> answer(const In& in, const World& world) {
  Findings findings;
  if (!in.kind.empty()) findings.take(shipped_knowledge().composts.find(in.kind));
  auto store = findings.take(open_store(in.store, world));
  const auto id =
      store ? take_about(findings, records::id_named(*store, {"compost_lot"}, in.lot), "lot") : std::nullopt;
  if (!id || findings.refused()) return std::move(findings).refusal<Out>();
  const auto& kind = *records::all_kinds().find("compost_lot");
  const auto lots = findings.take(store->list(kind)).value_or(std::vector<records::Entry>{});
  const auto named = findings.take(store->find(*id));
  if (!named) return std::move(findings).refusal<Out>();
  // A correction has an id of its own; the thing keeps its number.
  const auto lot = std::find_if(lots.begin(), lots.end(),
                                [&](const auto& each) { return each.thing_number == named->thing_number; });
  if (lot == lots.end()) {
    findings.refuse({.code = "compost.lot.gone", .field = "lot", .facts = {{"given", in.lot}}});
    return std::move(findings).refusal<Out>();
  }
  const Fields fields(kind, *lot);
  const std::string like = in.kind.empty() ? kind_made_by(fields.text("method")) : in.kind;
  Out out{.name = fields.text("name"),
          .kind = shipped_knowledge().composts.find(like).value()->id,
          .animal_origin = fields.text("animal_origin"),
          .method = fields.text("method"),
          .age_d = days_since(fields.text("made_on"), world.now()),
          .since_finished_d = days_since(fields.text("finished_on"), world.now())};
  if (const auto stock = records::stock_of(*store, *id); stock.ok()) {
    out.left = stock->left;
    out.measured = stock->measured;
    for (const Remark& doubt : stock.doubts()) findings.doubt(doubt);
  }
  read_tests(*store, *id, out, findings);
  read_counts(*store, *id, out, findings);
  if (out.since_finished_d > long_kept_d)
    findings.doubt({.code = "compost.lot.long_kept",
                    .field = "lot",
                    .facts = {{"given", std::to_string(std::lround(out.since_finished_d))}}});
  return std::move(findings).answer(std::move(out));
}

/// The lines a plan file takes.
std::string plan_lines(const Out& out, const Voice&) {
  std::string text = fmt::format("[[compost]]\nkind = \"{}\"\n", out.kind);
  const auto line = [&](const char* key, double value) {
    if (std::isfinite(value)) text += fmt::format("{} = {:.4g}\n", key, value);
  };
  line("moisture", out.lot.moisture_share);
  line("uptake", out.lot.uptake_mg_per_g_vs_h);
  line("bacteria", out.lot.bacteria_per_g);
  line("bacteria_error", out.lot.bacteria_ln_error);
  return text;
}

std::string tell(const Out& out, const Voice& voice) {
  std::map<std::string, Remark::Fact> facts{{"name", out.name}};
  if (std::isfinite(out.left)) facts.emplace("left", number_text(out.left, out.measured, "", voice));
  if (std::isfinite(out.age_d)) facts.emplace("age", std::to_string(std::lround(out.age_d)));
  if (std::isfinite(out.since_finished_d)) facts.emplace("kept", std::to_string(std::lround(out.since_finished_d)));
  std::string text = voice.say("operations.compost.lot.told", facts) + "\n";
  text += voice.say("operations.compost.lot.store") + "\n";
  text += voice.say("operations.compost.lot.plan") + "\n\n" + plan_lines(out, voice);
  return text;
}

}  // namespace

Operation compost_lot() {
  Inputs<In> inputs;
  inputs.text("lot", at(&In::lot), "Spring heap").required().positional();
  inputs.text("kind", at(&In::kind), "mixed");
  store_input(inputs, &In::store);
  using compost::LotMeasured;
  Outputs<Out> outputs;
  outputs.text("name", at(&Out::name))
      .number("age_d", at(&Out::age_d), "d")
      .number("since_finished_d", at(&Out::since_finished_d), "d")
      .number(
          "left_g", [](const Out& out) { return out.measured == Dimension::mass ? out.left : unset; }, Dimension::mass)
      .number(
          "left_l", [](const Out& out) { return out.measured == Dimension::volume ? out.left : unset; },
          Dimension::volume)
      .text("animal_origin", at(&Out::animal_origin))
      .text("method", at(&Out::method))
      .number("moisture_share", at(&Out::lot, &LotMeasured::moisture_share), Dimension::share)
      .number("cn", at(&Out::cn), "")
      .number("germination_share", at(&Out::germination_share), Dimension::share)
      .number("uptake_mg_per_g_vs_h", at(&Out::lot, &LotMeasured::uptake_mg_per_g_vs_h), "mg/(g h)")
      .number("bacteria_per_g", at(&Out::lot, &LotMeasured::bacteria_per_g), "1/g")
      .number("bacteria_ln_error", at(&Out::lot, &LotMeasured::bacteria_ln_error), "")
      .whole("tests_count", at(&Out::tests_count))
      .whole("counts_count", at(&Out::counts_count))
      .told("plan_lines", plan_lines);
  return define<In, Out>({.noun = "compost",
                          .verb = "lot",
                          .inputs = inputs,
                          .outputs = outputs,
                          .answer = answer,
                          .tell = tell,
                          .examples = {{"compost lot \"Spring heap\""}}});
}

}  // namespace barm::operations
