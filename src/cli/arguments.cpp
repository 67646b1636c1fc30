// The only file that knows CLI11. It tells options from words and finds their values; every message is ours, so that it
// can be in two languages and name the likely spelling.
#include "cli/arguments.h"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <charconv>
#include <regex>
#include <utility>

#include "operations/help.h"
#include "operations/reading.h"

namespace barm::cli {
namespace {

using operations::Kind;
using operations::Operation;

/// Keys have underscores, people write hyphens: in the name of an option both count as the same.
std::string plain(std::string word) {
  if (!word.starts_with("--")) return word;
  const auto end = std::min(word.find('='), word.size());
  std::replace(word.begin() + 2, word.begin() + static_cast<std::ptrdiff_t>(end), '-', '_');
  return word;
}

std::string shown(std::string name) {
  std::replace(name.begin(), name.end(), '_', '-');
  return name;
}

/// Options that take a value, each as often as it was written.
class Parser {
 public:
  explicit Parser(Findings& findings) : findings_(&findings) {
    app_.set_help_flag();
    app_.allow_extras();
  }

  void option(const std::string& name) {
    auto& values = values_[name];
    app_.add_option(name, values)
        ->expected(1)
        ->allow_extra_args(false)
        ->multi_option_policy(CLI::MultiOptionPolicy::TakeAll);
  }
  void flag(const std::string& name, bool& value) {
    app_.add_flag(name, value)->multi_option_policy(CLI::MultiOptionPolicy::TakeLast);
  }

  /// The words that belong to no option.
  std::vector<std::string> parse(const std::vector<std::string>& words) {
    std::vector<std::string> backwards(words.rbegin(), words.rend());  // as CLI11 wants them
    for (auto& word : backwards) word = plain(word);
    try {
      app_.parse(backwards);
    } catch (const CLI::ParseError&) {  // all that is left to go wrong: the last option has no value
      findings_->refuse({"operations.command.value_missing", "", {{"given", words.empty() ? "" : words.back()}}});
      return {};
    }
    for (const auto& [name, values] : values_) {
      if (values.size() > 1)
        findings_->refuse({"operations.command.option_repeated", name.substr(2), {{"given", shown(name)}}});
    }
    return app_.remaining();
  }

  const std::string* value(const std::string& name) const {
    const auto at = values_.find(name);
    return at == values_.end() || at->second.empty() ? nullptr : &at->second.front();
  }
  std::vector<std::string> names() const {
    std::vector<std::string> all;
    for (const auto& [name, values] : values_) all.push_back(shown(name));
    return all;
  }

 private:
  CLI::App app_;
  std::map<std::string, std::vector<std::string>> values_;
  Findings* findings_;
};

template <class E>
void choose(const Parser& parser, const std::string& name, const operations::Choices<E>& choices, E& into,
            Findings& findings) {
  const std::string* given = parser.value(name);
  if (given == nullptr) return;
  std::string allowed;
  for (const auto& [word, value] : choices) {
    if (word == *given) {
      into = value;
      return;
    }
    allowed += (allowed.empty() ? "" : ", ") + word;
  }
  findings.refuse({"operations.input.not_a_choice", name.substr(2), {{"given", *given}, {"allowed", allowed}}});
}

/// "--food.2.amount" changes a row of the document: its path is food[2].amount. Empty when the word is no such option.
std::string row_path(const Operation& operation, const std::string& option) {
  static const std::regex form("--([a-z_]+)\\.([0-9]+)\\.([a-z_]+)");
  std::smatch part;
  if (!std::regex_match(option, part, form)) return {};
  for (const auto& field : operation.inputs) {
    if (field.kind != Kind::rows || field.name != part[1].str()) continue;
    for (const auto& column : field.columns) {
      if (column.name == part[3].str()) return field.name + "[" + part[2].str() + "]." + column.name;
    }
  }
  return {};
}

void refuse_option(const std::string& word, const std::vector<std::string>& known, const std::string& help,
                   Findings& findings) {
  const auto name = shown(word.substr(0, word.find('=')));
  std::map<std::string, Remark::Fact> facts{{"given", name}, {"help", help}};
  if (const auto near = operations::likely(name, known); !near.empty()) facts.emplace("suggestion", near);
  findings.refuse({"operations.command.unknown_option", "", std::move(facts)});
}

}  // namespace

Common read_common(const std::vector<std::string>& words, Findings& findings) {
  Common common;
  Parser parser(findings);
  parser.flag("--json", common.json);
  parser.flag("--help", common.help);
  parser.flag("--version", common.version);
  parser.flag("--reference", common.reference);
  parser.flag("--openapi", common.open_api);
  for (const char* name : {"--lang", "--measures", "--gallon"}) parser.option(name);
  common.rest = parser.parse(words);

  choose(parser, "--lang", {{"en", cards::Language::english}, {"es", cards::Language::spanish}}, common.language,
         findings);
  choose(parser, "--measures", {{"metric", Measures::metric}, {"us", Measures::us}}, common.customs.measures, findings);
  Gallon gallon = Gallon::us;
  choose(parser, "--gallon", {{"us", Gallon::us}, {"imperial", Gallon::imperial}}, gallon, findings);
  if (parser.value("--gallon") != nullptr) common.customs.gallon = gallon;
  return common;
}

Given read_fields(const Operation& operation, const std::vector<std::string>& words, Findings& findings) {
  Parser parser(findings);
  std::map<std::string, std::string> path_of;  // by option
  for (const auto& field : operation.inputs) {
    if (field.positional || field.kind == Kind::rows) continue;
    path_of["--" + field.name] = field.name;
  }
  for (const auto& word : words) {
    const auto option = plain(word).substr(0, word.find('='));
    if (const auto path = row_path(operation, option); !path.empty()) path_of[option] = path;
  }
  for (const auto& [option, path] : path_of) parser.option(option);

  Given given;
  const std::string help = "barm " + operation.name() + " --help";
  std::vector<std::string> places;  // of words without an option's name
  if (operation.takes_document) places.emplace_back();
  for (const auto& field : operation.inputs) {
    if (field.positional) places.push_back(field.name);
  }
  std::size_t next = 0;
  bool after_unknown = false;  // a word after an unknown option is most likely its value
  for (const auto& word : parser.parse(words)) {
    const bool is_number = word.size() > 1 && (std::isdigit(static_cast<unsigned char>(word[1])) || word[1] == '.');
    const bool is_value = std::exchange(after_unknown, false);
    if (word.starts_with("-") && !is_number) {
      refuse_option(word, parser.names(), help, findings);
      after_unknown = word.find('=') == std::string::npos;
    } else if (is_value) {
      continue;
    } else if (next == places.size()) {
      findings.refuse({"operations.command.too_many_words", "", {{"given", word}, {"help", help}}});
    } else if (places[next].empty()) {
      given.document = word;
      ++next;
    } else {
      given.fields[places[next++]] = word;
    }
  }
  if (operation.takes_document && given.document.empty() && !findings.refused()) {
    findings.refuse({"operations.command.file_missing", "", {{"help", help}}});
  }
  for (const auto& [option, path] : path_of) {
    if (const std::string* value = parser.value(option)) given.fields[path] = *value;
  }
  return given;
}

ServeWords read_serve(const std::vector<std::string>& words, Findings& findings) {
  Parser parser(findings);
  for (const char* name : {"--address", "--port", "--store", "--name", "--sample"}) parser.option(name);
  ServeWords given;
  for (const auto& word : parser.parse(words)) {
    if (word.starts_with("-")) {
      refuse_option(word, parser.names(), "barm serve --help", findings);
    } else {
      findings.refuse(
          {"operations.command.too_many_words", "", {{"given", word}, {"help", std::string("barm serve --help")}}});
    }
  }
  if (const auto* address = parser.value("--address")) given.address = *address;
  if (const auto* store = parser.value("--store")) given.store = *store;
  if (const auto* sample = parser.value("--sample")) given.sample = *sample;
  if (const auto* name = parser.value("--name")) given.names = {*name};
  if (const auto* port = parser.value("--port")) {
    const auto [end, error] = std::from_chars(port->data(), port->data() + port->size(), given.port);
    if (error != std::errc() || end != port->data() + port->size())
      findings.refuse({"serve.option.not_a_port", "port", {{"given", *port}}});
  }
  return given;
}

}  // namespace barm::cli
