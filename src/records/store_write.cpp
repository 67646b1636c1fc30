// How entries come into a store.
#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <optional>
#include <string_view>
#include <unordered_map>
#include <unordered_set>

#include "records/chain.h"
#include "records/check.h"
#include "records/line.h"
#include "records/moment.h"
#include "records/reading_rows.h"
#include "records/schema.h"
#include "records/store.h"

namespace barm::records {
namespace {

constexpr std::size_t told_most = 20;  // refusals; after that the list is another kind of list

struct Known {  // what is known of an id
  std::int64_t number = 0, thing = 0;
  const Kind* kind = nullptr;
  const Entry* entry = nullptr;  // when it is one of those being written
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

  /// Every id the entries bear or name, asked for many at a time. One above all that are there is new: ids begin with
  /// the time they were made at.
  void look_up() {
    std::vector<std::string_view> ids;
    const auto highest = store_.connection().rows("SELECT max(id) FROM entry", {}, {Cell::text});
    const auto above = is_given(highest.at(0)[0]) ? std::get<std::string>(highest[0][0]) : std::string();
    known_.reserve(2 * entries_.size());
    const auto want = [&](const std::string& id) {
      if (!id.empty() && known_.try_emplace(id).second && id <= above) ids.push_back(id);
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
    for (std::size_t at = 0; at < ids.size(); at += list_most) {
      const auto end = std::min(at + list_most, ids.size());
      Row some;
      for (std::size_t i = at; i < end; ++i) some.emplace_back(std::string(ids[i]));
      const auto [condition, parameters] = one_of(std::move(some));
      for (auto& row : store_.connection().rows("SELECT id, number, thing, kind FROM entry WHERE id " + condition,
                                                parameters, {Cell::text, Cell::whole, Cell::whole, Cell::text})) {
        Known& known = known_.find(std::get<std::string>(row[0]))->second;
        known = {std::get<std::int64_t>(row[1]), std::get<std::int64_t>(row[2]),
                 store_.kinds().find(std::get<std::string>(row[3])), nullptr};
        if (known.kind == nullptr)
          throw Failure{{"records.world.damaged",
                         "store",
                         {{"given", store_.connection().place().shown()}, {"reason", std::get<std::string>(row[3])}}}};
      }
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

  /// The row for the kind's table, with what the entry names looked up. A thing that is named by a later entry about it
  /// is named by its first: only then `own` becomes a copy of the entry.
  Row resolve(std::size_t index, const Entry& entry, std::optional<Entry>& own) {
    const Kind& kind = kind_of(entry);
    Row row;
    row.reserve(entry.values.size() + 1);
    row.emplace_back(std::int64_t{0});
    for (std::size_t i = 0; i < entry.values.size(); ++i) {
      const Field& field = kind.fields[i];
      if (field.type != Type::reference || !is_given(entry.values[i])) {
        row.push_back(entry.values[i]);
        continue;
      }
      const auto& id = std::get<std::string>(entry.values[i]);
      const Known& other = known_.find(id)->second;
      const auto& accepted = field.refers_to;
      if (other.number == 0) {
        refuse(index, "records.entry.names_nothing", field.name, {{"given", id}});
      } else if (std::find(accepted.begin(), accepted.end(), other.kind->name) == accepted.end()) {
        refuse(index, "records.entry.names_another_kind", field.name,
               {{"given", id}, {"kind", other.kind->name}, {"allowed", fmt::format("{}", fmt::join(accepted, ", "))}});
      } else {
        row.emplace_back(other.thing);
        if (other.thing == other.number) continue;
        if (!own) own = entry;
        own->values[i] = first_id(other.thing);
      }
    }
    return row;
  }

  /// Number of the thing that the entry replaced is about.
  std::int64_t thing_replaced(std::size_t index, const Entry& entry) {
    const Known& old = known_.find(entry.replaces)->second;
    if (old.number == 0) {
      refuse(index, "records.entry.names_nothing", "replaces", {{"given", entry.replaces}});
    } else if (old.kind->name != entry.kind) {
      refuse(index, "records.entry.names_another_kind", "replaces",
             {{"given", entry.replaces}, {"kind", old.kind->name}, {"allowed", entry.kind}});
    } else {
      const auto later = store_.connection().rows(
          "SELECT id FROM entry WHERE thing = :p0 AND thing <> number AND number > :p1 ORDER BY number DESC LIMIT 1",
          {old.thing, old.number}, {Cell::text});
      if (!later.empty()) {
        doubts_.push_back({"records.entry.replaced_meanwhile",
                           "replaces",
                           {{"given", entry.replaces}, {"other", std::get<std::string>(later[0][0])}}});
      }
    }
    return old.thing;
  }

  /// The same entry sent again is the same; anything else under its id is refused.
  Kept again(std::size_t index, const Entry& entry, const Known& there) {
    std::optional<Entry> old;
    if (there.entry != nullptr) {
      old = *there.entry;
      if (old->withdraws) old->values.clear();
      resolve(index, Entry(*old), old);
    } else if (auto stored = store_.read(there.number, there.number); !stored.empty()) {
      old = std::move(stored.front());
    }
    Entry mine = entry;
    if (mine.withdraws) mine.values.clear();
    if (old) {
      mine.recorded_at = old->recorded_at;
      mine.number = old->number;
      mine.thing_number = old->thing_number;
    }
    if (!old || mine != *old) {
      refuse(index, "records.entry.id_taken", "id",
             {{"given", line_of(kind_of(entry), mine)},
              {"id", entry.id},
              {"other", old ? line_of(*store_.kinds().find(old->kind), *old) : std::string()}});
    }
    return {entry.id, there.number, true};
  }

  Kept take(std::size_t index, Sealing& sealing) {
    const Entry& given = entries_[index];
    std::optional<Entry> own;
    if (given.withdraws && !given.values.empty()) own = given, own->values.clear();
    Row row = resolve(index, own ? Entry(*own) : given, own);
    const Entry& entry = own ? *own : given;
    const auto replaced = given.replaces.empty() ? 0 : thing_replaced(index, given);
    Known& mine = known_.find(given.id)->second;
    if (mine.number != 0) return again(index, entry, mine);
    const auto number = ++last_;
    if (!refusals_.empty()) return {given.id, number, false};
    mine = {number, given.replaces.empty() ? number : replaced, &kind_of(given), &given};
    if (mine.thing == number) first_ids_[number] = given.id;
    // What is restored keeps the time it was first kept.
    const auto recorded_at = seal_ == nullptr ? now_ : given.recorded_at;
    sealing.add(writer_of(*mine.kind).line(entry, recorded_at));
    if (seal_ == nullptr) doubt(entry, row);
    put(entry, mine, recorded_at, std::move(row));
    return {given.id, number, false};
  }

  /// What is hardly so of an entry, by itself and beside what it names; of each thing it is said once.
  void doubt(const Entry& entry, const Row& row) {
    const Kind& kind = kind_of(entry);
    for (auto& remark : doubts_of(kind, entry)) doubts_.push_back(std::move(remark));
    const auto at = kind.position("at");
    if (entry.withdraws || !at || !is_given(entry.values[*at])) return;
    const auto day = [](std::int64_t at_ms) { return instant_text(at_ms).substr(0, 10); };
    constexpr std::int64_t leeway = 86'400'000;  // judged [ms]: what was measured while it was made ready
    for (std::size_t i = 0; i < kind.fields.size(); ++i) {
      if (kind.fields[i].from.empty() || !is_given(entry.values[i])) continue;
      const auto thing = std::get<std::int64_t>(row[i + 1]);
      const auto begun = begun_at(thing, kind.fields[i]);
      if (!begun || std::get<std::int64_t>(entry.values[*at]) > *begun - leeway || !doubted_.insert(thing).second)
        continue;
      doubts_.push_back({"records.doubt.before_it_began",
                         "at",
                         {{"given", day(std::get<std::int64_t>(entry.values[*at]))}, {"other", day(*begun)}}});
    }
  }

  /// When the thing that a field names began, as the record stands; nothing for one that is being written now.
  std::optional<std::int64_t> begun_at(std::int64_t thing, const Field& field) {
    const auto [at, is_new] = begun_.try_emplace(thing);
    if (!is_new) return at->second;
    const auto found = store_.connection().rows(
        fmt::format(
            "SELECT \"{}\" FROM {} WHERE number = COALESCE((SELECT max(number) FROM entry WHERE thing = :p0 AND "
            "thing <> number AND withdraws = 0), :p0)",
            field.from, quoted(field.refers_to.front())),
        {thing}, {Cell::whole});
    if (!found.empty() && is_given(found[0][0])) at->second = std::get<std::int64_t>(found[0][0]);
    return at->second;
  }

  LineWriter& writer_of(const Kind& kind) { return writers_.try_emplace(&kind, kind).first->second; }

  void put(const Entry& entry, const Known& mine, std::int64_t recorded_at, Row row) {
    Row ledger = {mine.number, entry.id,    entry.kind,       mine.thing, {}, std::int64_t{entry.withdraws},
                  {},          recorded_at, entry.recorded_by};
    if (!entry.replaces.empty()) ledger[4] = known_.find(entry.replaces)->second.number;
    if (!entry.reason.empty()) ledger[6] = entry.reason;
    ledger_.add(std::move(ledger));
    if (entry.withdraws) return;
    row[0] = mine.number;
    auto table = tables_.find(mine.kind->name);
    if (table == tables_.end()) table = tables_.emplace(mine.kind->name, rows_of(*mine.kind)).first;
    table->second.add(std::move(row));
  }

  Store& store_;
  const std::vector<Entry>& entries_;
  std::int64_t now_, last_ = 0;
  const Seal* seal_;
  std::unordered_map<std::string_view, Known> known_;  // keys live in the entries
  std::unordered_map<std::int64_t, std::string> first_ids_;
  std::unordered_map<std::int64_t, std::optional<std::int64_t>> begun_;
  std::unordered_set<std::int64_t> doubted_;
  std::unordered_map<const Kind*, LineWriter> writers_;
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
