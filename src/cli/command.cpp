#include "cli/command.h"

#include <fmt/format.h>

#include <algorithm>
#include <optional>

#include "cli/arguments.h"
#include "operations/help.h"
#include "operations/registry.h"
#include "operations/schema.h"

namespace barm::cli {
namespace {

using operations::all_operations;
using operations::Json;
using operations::Operation;
using operations::Result;
using operations::Voice;

std::string json_text(const Json& json) {
  return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

/// The field as the person wrote it: with its line in a file, as an option, or by its place on the command line.
std::string where(const Result& result, const std::string& field, const Operation* operation) {
  if (field.empty()) return {};
  if (const auto place = result.places.find(field); place != result.places.end()) {
    return fmt::format("{} ({}): ", field,
                       result.voice.say("operations.command.line", {{"line", std::to_string(place->second.line)}}));
  }
  if (operation == nullptr) return {};
  const auto row = field.find('[');  // of a list: "tubes[2]" is told as "--tubes, value 2"
  for (const auto& input : operation->inputs) {
    if (operation->takes_document || input.name != field.substr(0, row)) continue;
    if (row == std::string::npos) return operations::option_name(input) + ": ";
    if (input.kind != operations::Kind::list) break;
    const auto number = field.substr(row + 1, field.size() - row - 2);
    return operations::option_name(input) + ", " + result.voice.say("operations.command.value", {{"number", number}}) +
           ": ";
  }
  return field + ": ";
}

std::string refusal_lines(const Result& result, const Operation* operation) {
  std::string text;
  for (const auto& refusal : result.refusals) {
    text += where(result, refusal.field, operation) + result.voice.say(refusal) + "\n";
    if (const auto next = result.voice.next(refusal); !next.empty()) text += "  " + next + "\n";
  }
  return text;
}

Outcome told(const Result& result, bool json, const Operation* operation = nullptr) {
  Outcome outcome;
  if (!result.ok()) outcome.status = result.world_failed() ? world_failed : wrong_input;
  if (json) {
    outcome.out = json_text(to_json(result));
  } else if (!result.ok()) {
    outcome.errors = refusal_lines(result, operation);
  } else {
    outcome.out = result.text;
    for (const auto& doubt : result.doubts) {
      outcome.out += result.voice.say("operations.command.doubt", {{"text", result.voice.say(doubt)}}) + "\n";
    }
  }
  return outcome;
}

Result refused(const Findings& findings, const Voice& voice) {
  Result result;
  result.refusals = findings.refusals();
  result.voice = voice;
  return result;
}

std::vector<std::string> nouns() {
  std::vector<std::string> all;
  for (const auto& operation : all_operations()) {
    if (std::find(all.begin(), all.end(), operation.noun) == all.end()) all.push_back(operation.noun);
  }
  all.push_back("serve");
  return all;
}

std::vector<std::string> verbs(const std::string& noun) {
  std::vector<std::string> all;
  for (const auto& operation : all_operations()) {
    if (operation.noun == noun) all.push_back(operation.verb);
  }
  return all;
}

/// Refuses a noun or verb nobody knows, offering the likely one.
void refuse_word(const char* code, const std::string& given, const std::string& noun,
                 const std::vector<std::string>& known, Findings& findings) {
  std::map<std::string, Remark::Fact> facts{
      {"given", given}, {"noun", noun}, {"allowed", fmt::format("{}", fmt::join(known, ", "))}};
  if (const auto near = operations::likely(given, known); !near.empty()) facts.emplace("suggestion", near);
  findings.refuse({code, "", std::move(facts)});
}

/// A verb of several words may be typed as words or with hyphens: "record add bed", "record add-bed". Brought to one
/// word.
std::vector<std::string> with_whole_verb(std::vector<std::string> words) {
  if (words.size() < 2) return words;
  const auto known = verbs(words[0]);
  std::string verb = words[1];
  std::replace(verb.begin(), verb.end(), '-', '_');
  if (std::find(known.begin(), known.end(), verb) != known.end()) words[1] = verb;
  for (std::size_t count = std::min<std::size_t>(words.size(), 4); count > 2; --count) {
    std::string joined = verb;
    for (std::size_t i = 2; i < count; ++i) joined += "_" + words[i];
    std::replace(joined.begin(), joined.end(), '-', '_');
    if (std::find(known.begin(), known.end(), joined) == known.end()) continue;
    words.erase(words.begin() + 2, words.begin() + static_cast<std::ptrdiff_t>(count));
    words[1] = joined;
    break;
  }
  return words;
}

const Operation* find_operation(const std::vector<std::string>& words, Findings& findings) {
  const auto known = verbs(words[0]);
  if (known.empty()) {
    refuse_word("operations.command.unknown_noun", words[0], "", nouns(), findings);
  } else if (words.size() < 2 || words[1].starts_with("-")) {
    refuse_word("operations.command.verb_missing", "", words[0], known, findings);
  } else {
    for (const auto& operation : all_operations()) {
      if (operation.noun == words[0] && operation.verb == words[1]) return &operation;
    }
    refuse_word("operations.command.unknown_verb", words[1], words[0], known, findings);
  }
  return nullptr;
}

/// The document an operation is asked with: the file it works from, and the options over it. Nothing when the file
/// cannot be read.
std::optional<operations::Document> document_of(const Given& given, const operations::World& world,
                                                Findings& findings) {
  operations::Document document;
  if (!given.document.empty()) {
    const auto text = findings.take(world.read_file(given.document));
    if (!text) return std::nullopt;
    auto read = given.document.ends_with(".json") ? operations::read_json(*text) : operations::read_toml(*text);
    auto whole = findings.take(std::move(read));
    if (!whole) return std::nullopt;
    document = std::move(*whole);
  }
  for (const auto& [path, value] : given.fields) findings.take(operations::put(document, path, value));
  return document;
}

Outcome help(const Common& common, const Voice& voice, Findings& findings) {
  auto words = common.rest;
  if (!words.empty() && words[0] == "help") words.erase(words.begin());
  words = with_whole_verb(std::move(words));
  if (common.open_api) return {json_text(operations::open_api(all_operations(), *voice.words)), "", done};
  if (common.reference) return {operations::reference_page(all_operations(), *voice.words), "", done};
  if (words.empty()) {
    return {operations::help_all(all_operations(), voice) +
                fmt::format("\nbarm {:<28} {}\n", "serve", voice.say("serve.summary")),
            "", done};
  }
  if (words[0] == "serve") return {voice.say("serve.help") + "\n", "", done};
  if (words.size() == 1 && !verbs(words[0]).empty())
    return {operations::help_noun(all_operations(), words[0], voice), "", done};
  if (const Operation* operation = find_operation(words, findings))
    return {operations::help_operation(*operation, voice), "", done};
  return told(refused(findings, voice), common.json);
}

Outcome run_told(const std::vector<std::string>& words, const operations::World& world) {
  Findings findings;
  Common common = read_common(words, findings);
  common.rest = with_whole_verb(std::move(common.rest));
  const Voice voice{.words = world.words, .language = common.language, .customs = common.customs};
  if (findings.refused()) return told(refused(findings, voice), common.json);
  if (common.version) return {"barm " BARM_VERSION "\n", "", done};
  if (common.help || common.open_api || common.rest.empty() || common.rest[0] == "help")
    return help(common, voice, findings);

  const Operation* operation = find_operation(common.rest, findings);
  if (operation == nullptr) return told(refused(findings, voice), common.json);
  const Given given = read_fields(*operation, {common.rest.begin() + 2, common.rest.end()}, findings);
  operations::Request request{.language = common.language, .customs = common.customs};
  auto document = findings.refused() ? std::nullopt : document_of(given, world, findings);
  if (document) request.document = std::move(*document);
  if (document && findings.refused()) {  // an option over the file is wrong: what else is wrong is told with it
    for (auto& why : operation->wrong_with(request, world)) findings.refuse(std::move(why));
  }
  if (findings.refused()) return told(refused(findings, voice), common.json, operation);
  return told(operation->ask(request, world), common.json, operation);
}

}  // namespace

Outcome run(const std::vector<std::string>& words, const operations::World& world) {
  try {
    return run_told(words, world);
  } catch (const std::exception& fault) {
    const bool spanish = std::find(words.begin(), words.end(), "es") != words.end();
    const Voice voice{.words = world.words, .language = spanish ? cards::Language::spanish : cards::Language::english};
    const Remark remark{"operations.command.fault", "", {{"detail", std::string(fault.what())}}};
    return {"", voice.say(remark) + "\n" + voice.next(remark) + "\n", our_fault};
  }
}

}  // namespace barm::cli
