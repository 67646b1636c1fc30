// barm record list: entries of a kind, as they stand or stood.
#include <fmt/format.h>

#include "operations/record_shown.h"
#include "operations/record_store.h"
#include "operations/registry.h"
#include "records/named.h"

namespace barm::operations {
namespace {

struct In {
  std::string kind, field, names, store = usual_store;
  std::optional<std::int64_t> from{}, to{}, known_at{};
  bool history = false;
  double most = 100.0;
};
struct Out {
  std::vector<Shown> entries{};
};

Answer<Out> answer(const In& in, const World& world) {
  Findings findings;
  auto store = findings.take(open_store(in.store, world));
  if (!store) return std::move(findings).refusal<Out>();
  const records::Kind& kind = *store->kinds().find(in.kind);
  records::Filter filter{.field = in.field, .from = in.from, .to = in.to, .history = in.history};
  if (in.known_at) filter.known_at = *in.known_at;
  filter.most = static_cast<std::int64_t>(in.most);
  if (!in.field.empty()) {
    const auto* field = kind.field(in.field);
    if (field != nullptr && field->type == records::Type::reference) {
      const auto id = take_about(findings, records::id_named(*store, field->refers_to, in.names), "names");
      if (!id) return std::move(findings).refusal<Out>();
      filter.names = *id;
    }
  }
  const auto entries = findings.take(retarget(store->list(kind, filter), {{"id", "names"}}));
  if (!entries) return std::move(findings).refusal<Out>();
  Out out{findings.take(shown(*store, *entries, zone_of(*store))).value_or(std::vector<Shown>{})};
  if (out.entries.size() == static_cast<std::size_t>(filter.most))
    findings.doubt({"records.list.more", "most", {{"given", std::to_string(filter.most)}}});
  return std::move(findings).answer(std::move(out));
}

std::string tell(const Out& out, const Voice& voice) {
  std::string text;
  for (const auto& one : out.entries) {
    text += fmt::format("{}  {}\n", one.entry.id, in_words(one, voice));
    if (!one.entry.reason.empty()) {
      text += "    " +
              voice.say("records.told.replaces", {{"given", one.entry.replaces}, {"reason", one.entry.reason}}) + "\n";
    }
  }
  return text + voice.say("records.told.entries", {{"given", std::to_string(out.entries.size())}}) + "\n";
}

}  // namespace

Operation record_list() {
  Choices<std::string> kinds;
  for (const auto& name : records::all_kinds().names()) kinds.emplace_back(name, name);
  Inputs<In> inputs;
  inputs.choice("kind", at(&In::kind), kinds)
      .required()
      .positional()
      .refused_as("operations.input.not_a_kind_of_entry");
  inputs.text("field", at(&In::field), "brew");
  inputs.text("names", at(&In::names), "May night brew");
  inputs.instant("from", at(&In::from), "2026-05-01T00:00:00-05:00");
  inputs.instant("to", at(&In::to), "2026-06-01T00:00:00-05:00");
  inputs.instant("known_at", at(&In::known_at), "2026-05-15T00:00:00-05:00");
  inputs.flag("history", at(&In::history));
  inputs.quantity("most", at(&In::most), Dimension::number, "100").least(1.0).most(100'000.0);
  store_input(inputs, &In::store);
  Outputs<Out> outputs;
  outputs.list("entries", at(&Out::entries), shown_outputs());
  auto operation = define<In, Out>(
      {.noun = "record",
       .verb = "list",
       .inputs = inputs,
       .outputs = outputs,
       .answer = answer,
       .tell = tell,
       .examples = {{"record list bed"}, {"record list reading --field brew --names \"May night brew\""}}});
  share_shown_codes(operation);
  return operation;
}

}  // namespace barm::operations
