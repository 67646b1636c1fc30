#include "records/line.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <cstring>
#include <nlohmann/json.hpp>
#include <optional>
#include <set>
#include <utility>

#include "quantity/expects.h"
#include "records/moment.h"

namespace barm::records {
namespace {

using Json = nlohmann::json;

Remark refusal(std::string what, std::map<std::string, Remark::Fact> facts = {}) {
  return {"records.line." + std::move(what), "", std::move(facts)};
}

/// Takes one flat object apart; anything nested ends it, so that depth costs nothing.
class FlatReader : public nlohmann::json_sax<Json> {
 public:
  std::vector<std::pair<std::string, Json>> pairs;
  std::string repeated;

  bool null() override { return false; }
  bool boolean(bool value) override { return put(value); }
  bool number_integer(number_integer_t value) override { return put(value); }
  bool number_unsigned(number_unsigned_t value) override { return put(value); }
  bool number_float(number_float_t value, const string_t&) override { return put(value); }
  bool string(string_t& value) override { return put(std::move(value)); }
  bool binary(binary_t&) override { return false; }
  bool start_object(std::size_t) override { return !std::exchange(open_, true); }
  bool end_object() override { return true; }
  bool start_array(std::size_t) override { return false; }
  bool end_array() override { return false; }
  bool key(string_t& name) override {
    if (!seen_.insert(name).second) repeated = name;
    key_ = name;
    return repeated.empty();
  }
  bool parse_error(std::size_t, const std::string&, const nlohmann::detail::exception&) override { return false; }

 private:
  bool put(Json value) {
    if (!open_) return false;
    pairs.emplace_back(key_, std::move(value));
    return true;
  }
  bool open_ = false;
  std::string key_;
  std::set<std::string> seen_;
};

void put_value(std::string& line, const Field& field, const Value& value) {
  if (const auto* text = std::get_if<std::string>(&value)) return put_json_text(line, *text);
  if (const auto* number = std::get_if<double>(&value)) {
    line += number_text(*number);
  } else if (field.type == Type::instant) {
    line += '"' + instant_text(std::get<std::int64_t>(value)) + '"';
  } else {
    line += std::get<std::int64_t>(value) != 0 ? "true" : "false";
  }
}

std::optional<Value> read_value(const Field& field, const Json& json) {
  switch (field.type) {
    case Type::number:
      if (json.is_number() && std::isfinite(json.get<double>())) return Value(json.get<double>());
      return std::nullopt;
    case Type::flag:
      if (json.is_boolean()) return Value(std::int64_t{json.get<bool>()});
      return std::nullopt;
    case Type::instant:
      if (const auto at = json.is_string() ? read_instant_text(json.get_ref<const std::string&>()) : std::nullopt)
        return Value(*at);
      return std::nullopt;
    default:
      if (json.is_string()) return Value(json.get<std::string>());
      return std::nullopt;
  }
}

/// Puts one pair into the entry; what is wrong with it, or nothing.
std::optional<Remark> put_pair(const Kind& kind, const std::string& key, const Json& json, Entry& entry) {
  const auto wrong = [&] {
    return refusal("wrong_value",
                   {{"given", key + ": " + json.dump(-1, ' ', false, Json::error_handler_t::replace).substr(0, 60)}});
  };
  const std::pair<const char*, std::string*> texts[] = {
      {"id", &entry.id}, {"reason", &entry.reason}, {"recorded_by", &entry.recorded_by}, {"replaces", &entry.replaces}};
  for (const auto& [name, into] : texts) {
    if (key != name) continue;
    if (!json.is_string()) return wrong();
    *into = json.get<std::string>();
    return std::nullopt;
  }
  if (key == "kind") return std::nullopt;
  if (key == "withdraws") {
    entry.withdraws = json.is_boolean() && json.get<bool>();
    return entry.withdraws ? std::nullopt : std::optional(wrong());
  }
  if (key == "recorded_at") {
    const auto at = json.is_string() ? read_instant_text(json.get_ref<const std::string&>()) : std::nullopt;
    if (!at) return wrong();
    entry.recorded_at = *at;
    return std::nullopt;
  }
  const auto at = kind.position(key);
  if (!at || kind.fields[*at].column() != key) return refusal("unknown_key", {{"given", key}, {"kind", kind.name}});
  auto value = read_value(kind.fields[*at], json);
  if (!value) return wrong();
  entry.values[*at] = std::move(*value);
  return std::nullopt;
}

}  // namespace

bool is_utf8(std::string_view text) {
  const auto* at = reinterpret_cast<const unsigned char*>(text.data());
  const auto* end = at + text.size();
  while (at < end) {
    const unsigned char first = *at++;
    if (first == 0) return false;
    if (first < 0x80) continue;
    const int more = first >= 0xF0 ? 3 : first >= 0xE0 ? 2 : 1;
    if (first < 0xC2 || first > 0xF4 || end - at < more) return false;
    unsigned point = first & (0x3Fu >> more);
    for (int i = 0; i < more; ++i, ++at) {
      if ((*at & 0xC0) != 0x80) return false;
      point = (point << 6) | (*at & 0x3Fu);
    }
    const unsigned least = more == 1 ? 0x80 : more == 2 ? 0x800 : 0x10000;
    if (point < least || point > 0x10FFFF || (point >= 0xD800 && point < 0xE000)) return false;
  }
  return true;
}

std::string number_text(double value) {
  expects(std::isfinite(value), "a number that is kept is finite");
  if (value == 0.0) return "0";  // RFC 8785, section 3.2.2.3: minus zero as well
  char buffer[40];
  const auto whole = std::to_chars(buffer, buffer + sizeof buffer, std::abs(value), std::chars_format::scientific);
  const std::string_view written(buffer, static_cast<std::size_t>(whole.ptr - buffer));
  const auto mark = written.find('e');
  std::string digits(written.substr(0, 1));
  if (mark > 2) digits += written.substr(2, mark - 2);
  int exponent = 0;
  const auto* from = written.data() + mark + (written[mark + 1] == '+' ? 2 : 1);
  std::from_chars(from, written.data() + written.size(), exponent);
  // ECMAScript Number::toString: k digits, the point after the n-th.
  const int k = static_cast<int>(digits.size()), n = exponent + 1;
  std::string text = value < 0.0 ? "-" : "";
  if (k <= n && n <= 21) return text + digits + std::string(static_cast<std::size_t>(n - k), '0');
  if (0 < n && n <= 21)
    return text + digits.substr(0, static_cast<std::size_t>(n)) + "." + digits.substr(static_cast<std::size_t>(n));
  if (-6 < n && n <= 0) return text + "0." + std::string(static_cast<std::size_t>(-n), '0') + digits;
  text += digits.substr(0, 1);
  if (k > 1) text += "." + digits.substr(1);
  return text + (n - 1 < 0 ? "e-" : "e+") + std::to_string(std::abs(n - 1));
}

void put_json_text(std::string& line, std::string_view text) {
  static constexpr char hex[] = "0123456789abcdef";
  line += '"';
  std::size_t plain_from = 0;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    const auto byte = static_cast<unsigned char>(c);
    if (byte >= 0x20 && c != '"' && c != '\\') continue;
    line.append(text.substr(plain_from, i - plain_from));
    plain_from = i + 1;
    line += '\\';
    if (byte >= 0x20) {
      line += c;
    } else if (const char* place = std::strchr("\bb\tt\nn\ff\rr", c); place != nullptr && c != '\0') {
      line += place[1];
    } else {
      line += "u00";
      line += hex[byte >> 4];
      line += hex[byte & 0x0F];
    }
  }
  line.append(text.substr(plain_from));
  line += '"';
}

namespace {

enum Own : int { own_id = -7, own_kind, own_reason, own_recorded_at, own_recorded_by, own_replaces, own_withdraws };

}  // namespace

LineWriter::LineWriter(const Kind& kind) {
  std::vector<std::pair<std::string, int>> keys = {{"id", own_id},
                                                   {"kind", own_kind},
                                                   {"recorded_at", own_recorded_at},
                                                   {"reason", own_reason},
                                                   {"replaces", own_replaces},
                                                   {"recorded_by", own_recorded_by},
                                                   {"withdraws", own_withdraws}};
  for (std::size_t i = 0; i < kind.fields.size(); ++i) keys.emplace_back(kind.fields[i].column(), static_cast<int>(i));
  std::sort(keys.begin(), keys.end());
  for (auto& [key, position] : keys)
    parts_.push_back(
        {'"' + key + "\":", position, position < 0 ? nullptr : &kind.fields[static_cast<std::size_t>(position)]});
}

const std::string& LineWriter::line(const Entry& entry, std::int64_t recorded_at) {
  line_.assign(1, '{');
  const auto key = [&](const Part& part) {
    if (line_.size() > 1) line_ += ',';
    line_ += part.key;
  };
  const auto text = [&](const Part& part, const std::string& words, bool always = false) {
    if (words.empty() && !always) return;
    key(part);
    put_json_text(line_, words);
  };
  for (const auto& part : parts_) {
    if (part.position >= 0) {
      const auto at = static_cast<std::size_t>(part.position);
      if (at >= entry.values.size() || !is_given(entry.values[at])) continue;
      key(part);
      put_value(line_, *part.field, entry.values[at]);
    } else if (part.position == own_recorded_at) {
      key(part);
      line_ += '"' + instant_text(recorded_at) + '"';
    } else if (part.position == own_withdraws) {
      if (entry.withdraws) key(part), line_ += "true";
    } else {
      if (part.position == own_id) text(part, entry.id, true);
      if (part.position == own_kind) text(part, entry.kind, true);
      if (part.position == own_recorded_by) text(part, entry.recorded_by, true);
      if (part.position == own_reason) text(part, entry.reason);
      if (part.position == own_replaces) text(part, entry.replaces);
    }
  }
  return line_ += '}';
}

std::string line_of(const Kind& kind, const Entry& entry) {
  return LineWriter(kind).line(entry, entry.recorded_at);
}

Answer<Entry> read_line(std::string_view line, const Kinds& kinds) {
  if (!is_utf8(line)) return Answer<Entry>::refused({refusal("not_utf8")});
  FlatReader reader;
  const bool whole = Json::sax_parse(line, &reader);
  if (!reader.repeated.empty()) return Answer<Entry>::refused({refusal("repeated_key", {{"given", reader.repeated}})});
  if (!whole) return Answer<Entry>::refused({refusal("not_json", {{"given", std::string(line.substr(0, 60))}})});
  Entry entry;
  for (const auto& [key, json] : reader.pairs) {
    if (key == "kind" && json.is_string()) entry.kind = json.get<std::string>();
  }
  const Kind* kind = kinds.find(entry.kind);
  if (kind == nullptr) return Answer<Entry>::refused({refusal("unknown_kind", {{"given", entry.kind.substr(0, 60)}})});
  entry.values.resize(kind->fields.size());
  Findings findings;
  for (const auto& [key, json] : reader.pairs) {
    if (auto wrong = put_pair(*kind, key, json, entry)) findings.refuse(std::move(*wrong));
  }
  if (entry.withdraws) entry.values.clear();
  return std::move(findings).answer(std::move(entry));
}

}  // namespace barm::records
