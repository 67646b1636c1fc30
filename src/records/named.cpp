#include "records/named.h"

#include <fmt/format.h>

#include "quantity/suggest.h"
#include "records/id.h"
#include "records/reading_rows.h"

namespace barm::records {

Answer<std::string> id_named(Store& store, const std::vector<std::string>& kinds, const std::string& name) {
  using Id = Answer<std::string>;
  if (is_id(name)) return name;
  return or_refusal<std::string>([&]() -> Id {
    std::vector<std::string> ids, names;
    for (const auto& kind : kinds) {
      if (store.kinds().find(kind)->field("name") == nullptr) continue;
      for (const auto& row : store.connection().rows(
               fmt::format("SELECT first.id, k.name FROM \"{}\" k JOIN entry e ON e.number = k.number "
                           "JOIN entry first ON first.number = e.thing WHERE {}",
                           kind, counts_at("e", ":p0")),
               {known_now}, {Cell::text, Cell::text})) {
        const auto& called = std::get<std::string>(row[1]);
        if (slips_between(called, name) == 0) ids.push_back(std::get<std::string>(row[0]));
        names.push_back(called);
      }
    }
    if (ids.size() == 1) return ids.front();
    std::map<std::string, Remark::Fact> facts{{"given", name.substr(0, 60)},
                                              {"kind", fmt::format("{}", fmt::join(kinds, ", "))}};
    if (ids.size() > 1) {
      ids.resize(std::min<std::size_t>(ids.size(), 5));
      facts.emplace("allowed", fmt::format("{}", fmt::join(ids, ", ")));
      return Id::refused({{"records.entry.name_of_several", "id", std::move(facts)}});
    }
    if (const auto near = likely_spelling(name, names); !near.empty()) facts.emplace("suggestion", near);
    return Id::refused({{"records.entry.name_of_none", "id", std::move(facts)}});
  });
}

}  // namespace barm::records
