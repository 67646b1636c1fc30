// The search for a design: every mix tried is remembered, so that each forecast serves every question asked of it.
#pragma once

#include <deque>
#include <map>
#include <optional>
#include <vector>

#include "recipe/designing.h"

namespace barm::recipe {

/// One length of one mix.
struct Pick {
  const Tried* tried = nullptr;
  std::size_t outcome = 0;
  const Outcome& told() const { return tried->outcomes[outcome]; }
};

/// Brews without any food, with some, or both.
enum class Branch : std::uint8_t { any, plain, fed };

/// What a search is after.
struct Want {
  Role role = Role::best;
  Branch branch = Branch::any;
  double tolerance = unset;  // least share of brews above 6 mg/L throughout
  double yield_least = 0.0;
  std::vector<Pick> unlike{};                       // designs it must really differ from
  bool oxygen_counts = true, window_counts = true;  // whether those lines hold; for finding out what is in the way
};

/// How unlike two brews are: 1 where one amount differs by a quarter or the lengths by two hours.
double unlikeness(const Pick& one, const Pick& other);

class Tryouts {
 public:
  Tryouts(const Draft& draft, const DesignHelp& help, int expected_count)
      : draft_(draft), help_(help), expected_count_(expected_count) {}

  const Draft& draft() const { return draft_; }
  const DesignHelp& help() const { return help_; }
  int tried_count() const { return tried_count_; }
  bool is_stopped() const { return is_stopped_; }

  /// Tries a mix out unless it has been. Only mixes of measurable amounts can be found again below.
  const Tried& of(const Mix& mix, bool is_measurable = true);
  /// How far a pick misses what is wanted; 0 when it meets every line.
  double missing(const Pick& pick, const Want& want) const;
  /// What is wanted, more of it the better; meaningful between picks that miss nothing.
  double merit(const Pick& pick, const Want& want) const;
  /// The length of a mix with the best merit less what it misses, and that figure.
  std::optional<Pick> best_length(const Tried& tried, const Want& want) const;
  double score(const Pick& pick, const Want& want) const;

  /// Of all tried, those that miss nothing, best first.
  std::vector<Pick> ranked(const Want& want) const;
  /// Of all tried in the branch, the one with the best score though it may miss something.
  std::optional<Pick> nearest(const Want& want) const;
  /// The same among the mixes of the very same foods.
  std::optional<Pick> nearest_of(const Mix& foods, const Want& want) const;
  /// All of the branch, the best score first, each mix at its best length.
  std::vector<Pick> by_score(const Want& want) const;

 private:
  /// How far oxygen misses its line. For the ask's own tolerance told in oxygen, not in brews, so that it has no steps.
  double below_6(const Outcome& told, double tolerance) const;
  const Draft& draft_;
  const DesignHelp& help_;
  int expected_count_;
  int tried_count_ = 0;
  bool is_stopped_ = false;
  std::map<Mix, Tried> tried_;
};

/// How many forecasts each part of a search may take.
struct Effort {
  int everywhere = 0;  // DIRECT-L over the whole shelf
  int growing = 0;     // Subplex, food after food
  int nearby = 0;      // Subplex from the best so far
  int kitchen = 0;     // from measure to measure until none is better
};
/// Looks for what is wanted. NLopt: DIRECT-L (Gablonsky and Kelley 2001) and Subplex (Rowan 1990), neither uses chance.
void search(Tryouts& tryouts, Want want, const Effort& effort);
Effort effort_for(std::size_t choosable_count, Role role);

}  // namespace barm::recipe
