// barm record trace and barm record stock: what came of a lot, what a harvest came from, and what is left.
#include "records/trace.h"

#include <fmt/format.h>

#include "operations/record_store.h"
#include "operations/registry.h"
#include "records/named.h"
#include "records/stock.h"

namespace barm::operations {
namespace {

enum class Way { by_kind, forward, back };

struct In {
  std::string id, store = usual_store;
  Way way = Way::by_kind;
  std::optional<std::int64_t> known_at{};
};
struct Step {
  records::Traced traced{};
  std::string zone{};
};
struct Out {
  std::vector<Step> steps{};
};

const std::vector<std::string> begun_from = {"compost_lot", "food_lot", "water_source"};
const std::vector<std::string> named_kinds = {"compost_lot", "food_lot", "water_source", "brew"};

Answer<Out> answer(const In& in, const World& world) {
  Findings findings;
  auto store = findings.take(open_store(in.store, world));
  const auto id = store ? findings.take(records::id_named(*store, named_kinds, in.id)) : std::nullopt;
  const auto entry = id ? findings.take(store->find(*id)) : std::nullopt;
  if (!entry) return std::move(findings).refusal<Out>();
  const bool begins = std::find(begun_from.begin(), begun_from.end(), entry->kind) != begun_from.end();
  const bool forward = in.way == Way::forward || (in.way == Way::by_kind && begins);
  const auto known_at = in.known_at.value_or(records::known_now);
  const auto traced = findings.take(forward ? trace_forward(*store, *id, known_at) : trace_back(*store, *id, known_at));
  Out out;
  const auto zone = zone_of(*store);
  for (const auto& one : traced.value_or(std::vector<records::Traced>{})) out.steps.push_back({one, zone});
  return std::move(findings).answer(std::move(out));
}

std::optional<Moment> when(const Step& step) {
  return step.traced.at ? std::optional(Moment{*step.traced.at, step.zone}) : std::nullopt;
}

std::string name_in(const Out& out, const std::string& id) {
  for (const auto& step : out.steps) {
    if (step.traced.id == id) return step.traced.name.empty() ? id : step.traced.name;
  }
  return id;
}

std::string tell(const Out& out, const Voice& voice) {
  std::string text;
  for (const auto& step : out.steps) {
    const auto& one = step.traced;
    text += fmt::format("{:<14} {}", voice.say("records.kind." + one.kind),
                        step.traced.at ? cards::iso_text(*one.at, step.zone) + " " : "");
    if (!one.name.empty()) text += one.name;
    if (one.kind == "application") text += name_in(out, one.from_id) + " → " + name_in(out, one.to_id);
    if (one.readings_count > 0) {
      text += ". " + voice.say("records.told.readings", {{"given", std::to_string(one.readings_count)}});
      if (one.oxygen_lowest_mg_per_l)
        text += " " + voice.say("records.told.oxygen",
                                {{"low", Quantity{*one.oxygen_lowest_mg_per_l, Dimension::concentration}},
                                 {"high", Quantity{*one.oxygen_highest_mg_per_l, Dimension::concentration}}});
    }
    text += "\n";
  }
  return text;
}

struct StockIn {
  std::string id, store = usual_store;
};
struct StockOut {
  records::Stock stock{};
};

Answer<StockOut> stock(const StockIn& in, const World& world) {
  Findings findings;
  auto store = findings.take(open_store(in.store, world));
  const auto id = store ? findings.take(records::id_named(*store, {"compost_lot", "food_lot"}, in.id)) : std::nullopt;
  const auto found = id ? findings.take(records::stock_of(*store, *id)) : std::nullopt;
  return std::move(findings).answer(StockOut{found.value_or(records::Stock{})});
}

std::string amount_text(double value, const StockOut& out, const Voice& voice) {
  return number_text(value, out.stock.measured, "", voice);
}

std::string tell_stock(const StockOut& out, const Voice& voice) {
  return voice.say("records.told.stock", {{"left", amount_text(out.stock.left, out, voice)},
                                          {"begun", amount_text(out.stock.begun, out, voice)},
                                          {"used", amount_text(out.stock.used, out, voice)},
                                          {"given", std::to_string(out.stock.uses_count)}}) +
         "\n";
}

}  // namespace

Operation record_trace() {
  Inputs<In> inputs;
  inputs.text("id", at(&In::id), "Spring heap").required().positional();
  inputs.choice("way", at(&In::way),
                Choices<Way>{{"by_kind", Way::by_kind}, {"forward", Way::forward}, {"back", Way::back}});
  inputs.instant("known_at", at(&In::known_at), "2026-05-15T00:00:00-05:00");
  store_input(inputs, &In::store);
  Outputs<Step> each;
  each.text("kind", [](const Step& step) { return step.traced.kind; })
      .text("id", [](const Step& step) { return step.traced.id; })
      .text("name", [](const Step& step) { return step.traced.name; })
      .instant("at", when)
      .text("from_id", [](const Step& step) { return step.traced.from_id; })
      .text("to_id", [](const Step& step) { return step.traced.to_id; })
      .whole("readings_count", [](const Step& step) { return step.traced.readings_count; })
      .number(
          "oxygen_lowest_mg_per_l", [](const Step& step) { return step.traced.oxygen_lowest_mg_per_l.value_or(unset); },
          Dimension::concentration)
      .number(
          "oxygen_highest_mg_per_l",
          [](const Step& step) { return step.traced.oxygen_highest_mg_per_l.value_or(unset); },
          Dimension::concentration);
  Outputs<Out> outputs;
  outputs.list("steps", at(&Out::steps), each);
  return define<In, Out>(
      {.noun = "record",
       .verb = "trace",
       .inputs = inputs,
       .outputs = outputs,
       .answer = answer,
       .tell = tell,
       .examples = {{"record trace \"Spring heap\""}, {"record trace \"May night brew\" --way back"}}});
}

Operation record_stock() {
  Inputs<StockIn> inputs;
  inputs.text("id", at(&StockIn::id), "Spring heap").required().positional();
  store_input(inputs, &StockIn::store);
  Outputs<StockOut> outputs;
  outputs
      .number(
          "left", [](const StockOut& out) { return out.stock.left; }, "")
      .number(
          "begun", [](const StockOut& out) { return out.stock.begun; }, "")
      .number(
          "used", [](const StockOut& out) { return out.stock.used; }, "")
      .number(
          "changed", [](const StockOut& out) { return out.stock.changed; }, "")
      .text("unit", [](const StockOut& out) { return std::string(unit_inside(out.stock.measured)); })
      .whole("uses_count", [](const StockOut& out) { return out.stock.uses_count; });
  return define<StockIn, StockOut>({.noun = "record",
                                    .verb = "stock",
                                    .inputs = inputs,
                                    .outputs = outputs,
                                    .answer = stock,
                                    .tell = tell_stock,
                                    .examples = {{"record stock \"Spring heap\""}}});
}

}  // namespace barm::operations
