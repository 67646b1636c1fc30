// Brews made up from what is known beforehand, and the readings somebody would have taken of them.
#pragma once

#include <boost/math/distributions/normal.hpp>
#include <cmath>
#include <random>

#include "brew/brews.h"
#include "brew/hearing.h"
#include "brew/learn.h"

namespace barm::test {

inline const brew::Instruments& instruments() {
  static const brew::Instruments all = brew::Instruments::read(data::file("instruments.toml"));
  return all;
}

/// A setup with one true brew and the meters it is read with.
struct TrueBrew {
  brew::Setup setup;
  std::vector<double> scores;  // of the brew's unknowns and the meters'
  std::vector<brew::LogReading> readings;
};

/// Draws a truth and reads it at the hours given, noise and gross errors as data/instruments.toml has them.
inline TrueBrew true_brew(const brew::Setup& setup, std::vector<brew::LogReading> wanted, std::uint64_t seed) {
  std::mt19937_64 random(seed);
  std::normal_distribution<double> normal;
  std::uniform_real_distribution<double> uniform;
  TrueBrew brew{.setup = setup, .scores = {}, .readings = wanted};
  const brew::Unknowns unknowns(setup, priors());
  const brew::Hearing hearing(setup, priors(), unknowns, instruments(), wanted);
  for (int i = 0; i < hearing.unknown_count(); ++i) brew.scores.push_back(normal(random));
  const std::vector<double> shown = hearing.shown(1, brew.scores);
  for (std::size_t i = 0; i < wanted.size(); ++i) {
    double value = shown[i] + hearing.noise(i) * normal(random);
    const bool is_count = wanted[i].what == brew::Measured::bacteria || wanted[i].what == brew::Measured::protozoa;
    if (uniform(random) < instruments().gross_share) value = uniform(random) * hearing.gross_range(i);
    brew.readings[i].value = is_count ? std::exp(value) : std::max(0.0, value);
  }
  return brew;
}

inline std::vector<brew::LogReading> readings_at(brew::Measured what, std::vector<double> hours) {
  std::vector<brew::LogReading> readings;
  for (const double at_h : hours) readings.push_back({.what = what, .at_h = at_h, .value = 1.0});
  return readings;
}

}  // namespace barm::test
