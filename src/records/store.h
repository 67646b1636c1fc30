// The record itself: entries are added, and read as they stand or stood. Form of the file: docs/records/record.md
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "quantity/answer.h"
#include "records/connection.h"
#include "records/entry.h"

namespace barm::records {

struct Opening {
  bool make = false;            // when nothing is there yet
  std::int64_t now = 0;         // ms UTC, for what opening itself writes
  std::string backup_folder{};  // where a copy goes before the tables change; of a file: beside it when empty
};

/// What became of an entry that was handed in.
struct Kept {
  std::string id{};
  std::int64_t number = 0;
  bool was_there = false;  // the same entry had been kept before
};

/// Until when the record is known: everything written up to then counts, nothing later does.
inline constexpr std::int64_t known_now = std::int64_t{1} << 60;

struct Filter {
  std::string field{}, names{};              // only entries whose reference `field` names the thing with this id
  std::optional<std::int64_t> from{}, to{};  // by the kind's `at`, from including, to not; ms UTC
  std::int64_t known_at = known_now;         // ms UTC
  bool history = false;                      // earlier versions and withdrawals as well
  std::int64_t after = 0;                    // only entries with a higher number
  std::int64_t most = 1000;                  // entries given
};

/// A seal of the chain: all entries up to a number, and what they and all before come to.
struct Seal {
  std::int64_t last_entry = 0, sealed_at = 0;
  std::string hash{};
  bool operator==(const Seal&) const = default;
};
struct Sealed {
  std::vector<Entry> entries{};
  Seal seal{};
};

/// An open record. One thread at a time; a thread that wants its own opens its own. Every function refuses with a code
/// under "records.world." when the file, the device or the server fails; nothing is half written then.
class Store {
 public:
  /// Opens a record, bringing its tables up to the kinds given after a copy was made. Refuses what is no record and
  /// what a newer program has written.
  static Answer<Store> open(const Place& place, const Kinds& kinds, const Opening& how);
  Store(Store&&) noexcept = default;

  /// Keeps an entry; acknowledged only when it lasts. Refuses everything wrong with it, a reference to nothing or to
  /// another kind, and an id that was given to another entry, naming both. Doubts a correction of what was corrected
  /// meanwhile.
  Answer<Kept> add(const Entry& entry, std::int64_t now);
  /// Keeps several, all or none. An entry may name earlier ones of the same list.
  Answer<std::vector<Kept>> add_all(const std::vector<Entry>& entries, std::int64_t now);

  /// Fills an empty store with what another held: `next` gives one sealed part after another, then nothing, or nothing
  /// and the reasons. Times, numbers and seals stay what they were; a part whose hash is not that of its seal ends it.
  /// All or nothing.
  Answer<bool> restore(const std::function<std::optional<Sealed>(Remarks& why)>& next);

  /// The entry with this id, as it was written.
  Answer<Entry> find(const std::string& id);
  /// Entries of a kind in the order they were kept: the newest version of each, without what is withdrawn.
  Answer<std::vector<Entry>> list(const Kind& kind, const Filter& filter = {});
  /// Entries with the numbers from `first` to `last`, of all kinds, in order.
  std::vector<Entry> read(std::int64_t first, std::int64_t last);
  /// Entries with these numbers, of all kinds, in order.
  std::vector<Entry> read_each(std::vector<std::int64_t> numbers);
  std::vector<Seal> seals(std::int64_t first, std::int64_t last);

  const Kinds& kinds() const { return *kinds_; }
  Connection& connection() { return connection_; }
  /// Entries kept so far, and the hash the chain has come to.
  std::int64_t count();
  std::string head();

 private:
  Store(Connection connection, const Kinds& kinds) : connection_(std::move(connection)), kinds_(&kinds) {}
  void bring_up_to_date(const Opening& how);
  /// Entries whose number meets a condition, such as "BETWEEN :p0 AND :p1".
  std::vector<Entry> read_where(const std::string& condition, const Row& parameters);

  Connection connection_;
  const Kinds* kinds_;
};

/// Turns what a failing device or server throws into a refusal.
template <class T, class Work>
Answer<T> or_refusal(Work work) {
  try {
    return work();
  } catch (const Failure& failure) {
    return Answer<T>::refused({failure.remark});
  }
}

}  // namespace barm::records
