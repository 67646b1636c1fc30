#include "operations/reading.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>

#include "cards/local_time.h"
#include "operations/instant.h"
#include "quantity/fold.h"
#include "quantity/suggest.h"

namespace barm::operations {
namespace {

std::string joined(const std::vector<std::string>& words) {
  return fmt::format("{}", fmt::join(words, ", "));
}

bool is_zero(std::string_view plain_number) {
  return plain_number.find_first_of("123456789") == std::string_view::npos;
}

}  // namespace

std::string as_given(const Json& given) {
  constexpr std::size_t longest = 60;
  std::string text =
      given.is_string() ? given.get<std::string>() : given.dump(-1, ' ', false, Json::error_handler_t::replace);
  if (text.size() > longest) {
    text.resize(longest);
    while (!text.empty() && (static_cast<unsigned char>(text.back()) & 0xC0) == 0x80) text.pop_back();
    if (!text.empty() && static_cast<unsigned char>(text.back()) >= 0xC0) text.pop_back();
    text += "…";
  }
  return text;
}

bool is_plain_number(std::string_view text) {
  while (text.starts_with(' ')) text.remove_prefix(1);
  while (text.ends_with(' ')) text.remove_suffix(1);
  if (text.starts_with('+')) text.remove_prefix(1);
  double value = 0.0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  return !text.empty() && error != std::errc::invalid_argument && end == text.data() + text.size();
}

bool commas_are_unclear(std::string_view text) {
  if (text.find(';') != std::string_view::npos || text.find(", ") == std::string_view::npos) return false;
  const auto is_digit = [&](std::size_t i) { return i < text.size() && text[i] >= '0' && text[i] <= '9'; };
  for (std::size_t i = 1; i < text.size(); ++i)
    if (text[i] == ',' && is_digit(i - 1) && is_digit(i + 1)) return true;
  return false;
}

std::string likely(std::string_view given, const std::vector<std::string>& known) {
  return likely_spelling(given, known);
}

void Reading::refuse(std::string code, std::string path, std::map<std::string, Remark::Fact> facts) {
  findings_->refuse({std::move(code), std::move(path), std::move(facts)});
}

template <class T>
std::optional<T> Reading::keep(Answer<T> part, const std::string& path, const std::string& given) {
  const auto about = [&](Remark remark) {
    remark.field = path;
    remark.facts.emplace("given", given);
    return remark;
  };
  for (const auto& why : part.refusals()) findings_->refuse(about(why));
  for (const auto& what : part.doubts()) findings_->doubt(about(what));
  if (!part.ok()) return std::nullopt;
  return std::move(part.value());
}

void Reading::refuse_kind(const InputField& field, const Json& given, const std::string& path) {
  refuse("operations.input.wrong_kind", path, {{"given", as_given(given)}, {"sample", field.sample}});
}

bool Reading::within(const InputField& field, Quantity value, const std::string& given, const std::string& path) {
  if (field.limits.holds(value.value)) return true;
  std::map<std::string, Remark::Fact> facts{{"given", given}};
  if (field.limits.least) facts.emplace("least", Quantity{*field.limits.least, value.dimension});
  if (field.limits.most) facts.emplace("most", Quantity{*field.limits.most, value.dimension});
  if (value.dimension == Dimension::share && is_plain_number(given) && field.limits.holds(value.value / 100.0))
    facts.emplace("suggestion", given + " %");
  const bool low = field.limits.least && !(value.value > *field.limits.least);
  if (low && field.limits.above) {
    refuse("operations.input.not_above", path, std::move(facts));
  } else {
    const char* code = field.limits.least && field.limits.most ? "operations.input.outside"
                       : field.limits.least                    ? "operations.input.below"
                                                               : "operations.input.above";
    refuse(code, path, std::move(facts));
  }
  return false;
}

std::optional<std::string> Reading::with_unit(const InputField& field, const Json& given, const std::string& path) {
  const bool has_dimension = field.kind == Kind::amount || !unit_inside(field.dimension).empty();
  if (given.is_number()) {
    const double number = given.get<double>();
    if (!std::isfinite(number)) {
      refuse("operations.input.not_finite", path, {{"given", as_given(given)}});
      return std::nullopt;
    }
  }
  if (!given.is_string() && !given.is_number()) {
    refuse_kind(field, given, path);
    return std::nullopt;
  }
  std::string text = given.is_string() ? given.get<std::string>() : fmt::format("{}", given.get<double>());
  if (!has_dimension || !is_plain_number(text)) return text;
  if (!field.bare_unit.empty()) return text + " " + field.bare_unit;
  if (field.dimension == Dimension::share) return text;  // 0 to 1 needs no unit
  if (field.kind != Kind::amount && field.dimension != Dimension::temperature && is_zero(text))
    return text + " " + std::string(unit_inside(field.dimension));  // nothing is nothing in any unit
  refuse("operations.input.unit_missing", path, {{"given", text}, {"sample", field.sample}});
  return std::nullopt;
}

std::optional<double> Reading::quantity(const InputField& field, const Json& given, const std::string& path) {
  const auto text = with_unit(field, given, path);
  if (!text) return std::nullopt;
  const auto value = keep(read_quantity(*text, field.dimension, customs_), path, as_given(given));
  if (!value || !within(field, {*value, field.dimension}, as_given(given), path)) return std::nullopt;
  return value;
}

std::optional<Amount> Reading::amount(const InputField& field, const Json& given, const std::string& path) {
  const auto text = with_unit(field, given, path);
  if (!text) return std::nullopt;
  const auto value = keep(read_amount(*text, customs_), path, as_given(given));
  if (!value || !within(field, value->measured, as_given(given), path)) return std::nullopt;
  return value;
}

std::optional<std::vector<Json>> Reading::list_parts(const InputField& field, const Json& given,
                                                     const std::string& path) {
  constexpr std::size_t most = 1000;  // judged: a season of samples, or every field of a long day at the microscope
  std::vector<Json> parts;
  if (given.is_array()) {
    parts.assign(given.begin(), given.end());
  } else if (given.is_string()) {
    const auto text = given.get<std::string>();
    if (commas_are_unclear(text)) {
      refuse("operations.list.commas_unclear", path, {{"given", as_given(given)}});
      return std::nullopt;
    }
    const char mark = text.find(';') == std::string::npos ? ',' : ';';
    for (std::size_t begin = 0; begin <= text.size() && parts.size() <= most;) {
      const auto end = std::min(text.find(mark, begin), text.size());
      parts.emplace_back(std::string(trimmed(std::string_view(text).substr(begin, end - begin))));
      begin = end + 1;
    }
    if (parts.size() == 1 && parts.front() == "") parts.clear();
  } else if (given.is_number()) {
    parts.push_back(given);
  } else {
    refuse_kind(field, given, path);
    return std::nullopt;
  }
  if (parts.empty()) {
    refuse("operations.input.empty", path, {{"sample", field.sample}});
    return std::nullopt;
  }
  if (parts.size() > most) {
    refuse("operations.list.too_long", path, {{"most", std::to_string(most)}});
    return std::nullopt;
  }
  bool whole = true;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    if (parts[i] != "") continue;
    refuse("operations.list.gap", path + "[" + std::to_string(i + 1) + "]", {{"sample", field.sample}});
    whole = false;
  }
  if (!whole) return std::nullopt;
  return parts;
}

std::optional<std::int64_t> Reading::whole(const InputField& field, const Json& given, const std::string& path) {
  std::optional<std::int64_t> value;
  if (given.is_number_integer()) {
    value = given.get<std::int64_t>();
  } else if (given.is_string()) {
    const auto text = given.get<std::string>();
    std::int64_t number = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
    if (error == std::errc() && end == text.data() + text.size()) value = number;
  }
  if (!value) {
    refuse_kind(field, given, path);
    return std::nullopt;
  }
  if (!within(field, {static_cast<double>(*value), Dimension::number}, as_given(given), path)) return std::nullopt;
  return value;
}

std::optional<std::string> Reading::text(const InputField& field, const Json& given, const std::string& path) {
  if (!given.is_string()) {
    refuse_kind(field, given, path);
    return std::nullopt;
  }
  auto text = given.get<std::string>();
  if (text.find_first_not_of(" \t\r\n") == std::string::npos) {
    refuse("operations.input.empty", path, {{"sample", field.sample}});
    return std::nullopt;
  }
  constexpr std::size_t longest = 4096;  // judged: a name or a path, not a book
  if (text.size() > longest) {
    refuse("operations.input.too_long", path, {{"given", as_given(given)}, {"most", std::to_string(longest)}});
    return std::nullopt;
  }
  return text;
}

std::optional<std::size_t> Reading::choice(const InputField& field, const Json& given, const std::string& path) {
  const auto text = given.is_string() ? given.get<std::string>() : as_given(given);
  const auto at = std::find(field.choices.begin(), field.choices.end(), text);
  if (at != field.choices.end()) return static_cast<std::size_t>(at - field.choices.begin());
  std::map<std::string, Remark::Fact> facts{{"given", as_given(given)}, {"allowed", joined(field.choices)}};
  if (const auto near = likely(text, field.choices); !near.empty()) facts.emplace("suggestion", near);
  refuse(field.refusal, path, std::move(facts));
  return std::nullopt;
}

std::optional<bool> Reading::flag(const InputField&, const Json& given, const std::string& path) {
  if (given.is_boolean()) return given.get<bool>();
  if (given == "true" || given == "yes") return true;
  if (given == "false" || given == "no") return false;
  refuse("operations.input.not_a_choice", path, {{"given", as_given(given)}, {"allowed", "true, false"}});
  return std::nullopt;
}

std::optional<std::int64_t> Reading::instant(const InputField& field, const Json& given, const std::string& path) {
  const auto written = text(field, given, path);
  if (!written) return std::nullopt;
  const auto instant = keep(read_instant(*written), path, as_given(given));
  if (!instant) return std::nullopt;
  instants_.push_back({*instant, path, *written});
  return instant->at_ms;
}

std::optional<std::string> Reading::zone(const InputField& field, const Json& given, const std::string& path) {
  auto name = text(field, given, path);
  if (!name) return name;
  if (cards::zone_exists(*name)) return zone_ = *name;
  std::map<std::string, Remark::Fact> facts{{"given", as_given(given)}};
  if (const auto near = likely(*name, cards::zone_names()); !near.empty()) facts.emplace("suggestion", near);
  refuse("operations.input.no_such_zone", path, std::move(facts));
  return std::nullopt;
}

void Reading::compare_clocks() {
  if (zone_.empty()) return;
  for (const auto& [instant, path, written] : instants_) {
    // A time told in UTC is meant so.
    if (instant.offset_min == 0 || instant.offset_min == cards::offset_minutes(instant.at_ms, zone_)) continue;
    findings_->doubt({"operations.instant.other_clock",
                      path,
                      {{"given", written}, {"zone", zone_}, {"clock", cards::iso_text(instant.at_ms, zone_)}}});
  }
}

void Reading::refuse_unknown(const Json& tree, const std::vector<InputField>& fields, const std::string& path) {
  const auto below = [](const std::string& prefix, const std::string& name) {
    return name.size() > prefix.size() && name.starts_with(prefix) && name[prefix.size()] == '.';
  };
  for (const auto& [key, value] : tree.items()) {
    const std::string full = path.empty() ? key : path + "." + key;
    const auto is_field = [&](const InputField& field) { return field.name == full; };
    if (std::any_of(fields.begin(), fields.end(), is_field)) continue;
    const auto is_inside = [&](const InputField& field) { return below(full, field.name); };
    if (std::any_of(fields.begin(), fields.end(), is_inside)) {
      if (value.is_object()) {
        refuse_unknown(value, fields, full);
      } else {
        refuse("operations.input.not_a_table", full, {{"given", as_given(value)}});
      }
      continue;
    }
    std::vector<std::string> here;       // names that could stand where this key stands
    std::vector<std::string> elsewhere;  // whole names whose last part is this key
    for (const auto& field : fields) {
      if (!path.empty() && !below(path, field.name)) continue;
      const auto rest = path.empty() ? field.name : field.name.substr(path.size() + 1);
      const auto word = rest.substr(0, rest.find('.'));
      if (std::find(here.begin(), here.end(), word) == here.end()) here.push_back(word);
    }
    for (const auto& field : fields) {
      if (field.name.ends_with("." + key)) elsewhere.push_back(field.name);
    }
    std::map<std::string, Remark::Fact> facts{{"given", full}, {"allowed", joined(here)}};
    if (elsewhere.size() == 1) {
      facts.emplace("suggestion", elsewhere.front());
    } else if (const auto near = likely(key, here); !near.empty()) {
      facts.emplace("suggestion", path.empty() ? near : path + "." + near);
    }
    refuse("operations.input.unknown_field", full, std::move(facts));
  }
}

void Reading::refuse_missing(const InputField& field, const std::string& path) {
  refuse("operations.input.missing", path, {{"sample", field.sample}});
}

void Reading::refuse_alternatives(const Alternatives& alternatives, const Json& tree) {
  std::vector<std::string> given;
  for (const auto& name : alternatives.names) {
    if (find(tree, name) != nullptr) given.push_back(name);
  }
  if (given.size() > 1)
    refuse("operations.input.one_of", given[1], {{"given", joined(given)}, {"allowed", joined(alternatives.names)}});
}

}  // namespace barm::operations
