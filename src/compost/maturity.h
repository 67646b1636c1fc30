// Whether a compost is finished and worth brewing: what the signs say, how it will draw oxygen, and of which character
// it is. Method and sources: docs/compost/maturity.md
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "compost/kind.h"
#include "quantity/answer.h"

namespace barm::compost {

enum class Smell : std::uint8_t { not_told, earthy, none, sweet, sour, ammonia, rotten };
enum class Grade : std::uint8_t { finished, maturing, raw };

/// The two lines of a sign, from data/maturity.toml.
struct SignLines {
  std::string id{};
  double finished = unset, raw = unset;  // where `raw` is lower, less is worse
  std::string source{};
  bool is_confirmed() const;  // whether the source of both was looked at
  Grade grade(double value) const;
};
/// A broken file is our fault: throws BrokenPromise naming the entry.
std::vector<SignLines> read_maturity(std::string_view toml);

struct MaturityAsk {  // what was measured or seen; unset: nobody did
  double pile_c = unset, air_c = unset;
  double cn = unset;
  double respiration_mg_per_g_d = unset;  // carbon as carbon dioxide, of organic matter
  double respiration_at_c = unset;        // of the test; unset: 25, which tells more at 20 degC than a warmer one
  double uptake_mg_per_g_h = unset;       // oxygen, of volatile solids, at 20 degC
  double germination_share = unset;       // of the control
  double ammonium_mg_per_kg = unset, nitrate_mg_per_kg = unset;  // nitrogen, of the dry matter
  double age_d = unset;
  Smell smell = Smell::not_told;
  double moisture_share = unset, volatile_share = unset;     // of the moist mass; of the dry matter
  double bacteria_ug_per_g = unset, fungi_ug_per_g = unset;  // dry mass of each, per gram dry
  double woody_share = unset;                                // of what it was made from, by volume
  double mass_g = unset, water_l = unset;                    // of the brew in mind
};

struct SignTold {
  std::string id{};
  double value = unset, finished = unset, raw = unset;
  Grade grade = Grade::finished;
  bool less_is_worse = false;
  bool is_confirmed = false;  // whether the source of its lines was looked at
};

enum class Worth : std::uint8_t { suitable, with_care, not_yet, not_known };
enum class Character : std::uint8_t { bacterial, balanced, fungal, not_known };
enum class Evidence : std::uint8_t { none, made_from, counted };

struct MaturityTold {
  Worth worth = Worth::not_known;
  std::vector<SignTold> signs{};        // in the order of the data
  double uptake_mg_per_g_vs_h = unset;  // at 20 degC, as a plan takes it; unset: not measured
  double uptake_over_usual = unset;     // over that of the usual mixed compost
  double load_mg_per_l_h = unset;       // oxygen drawn by the solids in the brew in mind, at 20 degC
  Character character = Character::not_known;
  Evidence evidence = Evidence::none;
  double fungi_to_bacteria = unset;
};

/// Oxygen uptake at 20 degC of what gives off so much carbon dioxide [mg O2 per g and h]: 32/12 of the carbon (as much
/// oxygen as carbon dioxide, S92), doubled or halved every 10 degC (S92).
double uptake_of_respiration(double respiration_mg_per_g_d, double at_c);

/// The worst sign decides: `not_yet` for a raw one or a foul smell, `with_care` for one that is getting there,
/// `suitable` where heat or respiration, and germination or ammonium, and the smell all say finished, `not_known` where
/// one of these is missing. Smell: sour, ammonia and rotten are raw. Character: dry mass of fungi over bacteria below
/// 0.3 bacterial, above 1 fungal (judged); without counts, made from less than 25 % or more than 50 % woody (judged).
/// Range of each field: `bounds` in maturity.cpp. Left out: salts, herbicides, metals, seeds, and germs: no sign here
/// tells of germs. Doubts: respiration without the temperature of its test, signs that contradict each other, a
/// character judged without counts. Refuses: nothing told, what is outside its range.
Answer<MaturityTold> judge_maturity(const MaturityAsk& ask, const std::vector<SignLines>& lines, const Kind& usual);

/// What was measured of a lot, to put in place of what its kind usually is.
struct LotMeasured {
  double moisture_share = unset;
  double uptake_mg_per_g_vs_h = unset;  // at 20 degC
  double bacteria_per_g = unset;        // of dry matter
  double bacteria_ln_error = unset;     // standard error of its logarithm; unset: 0.4, one counter against another
};
/// The kind with the spread of what was measured: moisture 10 % of it, uptake a factor of 1.5 (judged: from test to
/// test and from sample to sample), bacteria by their error.
Kind with_measured(Kind kind, const LotMeasured& measured);

}  // namespace barm::compost
