// How entries come into a store.
#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <unordered_map>

#include "records/chain.h"
#include "records/check.h"
#include "records/line.h"
#include "records/schema.h"
#include "records/store.h"

namespace barm::records {
namespace {

constexpr std::size_t told_most = 20;  // refusals; after that the list is another kind of list

struct Known {  // what is known of an id
  std::int64_t number = 0, thing = 0;
  std::string kind{};
};

/// Refusals end a writing; what was written is taken back.
struct Refused {
  Remarks why;
};

/// Rows of one table, collected and then written many to a statement.
class Rows {
 public:
  Rows(std::string head, std::vector<Cell> types) : head_(std::move(head)), types_(std::move(types)) {}

  void add(Row row) { rows_.push_back(std::move(row)); }

  void write(Connection& connection) {
    std::size_t at = 0;
    for (const std::size_t together : {std::size_t{64}, std::size_t{8}, std::size_t{1}}) {  // judged; not timed
      std::string statement;
      std::vector<Cell> types;
      for (; rows_.size() - at >= together; at += together) {
        if (statement.empty()) {
          statement = statement_of(together);
          for (std::size_t i = 0; i < together; ++i) types.insert(types.end(), types_.begin(), types_.end());
        }
        Row parameters;
        parameters.reserve(types.size());
        for (std::size_t i = at; i < at + together; ++i)
          std::move(rows_[i].begin(), rows_[i].end(), std::back_inserter(parameters));
        connection.run(statement, parameters, types);
      }
    }
    rows_.clear();
  }

 private:
  std::string statement_of(std::size_t together) const {
    std::string text = head_;
    std::size_t parameter = 0;
    for (std::size_t i = 0; i < together; ++i) {
      text += i == 0 ? " (" : ", (";
      for (std::size_t j = 0; j < types_.size(); ++j) text += fmt::format("{}:p{}", j == 0 ? "" : ", ", parameter++);
      text += ")";
    }
    return text;
  }
  std::string head_;
  std::vector<Cell> types_;
  std::vector<Row> rows_;
};

Rows ledger_rows() {
  return {"INSERT INTO entry (number, id, kind, thing, replaces, withdraws, reason, recorded_at, recorded_by) VALUES",
          {Cell::whole, Cell::text, Cell::text, Cell::whole, Cell::whole, Cell::whole, Cell::text, Cell::whole,
           Cell::text}};
}

Rows rows_of(const Kind& kind) {
  std::string head = "INSERT INTO " + quoted(kind.name) + " (number";
  std::vector<Cell> types = {Cell::whole};
  for (const auto& field : kind.fields) {
    head += ", " + quoted(field.column());
    const bool whole = field.type == Type::flag || field.type == Type::instant || field.type == Type::reference;
    types.push_back(field.type == Type::number ? Cell::number : whole ? Cell::whole : Cell::text);
  }
  return {head + ") VALUES", types};
}

/// One writing: entries are looked up, numbered, put into their tables and sealed.
class Writing {
 public:
  Writing(Store& store, const std::vector<Entry>& entries, std::int64_t now, const Seal* seal = nullptr)
      : store_(store), entries_(entries), now_(now), seal_(seal) {}

  std::vector<Kept> run() {
    auto& connection = store_.connection();
    look_up();
    last_ = store_.count();
    const auto before = last_;
    Sealing sealing(store_.head());
    std::vector<Kept> kept;
    for (std::size_t i = 0; i < entries_.size() && refusals_.size() < told_most; ++i) kept.push_back(take(i, sealing));
    if (!refusals_.empty()) throw Refused{std::move(refusals_)};
    if (last_ == before) return kept;
    ledger_.write(connection);
    for (const auto& kind : store_.kinds().all()) {  // a kind names only kinds before it
      if (const auto rows = tables_.find(kind.name); rows != tables_.end()) rows->second.write(connection);
    }
    const auto seal = connection.whole("SELECT max(number) FROM seal") + 1;
    const auto hash = sealing.hash();
    if (seal_ != nullptr && (seal_->hash != hash || seal_->last_entry != last_)) {
      throw Refused{{{"records.archive.chain_broken",
                      "from",
                      {{"first", std::to_string(before + 1)}, {"last", std::to_string(seal_->last_entry)}}}}};
    }
    connection.run("INSERT INTO seal (number, last_entry, sealed_at, hash) VALUES (:p0, :p1, :p2, :p3)",
                   {seal, last_, now_, hash});
    return kept;
  }

  const Remarks& doubts() const { return doubts_; }

 private:
  void refuse(std::size_t index, std::string code, std::string field, std::map<std::string, Remark::Fact> facts) {
    if (entries_.size() > 1) facts.emplace("row", std::to_string(index + 1));
    refusals_.push_back({std::move(code), std::move(field), std::move(facts)});
  }

  const Kind& kind_of(const Entry& entry) const { return *store_.kinds().find(entry.kind); }

  /// Every id the entries bear or name, asked for many at a time.
  void look_up() {
    std::vector<std::string> ids;
    const auto want = [&](const std::string& id) {
      if (!id.empty() && known_.emplace(id, Known{}).second) ids.push_back(id);
    };
    for (const auto& entry : entries_) {
      want(entry.id);
      want(entry.replaces);
      const Kind& kind = kind_of(entry);
      for (std::size_t i = 0; i < entry.values.size(); ++i) {
        if (kind.fields[i].type == Type::reference && is_given(entry.values[i]))
          want(std::get<std::string>(entry.values[i]));
      }
    }
    for (std::size_t at = 0; at < ids.size();) {
      const std::size_t together = ids.size() - at >= 128 ? 128 : ids.size() - at >= 8 ? 8 : 1;
      std::string query = "SELECT id, number, thing, kind FROM entry WHERE id IN (:p0";
      for (std::size_t i = 1; i < together; ++i) query += fmt::format(", :p{}", i);
      Row parameters(ids.begin() + static_cast<std::ptrdiff_t>(at),
                     ids.begin() + static_cast<std::ptrdiff_t>(at + together));
      for (auto& row :
           store_.connection().rows(query + ")", parameters, {Cell::text, Cell::whole, Cell::whole, Cell::text}))
        known_[std::get<std::string>(row[0])] = {std::get<std::int64_t>(row[1]), std::get<std::int64_t>(row[2]),
                                                 std::get<std::string>(row[3])};
      at += together;
    }
  }

  /// The id of the first entry about a thing: by it a thing is named wherever it is referred to.
  const std::string& first_id(std::int64_t thing) {
    auto& id = first_ids_[thing];
    if (id.empty()) {
      const auto found = store_.connection().rows("SELECT id FROM entry WHERE number = :p0", {thing}, {Cell::text});
      id = std::get<std::string>(found.at(0).at(0));
    }
    return id;
  }

  /// Puts the names of things in their places; the row for the kind's table comes along.
  void resolve(std::size_t index, Entry& entry, Row& row) {
    const Kind& kind = kind_of(entry);
    for (std::size_t i = 0; i < entry.values.size(); ++i) {
      const Field& field = kind.fields[i];
      if (field.type != Type::reference || !is_given(entry.values[i])) {
        row.push_back(entry.values[i]);
        continue;
      }
      auto& id = std::get<std::string>(entry.values[i]);
      const Known& other = known_[id];
      const auto& accepted = field.refers_to;
      if (other.number == 0) {
        refuse(index, "records.entry.names_nothing", field.name, {{"given", id}});
      } else if (std::find(accepted.begin(), accepted.end(), other.kind) == accepted.end()) {
        refuse(index, "records.entry.names_another_kind", field.name,
               {{"given", id}, {"kind", other.kind}, {"allowed", fmt::format("{}", fmt::join(accepted, ", "))}});
      } else {
        id = first_id(other.thing);
        row.push_back(other.thing);
      }
    }
  }

  void resolve_replaced(std::size_t index, Entry& entry) {
    const Known& old = known_[entry.replaces];
    if (old.number == 0) {
      refuse(index, "records.entry.names_nothing", "replaces", {{"given", entry.replaces}});
    } else if (old.kind != entry.kind) {
      refuse(index, "records.entry.names_another_kind", "replaces",
             {{"given", entry.replaces}, {"kind", old.kind}, {"allowed", entry.kind}});
    } else {
      entry.thing_number = old.thing;
      const auto later = store_.connection().rows(
          "SELECT id FROM entry WHERE thing = :p0 AND thing <> number AND number > :p1 ORDER BY number DESC LIMIT 1",
          {old.thing, old.number}, {Cell::text});
      if (!later.empty()) {
        doubts_.push_back({"records.entry.replaced_meanwhile",
                           "replaces",
                           {{"given", entry.replaces}, {"other", std::get<std::string>(later[0][0])}}});
      }
    }
  }

  /// The same entry sent again is the same; anything else under its id is refused.
  Kept again(std::size_t index, const Entry& entry, const Known& there) {
    const Kept kept{entry.id, there.number, true};
    const auto stored = there.number <= last_before_ ? store_.read(there.number, there.number) : std::vector<Entry>{};
    const Entry* old = stored.empty() ? nullptr : &stored.front();
    for (const auto& one : taken_) {
      if (one.id == entry.id) old = &one;
    }
    Entry mine = entry;
    if (old != nullptr) {
      mine.recorded_at = old->recorded_at;
      mine.number = old->number;
      mine.thing_number = old->thing_number;
    }
    if (old == nullptr || mine != *old) {
      refuse(index, "records.entry.id_taken", "id",
             {{"given", line_of(kind_of(entry), mine)},
              {"id", entry.id},
              {"other", old == nullptr ? std::string() : line_of(*store_.kinds().find(old->kind), *old)}});
    }
    return kept;
  }

  Kept take(std::size_t index, Sealing& sealing) {
    Entry entry = entries_[index];
    if (entry.withdraws) entry.values.clear();
    if (index == 0) last_before_ = last_;
    Row row = {std::int64_t{0}};
    resolve(index, entry, row);
    if (!entry.replaces.empty()) resolve_replaced(index, entry);
    Known& mine = known_[entry.id];
    if (mine.number != 0) return again(index, entry, mine);
    entry.number = ++last_;
    if (seal_ == nullptr) entry.recorded_at = now_;  // what is restored keeps the time it was first kept
    if (entry.replaces.empty()) entry.thing_number = entry.number;
    if (!refusals_.empty()) return {entry.id, entry.number, false};
    mine = {entry.number, entry.thing_number, entry.kind};
    if (entry.thing_number == entry.number) first_ids_[entry.number] = entry.id;
    sealing.add(line_of(kind_of(entry), entry));
    put(entry, std::move(row));
    taken_.push_back(std::move(entry));
    return {taken_.back().id, taken_.back().number, false};
  }

  void put(const Entry& entry, Row row) {
    Row ledger = {
        entry.number, entry.id,          entry.kind,       entry.thing_number, {}, std::int64_t{entry.withdraws},
        {},           entry.recorded_at, entry.recorded_by};
    if (!entry.replaces.empty()) ledger[4] = known_[entry.replaces].number;
    if (!entry.reason.empty()) ledger[6] = entry.reason;
    ledger_.add(std::move(ledger));
    if (entry.withdraws) return;
    row[0] = entry.number;
    const Kind& kind = kind_of(entry);
    tables_.try_emplace(kind.name, rows_of(kind)).first->second.add(std::move(row));
  }

  Store& store_;
  const std::vector<Entry>& entries_;
  std::int64_t now_, last_ = 0, last_before_ = 0;
  const Seal* seal_;
  std::unordered_map<std::string, Known> known_;
  std::unordered_map<std::int64_t, std::string> first_ids_;
  std::vector<Entry> taken_;
  Rows ledger_ = ledger_rows();
  std::map<std::string, Rows> tables_;
  Remarks refusals_, doubts_;
};

/// Everything wrong with the entries by themselves.
Remarks faults(const Kinds& kinds, const std::vector<Entry>& entries) {
  Remarks all;
  for (std::size_t i = 0; i < entries.size() && all.size() < told_most; ++i) {
    const Kind* kind = kinds.find(entries[i].kind);
    auto found = kind != nullptr
                     ? faults_of(*kind, entries[i])
                     : Remarks{{"records.entry.unknown_kind", "kind", {{"given", entries[i].kind.substr(0, 60)}}}};
    for (auto& fault : found) {
      if (entries.size() > 1) fault.facts.emplace("row", std::to_string(i + 1));
      all.push_back(std::move(fault));
    }
  }
  return all;
}

bool is_lost(const Failure& failure) {
  return failure.remark.code == "records.world.connection_lost";
}

}  // namespace

Answer<std::vector<Kept>> Store::add_all(const std::vector<Entry>& entries, std::int64_t now) {
  using All = std::vector<Kept>;
  if (auto why = faults(*kinds_, entries); !why.empty()) return Answer<All>::refused(std::move(why));
  return or_refusal<All>([&]() -> Answer<All> {
    for (int tries_left = 1;; --tries_left) {
      Writing writing(*this, entries, now);
      All kept;
      try {
        connection_.write([&] { kept = writing.run(); });
        return Answer<All>(std::move(kept), writing.doubts());
      } catch (Refused& refused) {
        return Answer<All>::refused(std::move(refused.why));
      } catch (const Failure& failure) {
        // Whether it was written before the server went is not known; ids make writing it again harmless.
        if (!is_lost(failure) || tries_left == 0) throw;
        connection_.reconnect();
      }
    }
  });
}

Answer<bool> Store::restore(const std::function<std::optional<Sealed>(Remarks&)>& next) {
  return or_refusal<bool>([&]() -> Answer<bool> {
    Remarks why;
    try {
      connection_.write([&] {
        if (count() != 0)
          throw Refused{{{"records.restore.not_empty", "store", {{"given", connection_.place().shown()}}}}};
        while (const auto sealed = next(why)) {
          if (auto found = faults(*kinds_, sealed->entries); !found.empty()) throw Refused{std::move(found)};
          Writing(*this, sealed->entries, sealed->seal.sealed_at, &sealed->seal).run();
        }
        if (!why.empty()) throw Refused{std::move(why)};
      });
    } catch (Refused& refused) {
      return Answer<bool>::refused(std::move(refused.why));
    }
    return true;
  });
}

Answer<Kept> Store::add(const Entry& entry, std::int64_t now) {
  auto all = add_all({entry}, now);
  if (!all.ok()) return Answer<Kept>::refused(all.refusals());
  return Answer<Kept>(all->front(), all.doubts());
}

}  // namespace barm::records
