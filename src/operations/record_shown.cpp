#include "operations/record_shown.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "operations/record_store.h"
#include "operations/record_words.h"
#include "records/line.h"
#include "records/named.h"

namespace barm::operations {
namespace {

const records::Kind& kind_of(const Shown& one) {
  return *records::all_kinds().find(one.entry.kind);
}

/// The entry as a list shows it: a list of pictures would be megabytes.
records::Entry without_images(const Shown& one) {
  records::Entry entry = one.entry;
  const records::Kind& kind = kind_of(one);
  for (std::size_t i = 0; i < entry.values.size(); ++i) {
    if (kind.fields[i].type == records::Type::image) entry.values[i] = {};
  }
  return entry;
}

/// One value of an entry.
struct Said {
  std::string field{}, text{}, id{}, unit{};
  double number = unset;
  std::optional<Moment> at{};
};

const records::Value* given(const Shown& one, const std::string& field) {
  const auto at = kind_of(one).position(field);
  if (!at || *at >= one.entry.values.size() || !records::is_given(one.entry.values[*at])) return nullptr;
  return &one.entry.values[*at];
}

std::vector<Said> said(const Shown& one) {
  std::vector<Said> all;
  const records::Kind& kind = kind_of(one);
  for (std::size_t i = 0; i < one.entry.values.size(); ++i) {
    const auto& value = one.entry.values[i];
    const auto& field = kind.fields[i];
    if (!records::is_given(value)) continue;
    if (field.type == records::Type::image) continue;  // asked for by itself: record photo
    Said& said = all.emplace_back(Said{.field = field.name});
    if (const auto* text = std::get_if<std::string>(&value)) said.text = *text;
    if (const auto* number = std::get_if<double>(&value))
      said.number = *number, said.unit = unit_inside(field.dimension);
    if (field.type == records::Type::flag) said.text = std::get<std::int64_t>(value) != 0 ? "true" : "false";
    if (field.type == records::Type::instant) said.at = Moment{std::get<std::int64_t>(value), one.zone};
    if (field.type == records::Type::reference) said.id = std::exchange(said.text, called(one, said.text));
  }
  return all;
}

Outputs<Said> said_outputs() {
  Outputs<Said> each;
  each.text("field", at(&Said::field))
      .text("text", at(&Said::text))
      .text("id", at(&Said::id))
      .number("number", at(&Said::number), "")
      .text("unit", at(&Said::unit))
      .instant("at", at(&Said::at));
  return each;
}

void share(std::vector<AnswerField>& fields, const std::vector<AnswerField>& shared) {
  for (auto& field : fields) {
    const bool same = std::equal(field.inside.begin(), field.inside.end(), shared.begin(), shared.end(),
                                 [](const auto& a, const auto& b) { return a.name == b.name; });
    if (same && !shared.empty()) {
      for (std::size_t i = 0; i < shared.size(); ++i) {
        field.inside[i].code = "operations.help.record.shown." + field.inside[i].name;
        for (auto& part : field.inside[i].inside) part.code = field.inside[i].code + "." + part.name;
      }
    } else {
      share(field.inside, shared);
    }
  }
}

}  // namespace

Answer<std::vector<Shown>> shown(records::Store& store, std::vector<records::Entry> entries, const std::string& zone) {
  Findings findings;
  auto ids = findings.take(thing_ids_of(store, entries));
  auto names = findings.take(names_in(store, entries));
  std::vector<Shown> all;
  if (!ids || !names) return std::move(findings).refusal<std::vector<Shown>>();
  const auto kept = std::make_shared<const Names>(std::move(*names));
  for (std::size_t i = 0; i < entries.size(); ++i)
    all.push_back({std::move(entries[i]), std::move((*ids)[i]), zone, kept});
  return all;
}

std::string called(const Shown& one, const std::string& id) {
  const auto name = one.names->find(id);
  return name == one.names->end() ? id : name->second;
}

std::string text_of(const Shown& one, const std::string& field) {
  const auto* value = given(one, field);
  const auto* text = value == nullptr ? nullptr : std::get_if<std::string>(value);
  return text == nullptr ? std::string() : *text;
}

double number_of(const Shown& one, const std::string& field) {
  const auto* value = given(one, field);
  const auto* number = value == nullptr ? nullptr : std::get_if<double>(value);
  return number == nullptr ? unset : *number;
}

std::optional<Moment> moment_of(const Shown& one, const std::string& field) {
  const auto* value = given(one, field);
  if (value == nullptr) return std::nullopt;
  return Moment{std::get<std::int64_t>(*value), one.zone};
}

std::string in_words(const Shown& one, const Voice& voice) {
  const records::Kind& kind = kind_of(one);
  std::string text;
  for (std::size_t i = 0; i < one.entry.values.size(); ++i) {
    const auto& value = one.entry.values[i];
    const auto& field = kind.fields[i];
    if (!records::is_given(value) || field.type == records::Type::json || field.type == records::Type::image) continue;
    const auto said = field.type == records::Type::reference ? called(one, std::get<std::string>(value))
                                                             : value_text(field, value, one.zone, voice);
    append_said(text, field.name, said, voice);
  }
  return text;
}

Outputs<Shown> shown_outputs() {
  Outputs<Shown> each;
  each.text("id", [](const Shown& one) { return one.entry.id; })
      .text("thing_id", at(&Shown::thing_id))
      .text("kind", [](const Shown& one) { return one.entry.kind; })
      .told("text", [](const Shown& one, const Voice& voice) { return in_words(one, voice); })
      .text("line", [](const Shown& one) { return records::line_of(kind_of(one), without_images(one)); })
      .instant("recorded_at",
               [](const Shown& one) {
                 return std::optional(Moment{one.entry.recorded_at, one.zone});
               })
      .text("recorded_by", [](const Shown& one) { return one.entry.recorded_by; })
      .text("replaces", [](const Shown& one) { return one.entry.replaces; })
      .text("reason", [](const Shown& one) { return one.entry.reason; })
      .flag("withdraws", [](const Shown& one) { return one.entry.withdraws; })
      .list("values", said, said_outputs());
  return each;
}

void share_shown_codes(Operation& operation) {
  share(operation.answer, shown_outputs().fields());
}

}  // namespace barm::operations
