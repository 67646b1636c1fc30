// barm record correct and barm record withdraw: further entries that take the place of one.
#include <fmt/format.h>

#include <algorithm>

#include "operations/record_fields.h"
#include "operations/record_store.h"
#include "operations/registry.h"
#include "quantity/suggest.h"
#include "records/id.h"
#include "records/named.h"

namespace barm::operations {
namespace {

struct In {
  std::string id, kind, field, value, reason, by, new_id, store = usual_store;
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

/// Kinds whose things have a name.
std::vector<std::string> named_kinds() {
  std::vector<std::string> all;
  for (const auto& kind : records::all_kinds().all()) {
    if (kind.field("name") != nullptr) all.push_back(kind.name);
  }
  return all;
}

/// The entry this one was kept in the place of, when it was kept before and is sent again.
std::optional<records::Entry> replaced_before(records::Store& store, const In& in) {
  const auto before = in.new_id.empty() ? std::nullopt : std::optional(store.find(in.new_id));
  if (!before || !before->ok() || (*before)->replaces.empty()) return std::nullopt;
  auto old = store.find((*before)->replaces);
  return old.ok() ? std::optional(std::move(old.value())) : std::nullopt;
}

/// The id that the input tells, or that of the one thing with that name.
std::optional<std::string> id_of(records::Store& store, const In& in, Findings& findings) {
  const auto kinds = in.kind.empty() ? named_kinds() : std::vector<std::string>{in.kind};
  auto id = records::id_named(store, kinds, in.id);
  if (id.ok()) return id.value();
  for (Remark why : id.refusals()) {
    if (why.code == "records.entry.name_of_none" && in.kind.empty()) why.code = "records.entry.name_of_nothing";
    const auto& of = std::get<std::string>(why.facts["kind"]);
    if (why.code == "records.entry.name_of_several" && of.find(", ") != std::string::npos)
      why.facts.emplace("narrow", "--kind");
    findings.refuse(std::move(why));
  }
  return std::nullopt;
}

/// The entry to take the place of: the newest about the thing that `id` names. When the new entry was kept before, and
/// is sent again, the one it took the place of then; what has since lost its name is found by that entry.
std::optional<records::Entry> replaced(records::Store& store, const In& in, Findings& findings) {
  const auto before = replaced_before(store, in);
  const auto is_called = [&] {
    const auto& kind = *store.kinds().find(before->kind);
    return kind.field("name") != nullptr && slips_between(name_of(kind, *before), in.id) == 0;
  };
  if (before && !records::is_id(in.id) && is_called()) return before;
  const auto id = id_of(store, in, findings);
  auto entry = id ? findings.take(store.find(*id)) : std::nullopt;
  if (!entry) return std::nullopt;
  if (!in.kind.empty() && entry->kind != in.kind) {
    findings.refuse(
        {"records.entry.names_another_kind", "id", {{"given", in.id}, {"kind", entry->kind}, {"allowed", in.kind}}});
    return std::nullopt;
  }
  if (before && before->thing_number == entry->thing_number) return before;
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

/// Whether what the entry is part of was withdrawn, and the entry with it.
bool went_along(records::Store& store, const records::Kind& kind, const records::Entry& entry) {
  for (std::size_t i = 0; i < kind.fields.size(); ++i) {
    if (!kind.fields[i].is_whole || !records::is_given(entry.values[i])) continue;
    const auto& whole = std::get<std::string>(entry.values[i]);
    return store.connection().whole(
               "SELECT withdraws FROM entry WHERE thing = (SELECT thing FROM entry WHERE id = :p0) "
               "ORDER BY number DESC LIMIT 1",
               {whole}) != 0;
  }
  return false;
}

/// Refuses while entries that stand lean on this thing without being part of it: what they tell would change in
/// silence.
void refuse_leant_on(records::Store& store, const records::Entry& old, const In& in, Findings& findings) {
  const auto first = store.read(old.thing_number, old.thing_number);
  std::vector<std::string> kinds;
  std::size_t count = 0;
  for (const auto& kind : store.kinds().all()) {
    for (const auto& field : kind.fields) {
      if (field.type != records::Type::reference || field.is_whole) continue;
      if (std::find(field.refers_to.begin(), field.refers_to.end(), old.kind) == field.refers_to.end()) continue;
      const auto leaning = entries_about(store, kind, {field.name, first.front().id}, findings);
      const auto standing = std::count_if(leaning.begin(), leaning.end(),
                                          [&](const auto& entry) { return !went_along(store, kind, entry); });
      if (standing == 0) continue;
      count += static_cast<std::size_t>(standing);
      if (kinds.empty() || kinds.back() != kind.name) kinds.push_back(kind.name);
    }
  }
  if (count == 0) return;
  findings.refuse(
      {"records.entry.leant_on",
       "id",
       {{"given", in.id}, {"count", std::to_string(count)}, {"kind", fmt::format("{}", fmt::join(kinds, ", "))}}});
}

Answer<Out> withdraw(const In& in, const World& world) {
  Findings findings;
  auto store = findings.take(open_store(in.store, world));
  const auto old = store ? replaced(*store, in, findings) : std::nullopt;
  if (!old) return std::move(findings).refusal<Out>();
  if (!replaced_before(*store, in)) refuse_leant_on(*store, *old, in, findings);
  if (findings.refused()) return std::move(findings).refusal<Out>();
  return keep(*store, {.kind = old->kind, .withdraws = true}, *old, in, world, std::move(findings));
}

void which(Inputs<In>& inputs) {
  Choices<std::string> kinds;
  for (const auto& name : records::all_kinds().names()) kinds.emplace_back(name, name);
  inputs.text("id", at(&In::id), "Spring heap").required().positional();
  inputs.choice("kind", at(&In::kind), kinds).refused_as("operations.input.not_a_kind_of_entry");
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
  which(inputs);
  inputs.text("field", at(&In::field), "area").required();
  inputs.text("value", at(&In::value), "32 m2").required();
  why_and_who(inputs);
  return define<In, Out>(
      {.noun = "record",
       .verb = "correct",
       .inputs = inputs,
       .outputs = outputs(),
       .answer = correct,
       .examples = {{"record correct 019f2a4e-7c00-7123-8abc-0123456789ab --field area --value \"32 "
                     "m2\" --reason \"measured again\""},
                    {"record correct \"North bed\" --field area --value \"32 m2\" --reason \"measured "
                     "again\""}}});
}

Operation record_withdraw() {
  Inputs<In> inputs;
  which(inputs);
  why_and_who(inputs);
  return define<In, Out>(
      {.noun = "record",
       .verb = "withdraw",
       .inputs = inputs,
       .outputs = outputs(),
       .answer = withdraw,
       .examples = {{"record withdraw 019f2a4e-7c00-7123-8abc-0123456789ab --reason \"entered twice\""},
                    {"record withdraw \"Spring heap\" --kind compost_lot --reason \"entered twice\""}}});
}

}  // namespace barm::operations
