#include "operations/help.h"

#include <fmt/format.h>

#include <algorithm>

namespace barm::operations {
namespace {

std::string upper(std::string text) {
  std::transform(text.begin(), text.end(), text.begin(),
                 [](unsigned char c) { return static_cast<char>(std::toupper(c)); });
  return text;
}

std::string quoted(const std::string& sample) {
  return sample.find(' ') == std::string::npos ? sample : "\"" + sample + "\"";
}

/// What may be written beside the meaning: needed or the usual value, bounds, choices.
std::string remarks_on(const InputField& field, const Voice& voice) {
  std::string text;
  const auto add = [&](const std::string& more) { text += (text.empty() ? "" : " ") + more; };
  if (field.kind == Kind::list) add(voice.say("operations.help.word.list"));
  if (field.required) add(voice.say("operations.help.word.needed"));
  if (!field.otherwise.empty()) add(voice.say("operations.help.word.otherwise", {{"given", field.otherwise}}));
  if (!field.choices.empty())
    add(voice.say("operations.help.word.choices", {{"allowed", fmt::format("{}", fmt::join(field.choices, ", "))}}));
  Remark bounds{field.limits.above ? "operations.input.not_above" : "", "", {}};
  const Dimension dimension = field.kind == Kind::amount ? Dimension::number : field.dimension;
  if (field.limits.least) bounds.facts.emplace("least", Quantity{*field.limits.least, dimension});
  if (field.limits.most) bounds.facts.emplace("most", Quantity{*field.limits.most, dimension});
  if (const auto allowed = allowed_text(bounds, voice); !allowed.empty())
    add(voice.say("operations.help.word.range", {{"allowed", allowed}}));
  if (!field.bare_unit.empty()) add(voice.say("operations.help.word.bare", {{"unit", field.bare_unit}}));
  return text;
}

std::string input_lines(const std::vector<InputField>& fields, const Voice& voice, const std::string& indent) {
  std::string text;
  for (const auto& field : fields) {
    const auto name = indent == "  " && field.kind != Kind::rows ? option_name(field) : field.name;
    const auto sample = field.positional || field.kind == Kind::rows ? "" : " " + quoted(field.sample);
    text += indent + (field.kind == Kind::rows ? field.sample : name) + sample + "\n";
    std::string meaning = voice.say(field.code);
    if (std::isalnum(static_cast<unsigned char>(meaning.back())) || meaning.back() == ')') meaning += ".";
    text += indent + "    " + meaning + " " + remarks_on(field, voice) + "\n";
    text += input_lines(field.columns, voice, indent + "    ");
  }
  return text;
}

std::string answer_lines(const std::vector<AnswerField>& fields, const Voice& voice, const std::string& indent) {
  std::string text;
  for (const auto& field : fields) {
    const auto unit = field.unit.empty() ? "" : " [" + field.unit + "]";
    text += fmt::format("{}{}{}: {}\n", indent, field.name, unit, voice.say(field.code));
    text += answer_lines(field.inside, voice, indent + "  ");
  }
  return text;
}

std::string usage(const Operation& operation) {
  std::string line = "barm " + operation.name();
  if (operation.takes_document) line += " FILE";
  for (const auto& field : operation.inputs) {
    if (field.positional) line += " " + option_name(field);
  }
  for (const auto& field : operation.inputs) {
    if (field.required && !field.positional && !operation.takes_document)
      line += " " + option_name(field) + " " + quoted(field.sample);
  }
  return line + " [--...]";
}

void markdown_inputs(const std::vector<InputField>& fields, const Voice& voice, const std::string& prefix,
                     std::string& page) {
  for (const auto& field : fields) {
    const std::string name = prefix + field.name;
    const auto sample = field.kind == Kind::rows ? field.sample : quoted(field.sample);
    page += fmt::format("| `{}` | `{}` | {} {} |\n", name, sample, voice.say(field.code), remarks_on(field, voice));
    markdown_inputs(field.columns, voice, name + "[].", page);
  }
}

void markdown_answer(const std::vector<AnswerField>& fields, const Voice& voice, const std::string& prefix,
                     std::string& page) {
  for (const auto& field : fields) {
    const std::string name = prefix + field.name;
    page += fmt::format("| `{}` | {} | {} |\n", name, field.unit.empty() ? "" : "`" + field.unit + "`",
                        voice.say(field.code));
    markdown_answer(field.inside, voice, name + (field.kind == Told::list ? "[]." : "."), page);
  }
}

}  // namespace

std::string option_name(const InputField& field) {
  if (field.positional) return upper(field.name);
  std::string name = field.name;
  std::replace(name.begin(), name.end(), '_', '-');
  return "--" + name;
}

std::string help_all(const std::vector<Operation>& operations, const Voice& voice) {
  std::string text = voice.say("operations.help.barm") + "\n\n";
  std::string noun;
  for (const auto& operation : operations) {
    if (operation.noun != noun) text += fmt::format("{}{}\n", noun.empty() ? "" : "\n", operation.noun);
    noun = operation.noun;
    text += fmt::format("  barm {:<28} {}\n", operation.name(), voice.say(operation.code()));
  }
  return text + "\n" + voice.say("operations.help.common") + "\n" + voice.say("operations.help.more") + "\n";
}

std::string help_noun(const std::vector<Operation>& operations, const std::string& noun, const Voice& voice) {
  std::string text;
  for (const auto& operation : operations) {
    if (operation.noun == noun) text += fmt::format("barm {:<28} {}\n", operation.name(), voice.say(operation.code()));
  }
  return text + "\n" + voice.say("operations.help.more") + "\n";
}

std::string help_operation(const Operation& operation, const Voice& voice) {
  std::string text = voice.say(operation.code()) + "\n\n  " + usage(operation) + "\n\n" +
                     voice.say("operations.help.word.inputs") + "\n";
  text += input_lines(operation.inputs, voice, "  ");
  text += "\n" + voice.say("operations.help.common") + "\n\n" + voice.say("operations.help.word.answer") + "\n";
  text += answer_lines(operation.answer, voice, "  ");
  text += "\n" + voice.say("operations.help.word.examples") + "\n";
  for (const auto& example : operation.examples) text += "  barm " + example.command + "\n";
  return text;
}

std::string reference_page(const std::vector<Operation>& operations, const cards::Catalogue& words) {
  const Voice voice{.words = &words};
  std::string page =
      "# Operations\n\nMade by `barm help --reference` from the descriptions in `src/operations/`; a test fails when "
      "it is stale.\n";
  page += "Keys are those of a plan file, a request body and the JSON answer; on a command line a key is an option\n";
  page += "(`water.free_chlorine` is `--water.free-chlorine`). " + voice.say("operations.help.word.quantities") + "\n";
  for (const auto& operation : operations) {
    page += fmt::format("\n## {}\n\n{}\n\n```sh\n", operation.name(), voice.say(operation.code()));
    for (const auto& example : operation.examples) page += "barm " + example.command + "\n";
    page += "```\n\n| you tell it | for instance | meaning |\n|---|---|---|\n";
    markdown_inputs(operation.inputs, voice, "", page);
    page += "\n| it answers | unit | meaning |\n|---|---|---|\n";
    markdown_answer(operation.answer, voice, "", page);
  }
  return page;
}

}  // namespace barm::operations
