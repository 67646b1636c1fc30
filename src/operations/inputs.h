// Describes the inputs of an operation by the members of the struct they go into; from that one description a document
// is read and checked, and help, schema and reference are written.
#pragma once

#include <fmt/format.h>

#include <cmath>
#include <concepts>
#include <functional>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "operations/reading.h"

namespace barm::operations {

/// A member, or a member of a member: at(&Plan::disinfectant, &Disinfectant::free_chlorine_mg_per_l).
template <class... Members>
auto at(Members... members) {
  return [=](auto& in) -> auto& {
    return (in.*....*members);
  };
}

template <class E>
using Choices = std::vector<std::pair<std::string, E>>;

template <class In>
class Inputs {
 public:
  Inputs() = default;
  /// All that describes the struct this one grew from.
  template <class Base>
  requires(std::derived_from<In, Base> && !std::same_as<In, Base>) explicit Inputs(const Inputs<Base>& base)
      : fields_(base.fields_),
        readers_(base.readers_.begin(), base.readers_.end()),
        alternatives_(base.alternatives_),
        customs_(base.customs_) {
    for (const auto& marks : base.marks_) marks_.emplace_back(marks.begin(), marks.end());
  }

  /// A field just described, to say more about it.
  class Said {
   public:
    Said(InputField& field, std::vector<std::function<void(In&)>>& marks) : field_(&field), marks_(&marks) {}
    Said& required() { return field_->required = true, *this; }
    Said& positional() { return field_->positional = true, *this; }
    /// Of a choice: the code that refuses what is none of them, in words of its own.
    Said& refused_as(std::string code) { return field_->refusal = std::move(code), *this; }
    Said& early() { return field_->early = true, *this; }
    Said& least(double value) { return field_->limits.least = value, *this; }
    Said& most(double value) { return field_->limits.most = value, *this; }
    Said& above(double value) { return field_->limits.least = value, field_->limits.above = true, *this; }
    /// A plain number is read in this unit, and the meaning says so.
    Said& bare(std::string unit) { return field_->bare_unit = std::move(unit), *this; }
    /// What its being given tells about the rest.
    Said& marks(std::function<void(In&)> mark) { return marks_->push_back(std::move(mark)), *this; }

   private:
    InputField* field_;
    std::vector<std::function<void(In&)>>* marks_;
  };

  template <class Get>
  Said quantity(std::string name, Get get, Dimension dimension, std::string sample) {
    InputField field{
        .name = std::move(name), .kind = Kind::quantity, .dimension = dimension, .sample = std::move(sample)};
    if (dimension == Dimension::number) field.kind = Kind::number;
    In usual{};
    if (const double value = get(usual); std::isfinite(value)) field.otherwise = write({value, dimension});
    return add(std::move(field), get, &Reading::quantity);
  }
  template <class Get>
  Said amount(std::string name, Get get, std::string sample) {
    return add({.name = std::move(name), .kind = Kind::amount, .sample = std::move(sample)}, get, &Reading::amount);
  }
  template <class Get>
  Said whole(std::string name, Get get, std::string sample) {
    InputField field{.name = std::move(name), .kind = Kind::whole, .sample = std::move(sample)};
    In usual{};
    field.otherwise = fmt::format("{}", get(usual));
    return add(std::move(field), get, &Reading::whole);
  }
  template <class Get>
  Said text(std::string name, Get get, std::string sample, Kind kind = Kind::text) {
    InputField field{.name = std::move(name), .kind = kind, .sample = std::move(sample)};
    In usual{};
    field.otherwise = get(usual);
    return add(std::move(field), get, &Reading::text);
  }
  template <class Get>
  Said flag(std::string name, Get get) {
    return add({.name = std::move(name), .kind = Kind::flag, .sample = "true", .choices = {"true", "false"}}, get,
               &Reading::flag);
  }
  template <class Get>
  Said instant(std::string name, Get get, std::string sample) {
    return add({.name = std::move(name), .kind = Kind::instant, .sample = std::move(sample)}, get, &Reading::instant);
  }
  template <class Get>
  Said zone(std::string name, Get get, std::string sample) {
    return add({.name = std::move(name), .kind = Kind::zone, .sample = std::move(sample)}, get, &Reading::zone);
  }
  template <class Get, class E>
  Said choice(std::string name, Get get, const Choices<E>& choices) {
    InputField field{.name = std::move(name), .kind = Kind::choice, .sample = choices.front().first};
    In usual{};
    std::vector<E> values;
    for (const auto& [word, value] : choices) {
      field.choices.push_back(word);
      values.push_back(value);
      if (get(usual) == value) field.otherwise = word;
    }
    return add(std::move(field), get,
               [values](Reading& reading, const InputField& self, const Json& given, const std::string& path) {
                 const auto index = reading.choice(self, given, path);
                 return index ? std::optional<E>(values[*index]) : std::nullopt;
               });
  }
  /// Several of the same table: [[food]] in a plan file.
  template <class Get, class Row>
  Said rows(std::string name, Get get, Inputs<Row> columns) {
    InputField field{.name = std::move(name), .kind = Kind::rows, .columns = columns.fields()};
    field.sample = "[[" + field.name + "]]";
    return add(
        std::move(field), get,
        [columns](Reading& reading, const InputField& self, const Json& given, const std::string& path) {
          std::optional<std::vector<Row>> all;
          if (!given.is_array()) {
            reading.refuse("operations.input.not_rows", path, {{"given", as_given(given)}, {"sample", self.sample}});
            return all;
          }
          all.emplace();
          std::size_t number = 0;
          for (const auto& row : given)
            all->push_back(columns.read(row, reading, path + "[" + std::to_string(++number) + "]"));
          return all;
        });
  }
  /// Several numbers or quantities of one dimension: "0.1,0.01,0.001" or an array. Limits hold for each.
  template <class Get>
  Said list(std::string name, Get get, Dimension dimension, std::string sample) {
    InputField field{.name = std::move(name),
                     .kind = Kind::list,
                     .item = dimension == Dimension::number ? Kind::number : Kind::quantity,
                     .dimension = dimension,
                     .sample = std::move(sample)};
    return add(std::move(field), get,
               [](Reading& reading, const InputField& self, const Json& given, const std::string& path) {
                 return reading.list(self, given, path, &Reading::quantity);
               });
  }
  /// Several whole numbers.
  template <class Get>
  Said wholes(std::string name, Get get, std::string sample) {
    InputField field{.name = std::move(name), .kind = Kind::list, .item = Kind::whole, .sample = std::move(sample)};
    return add(std::move(field), get,
               [](Reading& reading, const InputField& self, const Json& given, const std::string& path) {
                 return reading.list(self, given, path, &Reading::whole);
               });
  }
  void alternatives(std::vector<std::string> names) { alternatives_.push_back({std::move(names)}); }
  /// Where the customs of the garden stand, when the document itself tells them.
  template <class Get>
  void customs(Get get) {
    customs_ = [get](In& in) -> Customs& { return get(in); };
  }

  const std::vector<InputField>& fields() const { return fields_; }
  const std::vector<Alternatives>& alternatives() const { return alternatives_; }

  /// The struct, its defaults where nothing is given; what is wrong goes to the reading's findings, all of it.
  In read(const Json& tree, Reading& reading, const std::string& path = {}) const {
    In in{};
    if (customs_) customs_(in) = reading.customs();
    if (!tree.is_object()) {
      reading.refuse("operations.input.not_a_table", path, {{"given", as_given(tree)}});
      return in;
    }
    const auto read_those = [&](bool early) {
      for (std::size_t i = 0; i < fields_.size(); ++i) {
        if (fields_[i].early == early) read_one(i, tree, reading, path, in);
      }
    };
    read_those(true);
    if (customs_) reading.set_customs(customs_(in));
    read_those(false);
    for (const auto& names : alternatives_) reading.refuse_alternatives(names, tree);
    unknown(tree, reading, path);
    return in;
  }

 private:
  template <class>
  friend class Inputs;
  using Put = std::function<void(Reading&, const InputField&, const Json&, const std::string&, In&)>;

  template <class Get, class Read>
  Said add(InputField field, Get get, Read reader) {
    readers_.push_back(
        [get, reader](Reading& reading, const InputField& self, const Json& given, const std::string& path, In& in) {
          if (auto value = std::invoke(reader, reading, self, given, path)) {
            using Member = std::remove_reference_t<decltype(get(in))>;
            if constexpr (std::is_arithmetic_v<Member>) {
              get(in) = static_cast<Member>(*value);
            } else {
              get(in) = std::move(*value);
            }
          }
        });
    marks_.emplace_back();
    fields_.push_back(std::move(field));
    return Said(fields_.back(), marks_.back());
  }

  void read_one(std::size_t index, const Json& tree, Reading& reading, const std::string& path, In& in) const {
    const InputField& field = fields_[index];
    const std::string full = path.empty() ? field.name : path + "." + field.name;
    const Json* given = find(tree, field.name);
    if (given == nullptr) {
      if (field.required) reading.refuse_missing(field, full);
      return;
    }
    readers_[index](reading, field, *given, full, in);
    for (const auto& mark : marks_[index]) mark(in);
  }

  void unknown(const Json& tree, Reading& reading, const std::string& path) const {
    if (path.empty()) return reading.refuse_unknown(tree, fields_, path);
    auto named = fields_;  // a row's fields, by their whole path
    for (auto& field : named) field.name = path + "." + field.name;
    reading.refuse_unknown(tree, named, path);
  }

  std::vector<InputField> fields_;
  std::vector<Put> readers_;
  std::vector<std::vector<std::function<void(In&)>>> marks_;
  std::vector<Alternatives> alternatives_;
  std::function<Customs&(In&)> customs_;
};

}  // namespace barm::operations
