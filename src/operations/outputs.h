// Describes the answer of an operation by the members of the struct it comes in; from that one description the JSON
// answer, the answer in words, schema and reference are written.
#pragma once

#include <cmath>
#include <functional>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "cards/local_time.h"
#include "operations/inputs.h"
#include "operations/voice.h"

namespace barm::operations {

/// Unit of an answer: that of a dimension, or written out where no dimension has it ("mg/L/h").
struct AnswerUnit {
  AnswerUnit(Dimension of) : dimension(of), text(unit_inside(of)) {}  // NOLINT(google-explicit-constructor)
  AnswerUnit(const char* written)
      : dimension(Dimension::number), text(written) {}  // NOLINT(google-explicit-constructor)
  Dimension dimension;
  std::string text;
};

/// A number in words, in the garden's measures; a number that is not known says so.
std::string number_text(double value, Dimension dimension, const std::string& unit, const Voice& voice);

/// Numbers JSON can carry; what is not known (NaN) is null.
inline Json number_json(double value) {
  return std::isfinite(value) ? Json(value) : Json(nullptr);
}

template <class Out>
class Outputs {
 public:
  template <class Get>
  Outputs& number(std::string name, Get get, AnswerUnit unit) {
    say_[name] = [get, unit](const Out& out, const Voice& voice) {
      return number_text(get(out), unit.dimension, unit.text, voice);
    };
    return add({.name = std::move(name), .kind = Told::number, .unit = unit.text},
               [get](const Out& out, const Voice&) { return number_json(get(out)); });
  }
  template <class Get>
  Outputs& whole(std::string name, Get get) {
    say_[name] = [get](const Out& out, const Voice&) { return std::to_string(get(out)); };
    return add({.name = std::move(name), .kind = Told::whole},
               [get](const Out& out, const Voice&) { return Json(get(out)); });
  }
  template <class Get>
  Outputs& text(std::string name, Get get) {
    say_[name] = [get](const Out& out, const Voice&) { return std::string(get(out)); };
    return add({.name = std::move(name), .kind = Told::text},
               [get](const Out& out, const Voice&) { return Json(std::string(get(out))); });
  }
  /// Text that depends on the voice.
  template <class Get>
  Outputs& told(std::string name, Get get) {
    say_[name] = get;
    return add({.name = std::move(name), .kind = Told::text},
               [get](const Out& out, const Voice& voice) { return Json(get(out, voice)); });
  }
  template <class Get>
  Outputs& flag(std::string name, Get get) {
    say_[name] = [get](const Out& out, const Voice& voice) {
      return voice.say(get(out) ? "operations.told.yes" : "operations.told.no");
    };
    return add({.name = std::move(name), .kind = Told::flag},
               [get](const Out& out, const Voice&) { return Json(bool(get(out))); });
  }
  template <class Get, class E>
  Outputs& choice(std::string name, Get get, const Choices<E>& choices) {
    AnswerField field{.name = std::move(name), .kind = Told::choice};
    for (const auto& [word, value] : choices) field.choices.push_back(word);
    const auto word_of = [get, choices](const Out& out) {
      for (const auto& [word, value] : choices) {
        if (get(out) == value) return word;
      }
      throw BrokenPromise("an answer outside its choices");
    };
    say_[field.name] = [word_of](const Out& out, const Voice&) { return word_of(out); };
    return add(std::move(field), [word_of](const Out& out, const Voice&) { return Json(word_of(out)); });
  }
  /// `get` gives an optional Moment; null when there is none.
  template <class Get>
  Outputs& instant(std::string name, Get get) {
    return add({.name = std::move(name), .kind = Told::instant}, [get](const Out& out, const Voice&) {
      const std::optional<Moment>& moment = get(out);
      return moment ? Json(cards::iso_text(moment->at, moment->zone)) : Json(nullptr);
    });
  }
  template <class Get>
  Outputs& series(std::string name, Get get, AnswerUnit unit) {
    return add({.name = std::move(name), .kind = Told::series, .unit = unit.text}, [get](const Out& out, const Voice&) {
      Json all = Json::array();
      for (const double value : get(out)) all.push_back(number_json(value));
      return all;
    });
  }
  template <class Get>
  Outputs& texts(std::string name, Get get) {
    return add({.name = std::move(name), .kind = Told::texts},
               [get](const Out& out, const Voice&) { return Json(get(out)); });
  }
  template <class Get>
  Outputs& remarks(std::string name, Get get) {
    return add({.name = std::move(name), .kind = Told::remarks}, [get](const Out& out, const Voice& voice) {
      Json all = Json::array();
      for (const Remark& remark : get(out)) all.push_back(remark_json(remark, voice));
      return all;
    });
  }
  template <class Get, class Part>
  Outputs& object(std::string name, Get get, Outputs<Part> inside) {
    return add({.name = std::move(name), .kind = Told::object, .inside = inside.fields()},
               [get, inside](const Out& out, const Voice& voice) { return inside.json(get(out), voice); });
  }
  template <class Get, class Part>
  Outputs& list(std::string name, Get get, Outputs<Part> each) {
    return add({.name = std::move(name), .kind = Told::list, .inside = each.fields()},
               [get, each](const Out& out, const Voice& voice) {
                 Json all = Json::array();
                 for (const Part& part : get(out)) all.push_back(each.json(part, voice));
                 return all;
               });
  }

  const std::vector<AnswerField>& fields() const { return fields_; }

  Json json(const Out& out, const Voice& voice) const {
    Json answer = Json::object();
    for (std::size_t i = 0; i < fields_.size(); ++i) answer[fields_[i].name] = writers_[i](out, voice);
    return answer;
  }

  /// One field in words; empty for a kind that takes more than a line.
  std::string say(const std::string& name, const Out& out, const Voice& voice) const {
    const auto at = say_.find(name);
    return at == say_.end() ? std::string() : at->second(out, voice);
  }

 private:
  using Write = std::function<Json(const Out&, const Voice&)>;
  Outputs& add(AnswerField field, Write write) {
    fields_.push_back(std::move(field));
    writers_.push_back(std::move(write));
    return *this;
  }

  std::vector<AnswerField> fields_;
  std::vector<Write> writers_;
  std::map<std::string, std::function<std::string(const Out&, const Voice&)>> say_;
};

}  // namespace barm::operations
