// What the operations on the record share: opening it, and reading its fields as people write them.
#pragma once

#include <optional>
#include <string>

#include "operations/operation.h"
#include "records/store.h"

namespace barm::operations {

inline const std::string usual_store = "garden-record.sqlite";

/// Opens the store an input names. `make`: when nothing is there yet.
Answer<records::Store> open_store(const std::string& place, const World& world, bool make = false);

/// The zone of the record's garden when it holds one, else UTC: in which instants are told.
std::string zone_of(records::Store& store);
/// The zone of the garden with this id.
std::string zone_of(records::Store& store, const std::string& garden_id);

/// A field of a kind as an input.
InputField input_of(const records::Kind& kind, const records::Field& field);

/// A value as written, for a field; a reference may be a name. Says what is wrong to the reading.
std::optional<records::Value> read_value(const records::Field& field, const InputField& input, const Json& given,
                                         Reading& reading, records::Store& store, const World& world);

/// What people call an entry: its name, its crop, or its kind.
std::string name_of(const records::Kind& kind, const records::Entry& entry);

/// The input `store`, which every operation on the record has.
template <class In>
void store_input(Inputs<In>& inputs, std::string In::*member) {
  inputs.text("store", at(member), usual_store, Kind::store);
}

/// Keeps findings of the record under the input they belong to.
template <class T>
std::optional<T> take_about(Findings& findings, Answer<T> part, const std::string& field) {
  return findings.take(retarget(std::move(part), {{"id", field}, {"", field}}));
}

/// An id for an entry made here and now.
std::string new_id(const World& world);

}  // namespace barm::operations
