// A question or act, described once: its inputs, its answer, its function. Every door (command, HTTP) sees only this.
#pragma once

#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "operations/field.h"
#include "operations/outputs.h"
#include "operations/voice.h"
#include "operations/world.h"

namespace barm::operations {

/// What is asked, and how the answer should be told. A document may tell its own customs, which then hold.
struct Request {
  Document document{};
  cards::Language language = cards::Language::english;
  Customs customs{};
};

/// An answer ready for any door, or the reasons why there is none.
struct Result {
  std::optional<Json> answer{};  // the described fields; `doubts` is added by `to_json`
  std::string text{};            // the answer in words
  Remarks doubts{}, refusals{};
  std::map<std::string, TextPlace> places{};  // where in the document each field stood
  Voice voice{};                              // in which it was told

  bool ok() const { return answer.has_value(); }
  /// Refused because a file or device failed, rather than because the input is wrong.
  bool world_failed() const;
};

/// The whole result as JSON: the answer with its doubts, or {"refusals": [...]}, each with its line where there is one.
Json to_json(const Result& result);

/// The typed half of an operation, which only `define` sees.
class Body {
 public:
  virtual ~Body() = default;
  virtual Result ask(const Request& request, const World& world) const = 0;
  virtual Remarks wrong_with(const Request& request, const World& world) const = 0;
};

struct Example {  // a command line that works, after "barm"
  std::string command{};
};

struct Operation {
  std::string noun{}, verb{};
  std::vector<InputField> inputs{};
  std::vector<Alternatives> alternatives{};
  std::vector<AnswerField> answer{};
  std::vector<Example> examples{};
  std::string words_of{};       // "brew plan" when fields mean what they mean there; empty: own words
  bool takes_document = false;  // on a command line its inputs come from a file named first; options override it
  bool at_hand_only = false;    // works on files of the machine itself, so that a server does not offer it
  std::shared_ptr<const Body> body{};

  /// As people type it: "water oxygen", "record add bed".
  std::string name() const;
  /// Code of its purpose in the catalogue; a field's meaning is this and ".field", an answer's this and
  /// ".answer.field".
  std::string code() const { return "operations.help." + noun + "." + verb; }
  Result ask(const Request& request, const World& world) const { return body->ask(request, world); }
  /// What is wrong with the inputs, without answering or doing anything.
  Remarks wrong_with(const Request& request, const World& world) const { return body->wrong_with(request, world); }
};

/// How one operation is put together.
template <class In, class Out>
struct Description {
  std::string noun{}, verb{};
  Inputs<In> inputs{};
  Outputs<Out> outputs{};
  std::function<Answer<Out>(const In&, const World&)> answer{};
  /// Names that can be looked up though other fields are wrong, so that everything wrong is told at once. Left out:
  /// none.
  std::function<Remarks(const In&, const World&)> look_up{};
  /// What is done with the answer beside telling it, in the asker's words: a card written to a file. Left out: nothing.
  std::function<Answer<bool>(const In&, const Out&, const World&, const Voice&)> act{};
  /// The answer in words; left out: a line for each field.
  std::function<std::string(const Out&, const Voice&)> tell{};
  std::vector<Example> examples{};
  bool takes_document = false;
  std::string words_of{};     // as in Operation
  bool at_hand_only = false;  // as in Operation
};

/// What was given may hold any bytes, or end within a character where it was cut: made fit to be told.
Remarks fit_to_tell(Remarks remarks);
/// Gives every field the code of its meaning.
void give_codes(Operation& operation);
/// What stands under `name` in an answer means what it means elsewhere: gives it the codes below `code`, which ends
/// with a dot.
void share_meanings(std::vector<AnswerField>& answer, const std::string& name, std::string code);
/// A line of the answer in words: what it is, and how much.
std::string answer_line(const AnswerField& field, const std::string& said, const Voice& voice);

template <class In, class Out>
Operation define(Description<In, Out> description) {
  Operation operation{.noun = description.noun,
                      .verb = description.verb,
                      .inputs = description.inputs.fields(),
                      .alternatives = description.inputs.alternatives(),
                      .answer = description.outputs.fields(),
                      .examples = description.examples,
                      .words_of = description.words_of,
                      .takes_document = description.takes_document,
                      .at_hand_only = description.at_hand_only};
  give_codes(operation);

  class Typed : public Body {
   public:
    Typed(Description<In, Out> what, std::vector<AnswerField> fields)
        : what_(std::move(what)), fields_(std::move(fields)) {}

    Result ask(const Request& request, const World& world) const override {
      Result result{.places = request.document.places, .voice = {world.words, request.language, request.customs}};
      Findings findings;
      Reading reading(request.customs, findings);
      const In in = read(request, world, reading, findings);
      result.voice.customs = reading.customs();
      const std::optional<Out> out = findings.refused() ? std::nullopt : findings.take(what_.answer(in, world));
      const bool acted = !out || !what_.act || findings.take(what_.act(in, *out, world, result.voice));
      result.refusals = fit_to_tell(findings.refusals());
      result.doubts = fit_to_tell(findings.doubts());
      if (!out || !acted) return result;
      result.answer = what_.outputs.json(*out, result.voice);
      result.text = what_.tell ? what_.tell(*out, result.voice) : lines(*out, result.voice);
      return result;
    }

    Remarks wrong_with(const Request& request, const World& world) const override {
      Findings findings;
      Reading reading(request.customs, findings);
      read(request, world, reading, findings);
      return findings.refusals();
    }

   private:
    In read(const Request& request, const World& world, Reading& reading, Findings& findings) const {
      In in = what_.inputs.read(request.document.tree, reading);
      reading.compare_clocks();
      if (findings.refused() && what_.look_up) {
        for (auto& why : what_.look_up(in, world)) findings.refuse(std::move(why));
      }
      return in;
    }
    std::string lines(const Out& out, const Voice& voice) const {
      std::string text;
      for (const auto& field : fields_) {
        const auto said = what_.outputs.say(field.name, out, voice);
        if (!said.empty()) text += answer_line(field, said, voice);
      }
      return text;
    }
    Description<In, Out> what_;
    std::vector<AnswerField> fields_;
  };
  operation.body = std::make_shared<Typed>(std::move(description), operation.answer);
  return operation;
}

/// Findings of a lower room, told about the input field they belong to: {{"temperature", "water.temperature"}}. A field
/// not in the list keeps its name.
Remarks retarget(Remarks remarks, const std::map<std::string, std::string>& fields);
template <class T>
Answer<T> retarget(Answer<T> answer, const std::map<std::string, std::string>& fields) {
  if (!answer.ok()) return Answer<T>::refused(retarget(answer.refusals(), fields));
  return Answer<T>(std::move(answer.value()), retarget(answer.doubts(), fields));
}

}  // namespace barm::operations
