// The tables of a store, made from the kinds. Forward only: a step leads from each version to the next.
#pragma once

#include <string>
#include <vector>

#include "records/connection.h"
#include "records/kind.h"

namespace barm::records {

/// The version whose step brought indexes only.
inline constexpr int quickened_version = 2;

/// The version of the tables that a store of these kinds has.
int version_of(const Kinds& kinds);

/// The statements that lead from version - 1 to version: the ledger with the first, then the tables of kinds and the
/// columns of fields that came with it.
std::vector<std::string> step_to(int version, const Kinds& kinds, Engine engine);

/// The kinds as they were at an earlier version.
Kinds kinds_at(int version, const Kinds& kinds);

/// The name of a kind's table, or of a column, as it stands in a statement.
inline std::string quoted(const std::string& name) {
  return '"' + name + '"';
}

}  // namespace barm::records
