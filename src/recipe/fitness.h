// Whether a brew is fit to use, by what can be read, smelt and seen of it. A first verdict: it never shows what germs
// are in it. Rules and their grounds: docs/recipe/fitness.md
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "quantity/answer.h"

namespace barm::recipe {

enum class Smell : std::uint8_t { not_told, earthy, none, sweet, yeasty, sour, ammonia, rotten };
enum class Foam : std::uint8_t { not_told, none, thin, thick, overflowing };
enum class Look : std::uint8_t { not_told, usual, pale, film, slime };

/// The longest a verdict looks back [h]. judged: ten years; what is older is a slip of the date.
inline constexpr double looks_back_h = 87'660.0;

/// What is known of a brew now. What was not measured is unset.
struct Seen {
  double brewed_h = unset;                 // since air on, until it went off
  double air_off_h = unset;                // since the air stopped; unset: it runs
  double oxygen_mg_per_l = unset;          // the last reading
  double oxygen_lowest_mg_per_l = unset;   // of all readings while the air ran
  double oxygen_doubted_mg_per_l = unset;  // the newest reading, when no brew the forecast knows would show it
  double reading_age_h = unset;            // of the last reading of oxygen
  double probability_below_2 = unset;      // as forecast, readings counted in, 0 to 1
  double flat_after_soon_h = unset;        // after air off until 2 mg/L: 5 of 100 brews are there sooner
  double flat_after_h = unset;             // half of them
  double ph = unset;
  double conductivity_ms_per_cm = unset;
  double water_temperature_c = unset;
  double bacteria_per_ml = unset;     // cells, seen under the microscope
  double protozoa_per_ml = unset;     // flagellates and amoebae, seen on the slide
  double ciliates_per_ml = unset;     // that shows these
  double e_coli_per_ml = unset;       // the highest count
  double e_coli_most_per_ml = unset;  // the strictest limit of a rule for tea,
  std::string e_coli_rule{};          // its citation
  std::string e_coli_source{};        // and its keys of docs/sources.md
  bool germ_found = false;            // Salmonella or Listeria, by a laboratory
  Smell smell = Smell::not_told;
  Foam foam = Foam::not_told;
  Look look = Look::not_told;
};

enum class Fitness : std::uint8_t { fit, restricted, unfit };

/// What speaks for or against using it. `at_best` is what the brew can be in spite of it: `fit` for a mere remark.
struct Reason {
  Remark what{};
  Fitness at_best = Fitness::fit;
  std::string source{};  // key of docs/sources.md
};

struct Judged {
  Fitness fitness = Fitness::unfit;
  std::vector<Reason> reasons{};  // heaviest first
  std::vector<Remark> advice{};   // what to do next
  Remarks cautions{};
};

/// Judges by the heaviest reason. Without a reading of oxygen or without a smell it is `restricted` at best. A count
/// can only speak against a brew. Refuses numbers no brew can have.
Answer<Judged> judge_fitness(const Seen& seen);

}  // namespace barm::recipe
