#include "operations/record_store.h"

#include <fmt/format.h>

#include "cards/local_time.h"
#include "records/id.h"
#include "records/image.h"
#include "records/named.h"

namespace barm::operations {

using records::Entry;
using records::Field;
using records::Type;
using records::Value;

Answer<records::Store> open_store(const std::string& place, const World& world, bool make) {
  expects(world.now != nullptr, "a world with a record has a clock");
  return records::Store::open({place}, records::all_kinds(),
                              {.make = make, .now = world.now(), .backup_folder = world.backup_folder});
}

std::string zone_of(records::Store& store) {
  const records::Kind& garden = *store.kinds().find("garden");
  const auto all = store.list(garden, {.most = 2});
  if (!all.ok() || all->size() != 1) return "UTC";
  const auto& zone = std::get<std::string>((*all)[0].values[*garden.position("zone")]);
  return cards::zone_exists(zone) ? zone : "UTC";
}

std::string zone_of(records::Store& store, const std::string& garden_id) {
  const auto zones = records::or_refusal<std::string>([&]() -> Answer<std::string> {
    const auto rows = store.connection().rows(
        "SELECT k.zone FROM entry first JOIN garden k ON k.number = coalesce((SELECT max(v.number) FROM entry v WHERE "
        "v.thing = first.number AND v.thing <> v.number AND v.withdraws = 0), first.number) WHERE first.id = :p0",
        {garden_id}, {records::Cell::text});
    return rows.empty() ? std::string() : std::get<std::string>(rows[0][0]);
  });
  return zones.ok() && cards::zone_exists(*zones) ? *zones : "UTC";
}

namespace {

/// What is referred to may be called by its name where its kind has one.
std::string sample_reference(const Field& field) {
  for (const auto& name : field.refers_to) {
    const records::Kind* kind = records::all_kinds().find(name);
    const Field* called = kind == nullptr ? nullptr : kind->field("name");
    if (called != nullptr) return called->sample;
  }
  return field.sample;
}

}  // namespace

InputField input_of(const records::Kind& kind, const Field& field) {
  InputField input{.name = field.name, .code = kind.meaning(field), .kind = Kind::text, .dimension = field.dimension};
  input.sample = field.sample;
  input.choices = field.choices;
  input.required = field.required;
  input.limits = {field.lowest, field.highest, field.lowest_left_out};
  if (field.type == Type::number) input.kind = field.dimension == Dimension::number ? Kind::number : Kind::quantity;
  if (field.type == Type::choice) input.kind = Kind::choice;
  if (field.type == Type::zone) input.kind = Kind::zone;
  if (field.type == Type::instant) input.kind = Kind::instant;
  if (field.type == Type::flag) input.kind = Kind::flag, input.choices = {"true", "false"};
  if (field.type == Type::reference) input.sample = sample_reference(field);
  return input;
}

namespace {

/// Text that begins as a JSON document does, not as the name of a file; its own checks say how long it may be.
bool is_document(const Json& given) {
  if (!given.is_string()) return false;
  const auto& text = given.get_ref<const std::string&>();
  const auto first = text.find_first_not_of(" \t\r\n");
  return first != std::string::npos && (text[first] == '{' || text[first] == '[');
}

std::optional<Value> read_words(const Field& field, const InputField& input, const Json& given, Reading& reading,
                                records::Store& store, const World& world) {
  // A document may come written out, and longer than a name or a note is.
  if (field.type == Type::json && (given.is_structured() || is_document(given)))
    return Value(given.is_string() ? given.get<std::string>() : given.dump());
  if (field.type == Type::image && given.is_string() && !given.get_ref<const std::string&>().starts_with('@'))
    return Value(given.get<std::string>());
  auto words = reading.text(input, given, input.name);
  if (!words) return std::nullopt;
  if (field.type == Type::json && words->starts_with('@')) {
    auto text = world.read_file(words->substr(1));
    for (const auto& why : text.refusals()) reading.refuse(why.code, input.name, why.facts);
    return text.ok() ? std::optional<Value>(*text) : std::nullopt;
  }
  if (field.type == Type::image && words->starts_with('@')) {
    auto bytes = world.read_file(words->substr(1));
    for (const auto& why : bytes.refusals()) reading.refuse(why.code, input.name, why.facts);
    return bytes.ok() ? std::optional<Value>(records::base64_of(*bytes)) : std::nullopt;
  }
  if (field.type != Type::reference) return Value(std::move(*words));
  const auto id = records::id_named(store, field.refers_to, *words);
  for (const auto& why : id.refusals()) reading.refuse(why.code, input.name, why.facts);
  return id.ok() ? std::optional<Value>(*id) : std::nullopt;
}

template <class T, class As = T>
std::optional<Value> as_value(const std::optional<T>& read) {
  return read ? std::optional<Value>(static_cast<As>(*read)) : std::nullopt;
}

}  // namespace

std::optional<Value> read_value(const Field& field, const InputField& input, const Json& given, Reading& reading,
                                records::Store& store, const World& world) {
  switch (field.type) {
    case Type::number:
      return as_value(reading.quantity(input, given, input.name));
    case Type::choice:
      if (const auto index = reading.choice(input, given, input.name)) return Value(field.choices[*index]);
      return std::nullopt;
    case Type::flag:
      return as_value<bool, std::int64_t>(reading.flag(input, given, input.name));
    case Type::instant:
      return as_value(reading.instant(input, given, input.name));
    case Type::zone:
      return as_value(reading.zone(input, given, input.name));
    default:
      return read_words(field, input, given, reading, store, world);
  }
}

std::string name_of(const records::Kind& kind, const Entry& entry) {
  for (const char* called : {"name", "crop", "verdict", "organism"}) {
    const auto at = kind.position(called);
    if (at && *at < entry.values.size() && records::is_given(entry.values[*at]))
      return std::get<std::string>(entry.values[*at]);
  }
  return {};
}

std::string new_id(const World& world) {
  expects(world.chance != nullptr, "a world with a record has chance");
  return records::make_id(world.now(), world.chance());
}

}  // namespace barm::operations
