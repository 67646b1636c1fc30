// barm record export and barm record import: out to files anyone can read, and in again.
#include <filesystem>
#include <map>

#include "operations/record_store.h"
#include "operations/registry.h"
#include "operations/written.h"
#include "records/archive.h"
#include "records/calendar.h"
#include "records/csv.h"
#include "records/id.h"
#include "records/named.h"

namespace barm::operations {
namespace {

enum class Form { archive, csv, calendar };

struct In {
  Form form = Form::archive;
  std::string file, kind, by, store = usual_store;
  std::optional<std::int64_t> known_at{};
};
struct Out {
  std::vector<std::string> files{};
  std::int64_t entries_count = 0, was_there_count = 0;
};

/// One file a kind, of those that hold anything.
void write_tables(records::Store& store, const In& in, const World& world, Findings& findings, Out& out) {
  std::vector<WrittenFile> tables;
  for (const auto& kind : store.kinds().all()) {
    std::string text;
    records::Filter filter{.known_at = in.known_at.value_or(records::known_now)};
    const auto count =
        findings.take(records::write_csv(store, kind, filter, [&](std::string_view part) { text += part; }));
    if (count.value_or(0) == 0) continue;
    out.entries_count += *count;
    out.files.push_back((std::filesystem::path(in.file) / (kind.name + ".csv")).string());
    tables.push_back({out.files.back(), std::move(text), "file"});
  }
  write_together(tables, world, findings);
}

Answer<Out> write_out(const In& in, const World& world) {
  Findings findings;
  auto store = findings.take(open_store(in.store, world));
  if (!store) return std::move(findings).refusal<Out>();
  Out out;
  if (in.form == Form::archive) {
    const auto done = findings.take(records::write_archive(*store, in.file));
    out = {{in.file}, done.value_or(records::Archived{}).entries_count};
  } else if (in.form == Form::csv) {
    write_tables(*store, in, world, findings, out);
  } else {
    const auto words = [&](const records::Kind& kind, const records::Field&, const std::string& name) {
      const Voice voice{.words = world.words};
      return voice.say("records.event." + kind.name, {{"given", name}});
    };
    const auto text = findings.take(records::calendar_of(*store, words, in.known_at.value_or(records::known_now)));
    if (text) findings.take(retarget(world.write_file(in.file, *text), {{"", "file"}}));
    out.files = {in.file};
  }
  return std::move(findings).answer(std::move(out));
}

/// Puts ids in the place of names. Refuses each name nobody has by its row, up to twenty.
void find_named(std::vector<records::Entry>& entries, const records::Kind& kind, records::Store& store,
                Findings& findings) {
  constexpr std::size_t told_most = 20, first_row = 2;
  std::map<std::pair<std::size_t, std::string>, Answer<std::string>> known;  // a table names the same few over and over
  for (std::size_t row = 0; row < entries.size() && findings.refusals().size() < told_most; ++row) {
    for (std::size_t i = 0; i < kind.fields.size(); ++i) {
      const auto& field = kind.fields[i];
      auto& value = entries[row].values[i];
      if (field.type != records::Type::reference || !records::is_given(value)) continue;
      const auto& name = std::get<std::string>(value);
      if (records::is_id(name)) continue;
      auto at = known.find({i, name});
      if (at == known.end())
        at = known.emplace(std::pair(i, name), records::id_named(store, field.refers_to, name)).first;
      for (Remark why : at->second.refusals()) {
        why.field = field.name;
        why.facts.emplace("row", std::to_string(row + first_row));
        findings.refuse(std::move(why));
      }
      if (at->second.ok()) value = at->second.value();
    }
  }
}

Answer<Out> read_in(const In& in, const World& world) {
  Findings findings;
  const auto text = findings.take(retarget(world.read_file(in.file), {{"", "file"}}));
  const auto* kind = records::all_kinds().find(in.kind);
  auto entries = text ? findings.take(records::read_csv(*text, *kind)) : std::nullopt;
  auto store = entries ? findings.take(open_store(in.store, world, true)) : std::nullopt;
  if (!store) return std::move(findings).refusal<Out>();
  find_named(*entries, *kind, *store, findings);
  if (findings.refused()) return std::move(findings).refusal<Out>();
  for (auto& entry : *entries) {
    if (entry.recorded_by.empty()) entry.recorded_by = in.by;
  }
  const auto kept = findings.take(store->add_all(*entries, world.now()));
  Out out{.files = {in.file}};
  for (const auto& one : kept.value_or(std::vector<records::Kept>{}))
    ++(one.was_there ? out.was_there_count : out.entries_count);
  return std::move(findings).answer(std::move(out));
}

std::string tell_out(const Out& out, const Voice& voice) {
  std::string text;
  for (const auto& file : out.files) text += file + "\n";
  return text + (out.entries_count == 0
                     ? ""
                     : voice.say("records.told.entries", {{"given", std::to_string(out.entries_count)}}) + "\n");
}
std::string tell_in(const Out& out, const Voice& voice) {
  return voice.say("records.told.imported",
                   {{"given", std::to_string(out.entries_count)}, {"there", std::to_string(out.was_there_count)}}) +
         "\n";
}

}  // namespace

Operation record_export() {
  Inputs<In> inputs;
  inputs.text("file", at(&In::file), "garden.zip", Kind::file_written).required().positional();
  inputs.choice("form", at(&In::form),
                Choices<Form>{{"archive", Form::archive}, {"csv", Form::csv}, {"calendar", Form::calendar}});
  inputs.instant("known_at", at(&In::known_at), "2026-05-15T00:00:00-05:00");
  store_input(inputs, &In::store);
  Outputs<Out> outputs;
  outputs.texts("files", at(&Out::files)).whole("entries_count", at(&Out::entries_count));
  return define<In, Out>({.noun = "record",
                          .verb = "export",
                          .inputs = inputs,
                          .outputs = outputs,
                          .answer = write_out,
                          .tell = tell_out,
                          .examples = {{"record export garden.zip"}, {"record export garden.ics --form calendar"}}});
}

Operation record_import() {
  Choices<std::string> kinds;
  for (const auto& name : records::all_kinds().names()) kinds.emplace_back(name, name);
  Inputs<In> inputs;
  inputs.choice("kind", at(&In::kind), kinds)
      .required()
      .positional()
      .refused_as("operations.input.not_a_kind_of_entry");
  inputs.text("file", at(&In::file), "beds.csv", Kind::file_read).required().positional();
  inputs.text("by", at(&In::by), "Ana");
  store_input(inputs, &In::store);
  Outputs<Out> outputs;
  outputs.whole("entries_count", at(&Out::entries_count)).whole("was_there_count", at(&Out::was_there_count));
  return define<In, Out>({.noun = "record",
                          .verb = "import",
                          .inputs = inputs,
                          .outputs = outputs,
                          .answer = read_in,
                          .tell = tell_in,
                          .examples = {{"record import bed beds.csv"}}});
}

}  // namespace barm::operations
