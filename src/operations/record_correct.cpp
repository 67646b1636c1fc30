// barm record correct and barm record withdraw: further entries that take the place of one.
#include "operations/record_store.h"
#include "operations/registry.h"

namespace barm::operations {
namespace {

struct In {
  std::string id, field, value, reason, by, new_id, store = usual_store;
};
struct Out {
  records::Kept kept{};
  std::string replaced{};
};

Outputs<Out> outputs() {
  Outputs<Out> all;
  all.text("id", [](const Out& out) { return out.kept.id; })
      .text("replaces", at(&Out::replaced))
      .whole("number", [](const Out& out) { return out.kept.number; })
      .flag("was_there", [](const Out& out) { return out.kept.was_there; });
  return all;
}

/// The entry to take the place of: the newest about the thing that `id` names. When the new entry was kept before, and
/// is sent again, the one it took the place of then.
std::optional<records::Entry> replaced(records::Store& store, const In& in, Findings& findings) {
  auto entry = findings.take(store.find(in.id));
  if (!entry) return std::nullopt;
  if (!in.new_id.empty()) {
    const auto before = store.find(in.new_id);
    if (before.ok() && !before->replaces.empty() && before->thing_number == entry->thing_number)
      return findings.take(store.find(before->replaces));
  }
  const auto number = store.connection().whole("SELECT max(number) FROM entry WHERE thing = :p0 AND thing <> number",
                                               {entry->thing_number});
  if (number > entry->number) entry = store.read(number, number).front();
  if (!entry->withdraws) return entry;
  findings.refuse({"records.entry.withdrawn", "id", {{"given", in.id}}});
  return std::nullopt;
}

Answer<Out> keep(records::Store& store, records::Entry entry, const records::Entry& old, const In& in,
                 const World& world, Findings findings) {
  entry.id = in.new_id.empty() ? new_id(world) : in.new_id;
  entry.replaces = old.id;
  entry.reason = in.reason;
  entry.recorded_by = in.by;
  const auto kept = findings.take(retarget(store.add(entry, world.now()), {{"id", "new_id"}}));
  return std::move(findings).answer(Out{kept.value_or(records::Kept{}), old.id});
}

Answer<Out> correct(const In& in, const World& world) {
  Findings findings;
  auto store = findings.take(open_store(in.store, world));
  const auto old = store ? replaced(*store, in, findings) : std::nullopt;
  if (!old) return std::move(findings).refusal<Out>();
  const records::Kind& kind = *store->kinds().find(old->kind);
  const auto position = kind.position(in.field);
  if (!position) {
    std::vector<std::string> known;
    for (const auto& field : kind.fields) known.push_back(field.name);
    std::map<std::string, Remark::Fact> facts{{"given", in.field}, {"kind", kind.name}};
    if (const auto near = likely(in.field, known); !near.empty()) facts.emplace("suggestion", near);
    findings.refuse({"records.entry.unknown_field", "field", std::move(facts)});
    return std::move(findings).refusal<Out>();
  }
  Reading reading({}, findings);
  auto input = input_of(kind, kind.fields[*position]);
  input.name = "value";
  auto value = read_value(kind.fields[*position], input, in.value, reading, *store, world);
  if (!value) return std::move(findings).refusal<Out>();
  records::Entry entry = *old;
  entry.values[*position] = std::move(*value);
  return keep(*store, std::move(entry), *old, in, world, std::move(findings));
}

Answer<Out> withdraw(const In& in, const World& world) {
  Findings findings;
  auto store = findings.take(open_store(in.store, world));
  const auto old = store ? replaced(*store, in, findings) : std::nullopt;
  if (!old) return std::move(findings).refusal<Out>();
  return keep(*store, {.kind = old->kind, .withdraws = true}, *old, in, world, std::move(findings));
}

void why_and_who(Inputs<In>& inputs) {
  inputs.text("reason", at(&In::reason), "measured again").required();
  inputs.text("by", at(&In::by), "Ana");
  inputs.text("new_id", at(&In::new_id), "019f2a4e-7c00-7123-8abc-0123456789ac");
  store_input(inputs, &In::store);
}

}  // namespace

Operation record_correct() {
  Inputs<In> inputs;
  inputs.text("id", at(&In::id), "019f2a4e-7c00-7123-8abc-0123456789ab").required().positional();
  inputs.text("field", at(&In::field), "area").required();
  inputs.text("value", at(&In::value), "32 m2").required();
  why_and_who(inputs);
  return define<In, Out>({.noun = "record",
                          .verb = "correct",
                          .inputs = inputs,
                          .outputs = outputs(),
                          .answer = correct,
                          .examples = {{"record correct 019f2a4e-7c00-7123-8abc-0123456789ab --field area --value \"32 "
                                        "m2\" --reason \"measured again\""}}});
}

Operation record_withdraw() {
  Inputs<In> inputs;
  inputs.text("id", at(&In::id), "019f2a4e-7c00-7123-8abc-0123456789ab").required().positional();
  why_and_who(inputs);
  return define<In, Out>(
      {.noun = "record",
       .verb = "withdraw",
       .inputs = inputs,
       .outputs = outputs(),
       .answer = withdraw,
       .examples = {{"record withdraw 019f2a4e-7c00-7123-8abc-0123456789ab --reason \"entered twice\""}}});
}

}  // namespace barm::operations
