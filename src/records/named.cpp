#include "records/named.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "quantity/suggest.h"
#include "records/id.h"
#include "records/reading_rows.h"
#include "records/schema.h"

namespace barm::records {

Answer<std::string> id_named(Store& store, const std::vector<std::string>& kinds, const std::string& name) {
  using Id = Answer<std::string>;
  if (is_id(name)) return name;
  return or_refusal<std::string>([&]() -> Id {
    std::vector<std::string> ids, names;
    std::set<std::string> found_kinds;
    const auto look = [&](const std::string& condition, const Row& parameters) {
      for (const auto& kind : kinds) {
        if (store.kinds().find(kind)->field("name") == nullptr) continue;
        for (const auto& row : store.connection().rows(
                 fmt::format("SELECT first.id, k.name FROM \"{}\" k JOIN entry e ON e.number = k.number "
                             "JOIN entry first ON first.number = e.thing WHERE {}{}",
                             kind, counts_at("e", ":p0"), condition),
                 parameters, {Cell::text, Cell::text})) {
          const auto& called = std::get<std::string>(row[1]);
          if (slips_between(called, name) == 0) {
            ids.push_back(std::get<std::string>(row[0]));
            found_kinds.insert(kind);
          }
          names.push_back(called);
        }
      }
    };
    look(" AND k.name = :p1", {known_now, name});
    if (ids.empty()) look("", {known_now});  // in other capitals, or misspelt
    if (ids.size() == 1) return ids.front();
    std::map<std::string, Remark::Fact> facts{{"given", name.substr(0, 60)},
                                              {"kind", fmt::format("{}", fmt::join(kinds, ", "))}};
    if (ids.size() > 1) {
      ids.resize(std::min<std::size_t>(ids.size(), 5));
      facts.emplace("allowed", fmt::format("{}", fmt::join(ids, ", ")));
      facts["kind"] = fmt::format("{}", fmt::join(found_kinds, ", "));
      return Id::refused({{"records.entry.name_of_several", "id", std::move(facts)}});
    }
    if (const auto near = likely_spelling(name, names); !near.empty()) facts.emplace("suggestion", near);
    return Id::refused({{"records.entry.name_of_none", "id", std::move(facts)}});
  });
}

namespace {

/// What a kind calls its things by, when it does.
const Field* name_field(const Kind& kind) {
  for (const char* called : {"name", "treatment", "crop"}) {
    if (const Field* field = kind.field(called)) return field;
  }
  return nullptr;
}

}  // namespace

Answer<std::map<std::string, std::string>> names_in(Store& store, const std::vector<Entry>& entries) {
  using Names = std::map<std::string, std::string>;
  return or_refusal<Names>([&]() -> Answer<Names> {
    std::map<std::string, std::set<std::string>> kinds_of;  // ids, by the kinds they may be of
    for (const auto& entry : entries) {
      const Kind& kind = *store.kinds().find(entry.kind);
      for (std::size_t i = 0; i < entry.values.size(); ++i) {
        if (kind.fields[i].type != Type::reference || !is_given(entry.values[i])) continue;
        for (const auto& other : kind.fields[i].refers_to)
          kinds_of[other].insert(std::get<std::string>(entry.values[i]));
      }
    }
    Names names;
    for (const auto& [name, ids] : kinds_of) {
      const Field* called = name_field(*store.kinds().find(name));
      if (called == nullptr) continue;
      const auto query = fmt::format(
          "SELECT first.id, k.{} FROM entry first JOIN \"{}\" k ON k.number = coalesce((SELECT max(v.number) FROM "
          "entry "
          "v WHERE v.thing = first.number AND v.thing <> v.number AND v.withdraws = 0), first.number) WHERE first.id ",
          quoted(called->column()), name);
      const Row all(ids.begin(), ids.end());
      for (std::size_t at = 0; at < all.size(); at += list_most) {
        const auto end = std::min(at + list_most, all.size());
        const auto [condition, parameters] =
            one_of(Row(all.begin() + static_cast<std::ptrdiff_t>(at), all.begin() + static_cast<std::ptrdiff_t>(end)));
        for (auto& row : store.connection().rows(query + condition, parameters, {Cell::text, Cell::text})) {
          if (is_given(row[1])) names[std::get<std::string>(row[0])] = std::get<std::string>(row[1]);
        }
      }
    }
    return names;
  });
}

Answer<std::vector<std::string>> thing_ids_of(Store& store, const std::vector<Entry>& entries) {
  using Ids = std::vector<std::string>;
  return or_refusal<Ids>([&]() -> Answer<Ids> {
    std::map<std::int64_t, std::string> first_ids;
    for (const auto& entry : entries) {
      if (entry.number != entry.thing_number) first_ids.emplace(entry.thing_number, "");
    }
    Ids ids;
    for (auto& [number, id] : first_ids)
      id = std::get<std::string>(
          store.connection().rows("SELECT id FROM entry WHERE number = :p0", {number}, {Cell::text}).at(0).at(0));
    for (const auto& entry : entries)
      ids.push_back(entry.number == entry.thing_number ? entry.id : first_ids.at(entry.thing_number));
    return ids;
  });
}

}  // namespace barm::records
