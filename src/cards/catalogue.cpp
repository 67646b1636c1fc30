#include "cards/catalogue.h"

#include <toml++/toml.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <optional>

#include "data/embedded.h"

namespace barm::cards {
namespace {

[[noreturn]] void broken(const std::string& what) {
  throw BrokenPromise("message catalogue: " + what);
}

std::string text_of(const toml::table& entry, std::string_view key, const std::string& code, bool required) {
  const toml::node* node = entry.get(key);
  if (node == nullptr && !required) return {};
  const auto text = node == nullptr ? std::nullopt : node->value_exact<std::string>();
  if (!text || text->empty()) broken(code + " has no " + std::string(key));
  return *text;
}

/// The fact an entry calls `name`, as text; nothing when the remark does not carry it.
std::optional<std::string> fact(const Remark& remark, const std::string& name, const Customs& customs) {
  const auto at = remark.facts.find(name);
  if (at != remark.facts.end()) {
    if (const auto* text = std::get_if<std::string>(&at->second)) return *text;
    return write(as_told(std::get<Quantity>(at->second)), customs);
  }
  if (name == "field" && !remark.field.empty()) return remark.field;
  return std::nullopt;
}

/// Words for things that code knows by a name: "{kind:records.kind}" tells the fact's names by the entries under
/// "records.kind.", "{kind+records.kind}" the names as they are typed, each with its words beside it.
class Filling {
 public:
  Filling(const Catalogue& catalogue, const Remark& remark, Language language, const Customs& customs)
      : catalogue_(&catalogue), remark_(&remark), language_(language), customs_(&customs) {}

  std::string all(std::string_view words) {
    std::string out;
    const auto must = [&](std::string_view part) {
      const auto filled = fill(part, out.empty());
      if (!filled) broken(remark_->code + " lacks the fact " + absent_);
      out += *filled;
    };
    while (!words.empty()) {
      const auto open = words.find('[');
      must(words.substr(0, open));
      if (open == std::string_view::npos) break;
      const auto close = words.find(']', open);
      if (close == std::string_view::npos) broken(remark_->code + " leaves a bracket open");
      if (const auto part = fill(words.substr(open + 1, close - open - 1), out.empty())) out += *part;
      words.remove_prefix(close + 1);
    }
    return out;
  }

 private:
  /// Fills one stretch of an entry; nothing when a fact it names is absent, whose name is then in `absent_`.
  std::optional<std::string> fill(std::string_view words, bool begins) {
    std::string out;
    while (!words.empty()) {
      const auto open = words.find('{');
      out += words.substr(0, open);
      if (open == std::string_view::npos) break;
      const auto close = words.find('}', open);
      if (close == std::string_view::npos) broken(remark_->code + " leaves a brace open");
      const auto asked = words.substr(open + 1, close - open - 1);
      const auto how = asked.find_first_of(":+");
      absent_ = asked.substr(0, how);
      const auto value = fact(*remark_, absent_, *customs_);
      if (!value) return std::nullopt;
      out += how == std::string_view::npos ? *value
             : asked[how] == '+'           ? typed(*value, asked.substr(how + 1))
                                           : named(*value, asked.substr(how + 1), begins && out.empty());
      words.remove_prefix(close + 1);
    }
    return out;
  }

  /// Small within a sentence.
  std::string word_of(const std::string& name, std::string_view under, bool begins) const {
    const std::string code = std::string(under) + "." + name;
    if (!catalogue_->has(code)) return name;
    std::string word = catalogue_->text({code, "", {}}, language_);
    if (!begins) word.front() = static_cast<char>(std::tolower(static_cast<unsigned char>(word.front())));
    return word;
  }

  static std::vector<std::string> parted(std::string_view names) {
    std::vector<std::string> all;
    for (std::size_t from = 0; from <= names.size();) {
      const auto end = std::min(names.find(", ", from), names.size());
      all.emplace_back(names.substr(from, end - from));
      from = end + 2;
    }
    return all;
  }

  /// "brew or compost lot"; in Spanish "o", and "u" where the next word begins with the same sound.
  std::string named(const std::string& names, std::string_view under, bool begins) const {
    std::string text;
    const auto all = parted(names);
    for (const auto& name : all) {
      const std::string word = word_of(name, under, begins && text.empty());
      const bool is_same_sound = word.starts_with('o') || word.starts_with("ho");
      const char* last = language_ == Language::english ? " or " : is_same_sound ? " u " : " o ";
      text += (text.empty() ? "" : &name == &all.back() ? last : ", ") + word;
    }
    return text;
  }

  std::string typed(const std::string& names, std::string_view under) const {
    std::string text;
    for (const auto& name : parted(names)) {
      const std::string word = word_of(name, under, false);
      text += (text.empty() ? "" : ", ") + name + (word == name ? "" : " (" + word + ")");
    }
    return text;
  }

  const Catalogue* catalogue_;
  const Remark* remark_;
  Language language_;
  const Customs* customs_;
  std::string absent_{};
};

/// A fact "food_es" stands for "food".
Remark in_spanish(const Remark& remark) {
  constexpr std::string_view spanish = "_es";
  Remark here = remark;
  for (const auto& [name, fact] : remark.facts)
    if (name.ends_with(spanish)) here.facts[name.substr(0, name.size() - spanish.size())] = fact;
  return here;
}

}  // namespace

Quantity as_told(Quantity quantity) {
  const double minutes = quantity.value * 60.0;
  if (quantity.dimension == Dimension::duration && minutes >= 5.0 && minutes < 60.0)
    quantity.value = std::round(minutes) / 60.0;
  return quantity;
}

void Catalogue::add(const std::string& toml) {
  toml::table file;
  try {
    file = toml::parse(toml);
  } catch (const toml::parse_error& error) {
    broken(std::string(error.description()) + " in line " + std::to_string(error.source().begin.line));
  }
  for (const auto& [key, node] : file) {
    const std::string code(key.str());
    const toml::table* table = node.as_table();
    if (table == nullptr) broken(code + " is not a table");
    Entry entry{text_of(*table, "kind", code, true), text_of(*table, "en", code, true),
                text_of(*table, "es", code, true), text_of(*table, "next_en", code, false),
                text_of(*table, "next_es", code, false)};
    if (entry.next_english.empty() != entry.next_spanish.empty())
      broken(code + " gives its next step in one language only");
    if (!entries_.emplace(code, std::move(entry)).second) broken(code + " stands twice");
  }
}

Catalogue Catalogue::read(const std::vector<std::string>& tomls) {
  Catalogue catalogue;
  for (const auto& toml : tomls) catalogue.add(toml);
  return catalogue;
}

Catalogue Catalogue::embedded() {
  std::vector<std::string> tomls;
  for (const auto name : data::files()) {
    if (name.starts_with("messages/")) tomls.emplace_back(data::file(name));
  }
  return read(tomls);
}

bool Catalogue::has(std::string_view code) const {
  return entries_.find(code) != entries_.end();
}

std::vector<std::string> Catalogue::codes() const {
  std::vector<std::string> all;
  for (const auto& [code, entry] : entries_) all.push_back(code);
  return all;
}

const Catalogue::Entry& Catalogue::entry(std::string_view code) const {
  const auto at = entries_.find(code);
  if (at == entries_.end()) broken("no entry for " + std::string(code));
  return at->second;
}

std::string Catalogue::text(const Remark& remark, Language language, const Customs& customs) const {
  const Entry& words = entry(remark.code);
  if (language == Language::english) return Filling(*this, remark, language, customs).all(words.english);
  return Filling(*this, in_spanish(remark), language, customs).all(words.spanish);
}

std::string Catalogue::next(const Remark& remark, Language language, const Customs& customs) const {
  const Entry& words = entry(remark.code);
  if (language == Language::english) return Filling(*this, remark, language, customs).all(words.next_english);
  return Filling(*this, in_spanish(remark), language, customs).all(words.next_spanish);
}

const std::string& Catalogue::kind(std::string_view code) const {
  return entry(code).kind;
}

}  // namespace barm::cards
