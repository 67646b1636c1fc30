// The words for everything the program has to say, in each language. They stand in data/messages/*.toml, one entry a
// code; the rooms below only name codes and facts. Form of an entry: docs/operations/messages.md
#pragma once

#include <cstdint>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "quantity/answer.h"
#include "quantity/text.h"

namespace barm::cards {

/// A quantity as it is told: between five minutes and an hour a watch shows whole minutes; all else stays as it is.
Quantity as_told(Quantity quantity);

enum class Language : std::uint8_t { english, spanish };

class Catalogue {
 public:
  /// The catalogue the program carries.
  static Catalogue embedded();
  /// From the texts of message files. A broken entry, or a code met twice, is our fault: throws BrokenPromise naming
  /// it.
  static Catalogue read(const std::vector<std::string>& tomls);

  bool has(std::string_view code) const;
  std::vector<std::string> codes() const;

  /// What there is to say, its quantities in the garden's measures. `{given}` in an entry stands for the fact of that
  /// name,
  /// `{field}` for the input field, `{kind:records.kind}` for names told by the words under that code and
  /// `{kind+records.kind}` for names to type, with those words beside them; a part in square brackets is left out when
  /// a fact it names is absent. A code without an entry, or a fact named outside brackets and absent, is our fault:
  /// throws BrokenPromise.
  std::string text(const Remark& remark, Language language, const Customs& customs = {}) const;
  /// What to do about it; empty when the entry has nothing to advise.
  std::string next(const Remark& remark, Language language, const Customs& customs = {}) const;
  /// "refusal", "doubt", "warning", "caution", "step", "note", "headline", "mend" or "label".
  const std::string& kind(std::string_view code) const;

 private:
  struct Entry {
    std::string kind, english, spanish, next_english, next_spanish;
  };
  void add(const std::string& toml);
  const Entry& entry(std::string_view code) const;

  std::map<std::string, Entry, std::less<>> entries_;
};

}  // namespace barm::cards
