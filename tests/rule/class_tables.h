// The two tables of docs/rule/class.md, made from the code: every combination of the class facts stands in exactly one
// row of the first, every status and contact in exactly one of the second.
#pragma once

#include <array>
#include <functional>
#include <string>
#include <vector>

#include "rule/tea_class.h"

namespace barm::rule {

struct ClassRow {
  std::array<std::string, 7> cells{};  // "any" where the fact does not matter
  TeaStatus status = TeaStatus::undetermined;
  int combinations_count = 0;
};

/// The facts in the order that splits best, and their words.
inline const std::array<std::vector<std::string>, 7>& class_words() {
  static const std::array<std::vector<std::string>, 7> words = {{{"yes", "no", "not known"},
                                                                 {"none", "composted", "validated", "not known"},
                                                                 {"yes", "no", "not known"},
                                                                 {"yes", "no", "not known"},
                                                                 {"yes", "no", "not known"},
                                                                 {"yes", "no", "not known"},
                                                                 {"yes", "no", "not known"}}};
  return words;
}
inline constexpr std::array<const char*, 7> class_columns = {"animal origin",   "process", "contaminated after",
                                                             "held over 1 h",   "food",    "untreated surface water",
                                                             "E. coli in water"};

inline TeaFacts facts_at(const std::array<int, 7>& at) {
  const auto known = [&](std::size_t i) { return static_cast<Known>(at[i]); };
  TeaFacts facts;
  facts.animal_origin = known(0);
  facts.process = static_cast<Process>(at[1]);
  facts.recontaminated = known(2);
  facts.held_over_an_hour = known(3);
  facts.food = known(4);
  facts.untreated_surface_water = known(5);
  facts.water_e_coli = known(6);
  return facts;
}

/// Calls `look` with every combination below a beginning of `fixed` facts.
inline void each_below(std::array<int, 7> at, std::size_t fixed,
                       const std::function<void(const std::array<int, 7>&)>& look) {
  if (fixed == at.size()) return look(at);
  for (std::size_t i = 0; i < class_words()[fixed].size(); ++i) {
    at[fixed] = static_cast<int>(i);
    each_below(at, fixed + 1, look);
  }
}

inline void split(std::array<int, 7> at, std::size_t fixed, std::vector<ClassRow>& rows) {
  int count = 0;
  bool is_one = true;
  TeaStatus first = TeaStatus::undetermined;
  each_below(at, fixed, [&](const std::array<int, 7>& full) {
    const TeaStatus status = classify(facts_at(full)).status;
    if (count++ == 0) first = status;
    is_one = is_one && status == first;
  });
  if (is_one) {
    ClassRow row{.status = first, .combinations_count = count};
    for (std::size_t i = 0; i < at.size(); ++i)
      row.cells[i] = i < fixed ? class_words()[i][static_cast<std::size_t>(at[i])] : "any";
    rows.push_back(row);
    return;
  }
  for (std::size_t i = 0; i < class_words()[fixed].size(); ++i) {
    at[fixed] = static_cast<int>(i);
    split(at, fixed + 1, rows);
  }
}

inline std::vector<ClassRow> class_rows() {
  std::vector<ClassRow> rows;
  split({}, 0, rows);
  return rows;
}

inline std::string line(const std::vector<std::string>& cells) {
  std::string text = "|";
  for (const auto& cell : cells) text += " " + cell + " |";
  return text + "\n";
}

inline std::string class_table() {
  std::vector<std::string> head(class_columns.begin(), class_columns.end());
  head.insert(head.end(), {"class", "combinations"});
  std::string text = line(head) + line(std::vector<std::string>(head.size(), "---"));
  for (const auto& row : class_rows()) {
    std::vector<std::string> cells(row.cells.begin(), row.cells.end());
    cells.push_back("`" + std::string(word(row.status)) + "`");
    cells.push_back(std::to_string(row.combinations_count));
    text += line(cells);
  }
  return text;
}

inline std::string contact_table() {
  static constexpr std::array during_words = {"none", "minimised", "contact", "not known"};
  static constexpr std::array after_words = {"none", "minimised", "possible", "not known"};
  const std::vector<std::string> head = {"class",        "contact while applying", "contact afterwards",
                                         "may go there", "days to wait",           "keep contact small"};
  std::string text = line(head) + line(std::vector<std::string>(head.size(), "---"));
  std::vector<std::pair<std::string, TeaClass>> classes;
  for (const auto status :
       {TeaStatus::not_animal_origin, TeaStatus::treated_a, TeaStatus::treated_b, TeaStatus::untreated})
    classes.push_back({"`" + std::string(word(status)) + "`", {.status = status, .possible = {status}}});
  classes.push_back(
      {"`undetermined`: `treated_b` or `untreated`", {.possible = {TeaStatus::treated_b, TeaStatus::untreated}}});
  classes.push_back({"`undetermined`: animal origin not known", classify({.process = Process::none})});
  classes.push_back({"`undetermined`: the rule is silent", {.possible = {TeaStatus::undetermined}}});
  for (const auto& [name, tea] : classes) {
    for (std::size_t during = 0; during < during_words.size(); ++during) {
      for (std::size_t after = 0; after < after_words.size(); ++after) {
        const auto told = may_apply(tea, {static_cast<During>(during), static_cast<After>(after)});
        text += line({name, during_words[during], after_words[after], std::string(word(told.permitted)),
                      std::string(word(told.wait)), told.minimise ? "yes" : "no"});
      }
    }
  }
  return text;
}

}  // namespace barm::rule
