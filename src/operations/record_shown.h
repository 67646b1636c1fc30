// Entries as screens and lists show them: each value in words, with the name beside the id.
#pragma once

#include <map>
#include <memory>
#include <string>
#include <vector>

#include "operations/operation.h"
#include "records/store.h"

namespace barm::operations {

using Names = std::map<std::string, std::string>;  // of things, by their ids

struct Shown {
  records::Entry entry{};
  std::string thing_id{}, zone{};
  std::shared_ptr<const Names> names{};
};

/// Entries with what they name looked up.
Answer<std::vector<Shown>> shown(records::Store& store, std::vector<records::Entry> entries, const std::string& zone);

/// The values in one line, documents left out: "name: North bed; area: 30 m²".
std::string in_words(const Shown& one, const Voice& voice);
/// What a reference names, by its name when it has one.
std::string called(const Shown& one, const std::string& id);
/// The text of a field, or the id it names; empty when it was not given.
std::string text_of(const Shown& one, const std::string& field);
/// A number or an instant of an entry; NaN and nothing when it was not given.
double number_of(const Shown& one, const std::string& field);
std::optional<Moment> moment_of(const Shown& one, const std::string& field);

/// How an entry is told: its ids, who kept it and when, its values.
Outputs<Shown> shown_outputs();
/// The fields of `shown_outputs` mean the same wherever they stand: gives each list of entries the codes of that one
/// description.
void share_shown_codes(Operation& operation);

}  // namespace barm::operations
