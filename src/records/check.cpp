#include "records/check.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "records/id.h"
#include "records/image.h"
#include "records/line.h"
#include "records/moment.h"

namespace barm::records {
namespace {

constexpr std::int64_t instant_most = 253'402'300'799'999;  // the last of year 9999

class Checker {
 public:
  Remarks faults;

  void refuse(const char* code, const std::string& field, std::map<std::string, Remark::Fact> facts = {}) {
    faults.push_back({code, field, std::move(facts)});
  }

  void value(const Field& field, const Value& given) {
    if (!is_given(given)) {
      if (field.required) refuse("records.value.missing", field.name, {{"sample", field.sample}});
      return;
    }
    if (field.type == Type::number) return number(field, given);
    if (field.type == Type::flag || field.type == Type::instant) return whole(field, given);
    const auto* words = std::get_if<std::string>(&given);
    if (words == nullptr) return refuse("records.value.wrong_type", field.name, {{"sample", field.sample}});
    if (field.type == Type::image) return image(field.name, *words);
    text(field.name, *words, field.type == Type::json ? json_most : text_most);
    if (faults.empty() || faults.back().field != field.name) worded(field, *words);
  }

  void text(const std::string& name, const std::string& words, std::size_t most) {
    if (words.size() > most) {
      refuse("records.value.too_long", name, {{"most", std::to_string(most)}});
    } else if (!is_utf8(words)) {
      refuse("records.value.not_utf8", name);
    }
  }

 private:
  void image(const std::string& name, const std::string& base64) {
    if (base64.size() > image_text_most)
      return refuse("records.value.image_too_large", name, {{"most", std::to_string(image_bytes_most / 1000)}});
    const auto bytes = bytes_of(base64);
    if (!bytes || image_type(*bytes).empty()) refuse("records.value.not_an_image", name);
  }

  void number(const Field& field, const Value& given) {
    const auto* value = std::get_if<double>(&given);
    if (value == nullptr || !std::isfinite(*value))
      return refuse("records.value.not_a_number", field.name, {{"sample", field.sample}});
    const bool low = field.lowest && (field.lowest_left_out ? *value <= *field.lowest : *value < *field.lowest);
    const bool high = field.highest && *value > *field.highest;
    if (!low && !high) return;
    std::map<std::string, Remark::Fact> facts{{"given", Quantity{*value, field.dimension}}};
    facts.emplace("bound", Quantity{low ? *field.lowest : *field.highest, field.dimension});
    refuse(!low                    ? "records.value.too_high"
           : field.lowest_left_out ? "records.value.not_above"
                                   : "records.value.too_low",
           field.name, std::move(facts));
  }

  void whole(const Field& field, const Value& given) {
    const auto* value = std::get_if<std::int64_t>(&given);
    const std::int64_t most = field.type == Type::flag ? 1 : instant_most;
    if (value == nullptr || *value < 0 || *value > most)
      refuse("records.value.wrong_type", field.name, {{"sample", field.sample}});
  }

  void worded(const Field& field, const std::string& words) {
    const auto wrong = [&](const char* code, const std::string& allowed) {
      refuse(code, field.name, {{"given", words.substr(0, 60)}, {"allowed", allowed}});
    };
    if (field.type == Type::choice &&
        std::find(field.choices.begin(), field.choices.end(), words) == field.choices.end()) {
      wrong("records.value.not_a_choice", fmt::format("{}", fmt::join(field.choices, ", ")));
    } else if (field.type == Type::date && !is_date(words)) {
      wrong("records.value.not_a_date", field.sample);
    } else if (field.type == Type::reference && !is_id(words)) {
      wrong("records.value.not_an_id", field.sample);
    } else if (field.type == Type::json && !nlohmann::json::accept(words)) {
      wrong("records.value.not_json", field.sample);
    } else if (words.find_first_not_of(" \t\r\n") == std::string::npos) {
      refuse("records.value.missing", field.name, {{"sample", field.sample}});
    }
  }
};

}  // namespace

Remarks faults_of(const Kind& kind, const Entry& entry) {
  Checker check;
  if (!is_id(entry.id)) check.refuse("records.entry.bad_id", "id", {{"given", entry.id.substr(0, 60)}});
  if (!entry.replaces.empty() && !is_id(entry.replaces))
    check.refuse("records.entry.bad_id", "replaces", {{"given", entry.replaces.substr(0, 60)}});
  if (entry.withdraws && entry.replaces.empty()) check.refuse("records.entry.withdraws_nothing", "replaces");
  if (!entry.replaces.empty() && entry.reason.empty()) check.refuse("records.entry.no_reason", "reason");
  if (entry.replaces.empty() && !entry.reason.empty()) check.refuse("records.entry.reason_of_nothing", "reason");
  check.text("recorded_by", entry.recorded_by, text_most);
  check.text("reason", entry.reason, text_most);
  if (entry.withdraws) return check.faults;
  for (std::size_t i = 0; i < kind.fields.size(); ++i)
    check.value(kind.fields[i], i < entry.values.size() ? entry.values[i] : Value{});
  for (const auto& group : kind.one_of) {
    const auto given = [&](const std::string& name) {
      const auto at = kind.position(name);
      return at && *at < entry.values.size() && is_given(entry.values[*at]);
    };
    if (std::none_of(group.begin(), group.end(), given))
      check.refuse("records.value.one_of", group.front(), {{"allowed", fmt::format("{}", fmt::join(group, ", "))}});
  }
  return check.faults;
}

Remarks doubts_of(const Kind& kind, const Entry& entry) {
  Remarks doubts;
  if (entry.withdraws) return doubts;
  for (std::size_t i = 0; i < kind.fields.size(); ++i) {
    const Field& field = kind.fields[i];
    const auto other = kind.position(field.up_to);
    if (!is_given(entry.values[i])) continue;
    if (other && is_given(entry.values[*other]) && entry.values[i] > entry.values[*other])
      doubts.push_back({"records.doubt.out_of_order", field.name, {{"given", field.name}, {"other", field.up_to}}});
    for (std::size_t j = 0; j < i && field.type == Type::reference; ++j) {
      if (kind.fields[j].type == Type::reference && entry.values[j] == entry.values[i])
        doubts.push_back(
            {"records.doubt.of_itself", field.name, {{"given", field.name}, {"other", kind.fields[j].name}}});
    }
  }
  return doubts;
}

}  // namespace barm::records
