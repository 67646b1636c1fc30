// One document being read: customs, and everything found wrong so far. Knows values, not the structs they go into.
#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "operations/document.h"
#include "operations/field.h"
#include "operations/instant.h"
#include "quantity/text.h"

namespace barm::operations {

/// Whether some commas of a list part its values and others may be decimal commas: "0,1, 0,01".
bool commas_are_unclear(std::string_view text);

class Reading {
 public:
  Reading(Customs customs, Findings& findings) : customs_(customs), findings_(&findings) {}

  const Customs& customs() const { return customs_; }
  void set_customs(const Customs& customs) { customs_ = customs; }

  // Each gives the value, or nothing after saying what is wrong with what stands at `path`.
  std::optional<double> quantity(const InputField& field, const Json& given, const std::string& path);
  std::optional<Amount> amount(const InputField& field, const Json& given, const std::string& path);
  std::optional<std::int64_t> whole(const InputField& field, const Json& given, const std::string& path);
  std::optional<std::string> text(const InputField& field, const Json& given, const std::string& path);
  std::optional<std::size_t> choice(const InputField& field, const Json& given, const std::string& path);
  std::optional<bool> flag(const InputField& field, const Json& given, const std::string& path);
  std::optional<std::int64_t> instant(const InputField& field, const Json& given, const std::string& path);
  std::optional<std::string> zone(const InputField& field, const Json& given, const std::string& path);

  /// Doubts instants written by another clock than that of the zone given beside them.
  void compare_clocks();
  /// Each value of a list by `read`, which is told its place ("tubes[2]"); nothing when any of them is wrong, after
  /// saying what is wrong with every one.
  template <class T>
  std::optional<std::vector<T>> list(const InputField& field, const Json& given, const std::string& path,
                                     std::optional<T> (Reading::*read)(const InputField&, const Json&,
                                                                       const std::string&)) {
    const auto parts = list_parts(field, given, path);
    if (!parts) return std::nullopt;
    std::vector<T> all;
    for (std::size_t i = 0; i < parts->size(); ++i) {
      if (auto value = (this->*read)(field, (*parts)[i], path + "[" + std::to_string(i + 1) + "]"))
        all.push_back(std::move(*value));
    }
    if (all.size() != parts->size()) return std::nullopt;
    return all;
  }

  /// Refuses every key of the tree that no field has, offering the likely one.
  void refuse_unknown(const Json& tree, const std::vector<InputField>& fields, const std::string& path);
  /// Refuses a required field that was not given, and alternatives of which more than one was.
  void refuse_missing(const InputField& field, const std::string& path);
  void refuse_alternatives(const Alternatives& alternatives, const Json& tree);

  void refuse(std::string code, std::string path, std::map<std::string, Remark::Fact> facts = {});
  bool refused() const { return findings_->refused(); }

 private:
  /// The values of a list as given: of an array, or of a text parted by commas (by semicolons where it has any, so that
  /// a comma can be a decimal mark). Refuses an empty list, an empty value and more than a thousand values.
  std::optional<std::vector<Json>> list_parts(const InputField& field, const Json& given, const std::string& path);
  void refuse_kind(const InputField& field, const Json& given, const std::string& path);
  bool within(const InputField& field, Quantity value, const std::string& given, const std::string& path);
  /// What was written, a bare number with the unit the field gives it; nothing after refusing it.
  std::optional<std::string> with_unit(const InputField& field, const Json& given, const std::string& path);
  /// Keeps what a lower room found, as findings about this path.
  template <class T>
  std::optional<T> keep(Answer<T> part, const std::string& path, const std::string& given);

  struct Written {
    Instant instant;
    std::string path, text;
  };

  Customs customs_;
  Findings* findings_;
  std::vector<Written> instants_;
  std::string zone_;  // of the garden, once read
};

/// A value as the person would recognise it: text bare, anything else as JSON writes it, cut when long.
std::string as_given(const Json& given);

/// Whether the text is a number and nothing else ("19", "-3.5", "1e3").
bool is_plain_number(std::string_view text);

/// The known word most like a misspelt one; empty when none is near.
std::string likely(std::string_view given, const std::vector<std::string>& known);

}  // namespace barm::operations
