#include "serve/sample.h"

#include <cmath>

#include "cards/local_time.h"
#include "operations/registry.h"
#include "quantity/text.h"

namespace barm::serve {
namespace {

using operations::Json;

/// "now - 6 h" as an instant; anything else as it is.
Answer<std::string> on_the_clock(const std::string& text, std::int64_t now) {
  if (text == "now") return cards::iso_text(now, "UTC");
  const bool before = text.starts_with("now - ");
  if (!before && !text.starts_with("now + ")) return text;
  Findings findings;
  const auto hours = findings.take(read_quantity(text.substr(6), Dimension::duration));
  if (!hours) return std::move(findings).refusal<std::string>();
  const auto ms = std::llround(*hours * 3'600'000.0);
  return cards::iso_text(before ? now - ms : now + ms, "UTC");
}

const operations::Operation* adding(const std::string& kind) {
  for (const auto& operation : operations::all_operations()) {
    if (operation.noun == "record" && operation.verb == "add_" + kind) return &operation;
  }
  return nullptr;
}

/// What an entry of the file tells, as `record add` takes it.
std::optional<Json> fields_of(const Json& entry, std::int64_t now, Findings& findings) {
  Json fields = Json::object();
  for (const auto& [name, value] : entry.items()) {
    if (name == "kind") continue;
    fields[name] = value;
    if (value.is_object()) fields[name] = value.dump();
    if (!value.is_string()) continue;
    const auto told = findings.take(on_the_clock(value.get<std::string>(), now));
    if (!told) return std::nullopt;
    fields[name] = *told;
  }
  return fields;
}

}  // namespace

Answer<bool> keep_sample(std::string_view toml, const std::string& store, const operations::World& world) {
  Findings findings;
  const auto document = findings.take(operations::read_toml(toml));
  if (!document) return std::move(findings).refusal<bool>();
  const Json* entries = operations::find(document->tree, "entry");
  if (entries == nullptr || !entries->is_array()) return Answer<bool>::refused({{"serve.sample.no_entries", "", {}}});
  std::size_t row = 0;
  for (const auto& entry : *entries) {
    ++row;
    const std::string kind = entry.value("kind", "");
    const auto* operation = adding(kind);
    if (operation == nullptr) {
      findings.refuse({"serve.sample.no_such_kind", "", {{"row", std::to_string(row)}, {"given", kind}}});
      return std::move(findings).refusal<bool>();
    }
    auto fields = fields_of(entry, world.now(), findings);
    if (!fields) return std::move(findings).refusal<bool>();
    (*fields)["store"] = store;
    const auto result = operation->ask({.document = {std::move(*fields), {}}}, world);
    for (const auto& why : result.refusals) findings.refuse(why);
    if (findings.refused()) return std::move(findings).refusal<bool>();
  }
  return true;
}

}  // namespace barm::serve
