#include "records/verify.h"

#include <fmt/format.h>

#include "records/chain.h"
#include "records/line.h"
#include "records/schema.h"

namespace barm::records {
namespace {

constexpr std::int64_t page = 2000;
constexpr std::size_t told_most = 20;

class Verifier {
 public:
  Verifier(Store& store, std::string noted) : store_(store), noted_(std::move(noted)) {}

  Verified run() {
    told_.entries_count = store_.count();
    told_.seals_count = store_.connection().whole("SELECT max(number) FROM seal");
    told_.head = store_.head();
    noted_found_ = noted_.empty() || noted_ == chain_start();
    engine_checks();
    walk();
    if (!noted_found_) fault("head_unknown", 0, 0, {{"given", noted_}});
    return std::move(told_);
  }

 private:
  void fault(const char* what, std::int64_t first, std::int64_t last, std::map<std::string, Remark::Fact> facts = {}) {
    if (told_.faults.size() >= told_most) return;
    if (first > 0) facts.emplace("first", std::to_string(first));
    if (last > 0) facts.emplace("last", std::to_string(last));
    told_.faults.push_back({std::string("records.verify.") + what, "", std::move(facts)});
  }

  /// What the engine itself can tell, and rows of kinds that no entry of the ledger vouches for.
  void engine_checks() {
    auto& connection = store_.connection();
    if (connection.engine() == Engine::sqlite) {
      for (const auto& row : connection.rows("PRAGMA integrity_check(5)", {}, {Cell::text})) {
        if (const auto& said = std::get<std::string>(row[0]); said != "ok") fault("engine", 0, 0, {{"reason", said}});
      }
      for (const auto& row : connection.rows("PRAGMA foreign_key_check", {}, {Cell::text, Cell::whole}))
        fault("names_nothing", std::get<std::int64_t>(row[1]), 0, {{"kind", std::get<std::string>(row[0])}});
    }
    for (const auto& kind : store_.kinds().all()) {
      const auto query = fmt::format(
          "SELECT k.number FROM {} k LEFT JOIN entry e ON e.number = k.number AND e.kind = '{}' "
          "AND e.withdraws = 0 WHERE e.number IS NULL LIMIT 5",
          quoted(kind.name), kind.name);
      for (const auto& row : connection.rows(query, {}, {Cell::whole}))
        fault("slipped_in", std::get<std::int64_t>(row[0]), 0, {{"kind", kind.name}});
    }
  }

  void walk() {
    std::vector<Seal> seals;
    std::size_t at = 0;
    std::int64_t seal_number = 1, begun = 1;
    std::string before = chain_start();
    std::optional<Sealing> sealing;
    const auto current = [&]() -> const Seal* {
      if (at == seals.size()) seals = store_.seals(seal_number, seal_number + page - 1), at = 0, seal_number += page;
      return at < seals.size() ? &seals[at] : nullptr;
    };
    std::int64_t expected = 1;
    for (std::int64_t first = 1; first <= told_.entries_count; first += page) {
      for (const auto& entry : store_.read(first, first + page - 1)) {
        if (entry.number != expected) fault("missing", expected, entry.number - 1);
        expected = entry.number + 1;
        for (const Seal* seal = current(); seal != nullptr && seal->last_entry < entry.number; seal = current()) {
          close(*seal, sealing, begun, before);  // its last entry is missing
          ++at;
        }
        if (current() == nullptr) return fault("unsealed", entry.number, told_.entries_count);
        if (!sealing) sealing.emplace(before), begun = entry.number;
        if (const Kind* kind = store_.kinds().find(entry.kind)) sealing->add(line_of(*kind, entry));
        if (current()->last_entry != entry.number) continue;
        close(*current(), sealing, begun, before);
        ++at;
      }
    }
    if (expected <= told_.entries_count) fault("missing", expected, told_.entries_count);
    for (const Seal* seal = current(); seal != nullptr; seal = current(), ++at)
      fault("missing", expected, seal->last_entry);
  }

  /// Goes on from the hash as it is stored, so that each seal tells of its own entries only.
  void close(const Seal& seal, std::optional<Sealing>& sealing, std::int64_t begun, std::string& before) {
    if (!sealing || sealing->hash() != seal.hash) fault("changed", begun, seal.last_entry);
    before = seal.hash;
    noted_found_ = noted_found_ || seal.hash == noted_;
    sealing.reset();
  }

  Store& store_;
  std::string noted_;
  bool noted_found_ = false;
  Verified told_;
};

}  // namespace

Answer<Verified> verify(Store& store, const std::string& noted_head) {
  return or_refusal<Verified>([&]() -> Answer<Verified> {
    Verified told;
    store.connection().read([&] { told = Verifier(store, noted_head).run(); });
    return told;
  });
}

}  // namespace barm::records
