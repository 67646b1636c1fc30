// How entries are asked for: the statement that reads a kind with its ledger, and the way from a row to an entry.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "records/connection.h"
#include "records/entry.h"

namespace barm::records {

/// SELECT ... FROM of a kind: the kind's table is `k`, its ledger `e`. The caller adds WHERE and the rest.
std::string select_of(const Kind& kind);
std::vector<Cell> columns_of(const Kind& kind);
Entry entry_of(const Kind& kind, Row row);

/// Condition that the ledger row named is the version that counts at the instant of a parameter (":p2"), and not
/// withdrawn. Only corrections are looked through: an index holds nothing else.
std::string counts_at(const std::string& ledger, const std::string& parameter);

/// Number of the newest version of a thing at the instant of a parameter.
std::string newest_of(const std::string& thing, const std::string& parameter);

/// Condition that a column holds one of some values (at most `list_most`, and at least one), with its parameters from
/// `first` on. Lists are filled up to a few lengths with their last value, so that few statements are kept prepared.
inline constexpr std::size_t list_most = 128;
std::pair<std::string, Row> one_of(Row values, std::size_t first = 0);

}  // namespace barm::records
