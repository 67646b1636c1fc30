// barm record add <kind>: keeps an entry. One operation a kind, made from the description of the kind.
#include <fmt/format.h>

#include "operations/record_store.h"
#include "operations/registry.h"

namespace barm::operations {
namespace {

struct Out {
  records::Kept kept{};
  std::string line{};  // in words
};

Outputs<Out> outputs() {
  Outputs<Out> all;
  all.text("id", [](const Out& out) { return out.kept.id; })
      .whole("number", [](const Out& out) { return out.kept.number; })
      .flag("was_there", [](const Out& out) { return out.kept.was_there; });
  return all;
}

InputField own_input(const char* name, const char* sample) {
  return {.name = name, .code = std::string("operations.help.record.entry.") + name, .sample = sample};
}

class Adding : public Body {
 public:
  explicit Adding(const records::Kind& kind) : kind_(kind) {
    for (const auto& field : kind.fields) inputs_.push_back(input_of(kind, field));
    inputs_.push_back(own_input("by", "Ana"));
    inputs_.push_back(own_input("id", "019f2a4e-7c00-7123-8abc-0123456789ab"));
    inputs_.push_back(own_input("store", usual_store.c_str()));
    inputs_.back().otherwise = usual_store;
    inputs_.back().kind = Kind::store;
  }

  const std::vector<InputField>& inputs() const { return inputs_; }

  Result ask(const Request& request, const World& world) const override {
    Result result{.places = request.document.places, .voice = {world.words, request.language, request.customs}};
    Findings findings;
    const auto out = run(request, world, findings, result.voice);
    result.refusals = findings.refusals();
    result.doubts = findings.doubts();
    if (!out) return result;
    result.answer = outputs().json(*out, result.voice);
    result.text = out->line;
    return result;
  }

  Remarks wrong_with(const Request& request, const World&) const override {
    Findings findings;
    Reading reading(request.customs, findings);
    check_names(request.document.tree, reading);
    return findings.refusals();
  }

 private:
  /// Refuses fields nobody knows and required ones that are missing.
  void check_names(const Json& tree, Reading& reading) const {
    reading.refuse_unknown(tree, inputs_, {});
    for (const auto& input : inputs_) {
      if (input.required && find(tree, input.name) == nullptr) reading.refuse_missing(input, input.name);
    }
  }
  std::optional<Out> run(const Request& request, const World& world, Findings& findings, const Voice& voice) const {
    const Json& tree = request.document.tree;
    Reading reading(request.customs, findings);
    check_names(tree, reading);
    records::Entry entry{.id = own(tree, "id", reading), .kind = kind_.name, .recorded_by = own(tree, "by", reading)};
    const auto place = own(tree, "store", reading);
    if (findings.refused()) return std::nullopt;
    auto store = findings.take(open_store(place.empty() ? usual_store : place, world, true));
    if (!store) return std::nullopt;
    entry.values.resize(kind_.fields.size());
    for (std::size_t i = 0; i < kind_.fields.size(); ++i) {
      const Json* given = find(tree, kind_.fields[i].name);
      if (given == nullptr) continue;
      if (auto value = read_value(kind_.fields[i], inputs_[i], *given, reading, *store, world))
        entry.values[i] = std::move(*value);
    }
    if (entry.id.empty()) entry.id = new_id(world);
    if (findings.refused()) return std::nullopt;
    const auto kept = findings.take(store->add(entry, world.now()));
    if (!kept) return std::nullopt;
    const auto name = name_of(kind_, entry);
    const auto called = name.empty() ? kept->id : name + " (" + kept->id + ")";
    const auto what = voice.say("records.kind." + kind_.name);
    return Out{*kept, voice.say(kept->was_there ? "records.told.was_there" : "records.told.kept",
                                {{"kind", what}, {"given", called}}) +
                          "\n"};
  }

  std::string own(const Json& tree, const char* name, Reading& reading) const {
    const Json* given = find(tree, name);
    if (given == nullptr) return {};
    return reading.text(own_input(name, name), *given, name).value_or("");
  }

  const records::Kind& kind_;
  std::vector<InputField> inputs_;
};

/// A line that shows the kind's needed fields, and keeps what it shows.
std::string example(const records::Kind& kind) {
  std::string line = "record add " + kind.name;
  for (const auto& field : kind.fields) {
    if (!field.required) continue;
    const auto input = input_of(kind, field);
    const bool bare = input.sample.find_first_of(" {\"") == std::string::npos;
    line += fmt::format(" --{} {}", field.name, bare ? input.sample : "'" + input.sample + "'");
  }
  return line;
}

}  // namespace

std::vector<Operation> record_add() {
  std::vector<Operation> all;
  for (const auto& kind : records::all_kinds().all()) {
    const auto body = std::make_shared<Adding>(kind);
    Operation operation{
        .noun = "record", .verb = "add_" + kind.name, .inputs = body->inputs(), .answer = outputs().fields()};
    for (auto& field : operation.answer) field.code = "operations.help.record.entry.answer." + field.name;
    operation.examples = {{example(kind)}};
    operation.body = body;
    all.push_back(std::move(operation));
  }
  return all;
}

}  // namespace barm::operations
