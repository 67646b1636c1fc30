// What is known of each model parameter before this brew is watched: a distribution, its bounds and its source.
// Figures: data/model.toml
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "quantity/answer.h"

namespace barm::brew {

enum class Shape : std::uint8_t {
  fixed,
  triangular,      // mode `middle`, ends `low` and `high`
  log_triangular,  // the same for the logarithm
  log_uniform,     // the logarithm evenly between `low` and `high`
  log_normal,      // median `middle`, standard deviation of ln in `high` (for measured or estimated transfer)
};

/// The value below which a share `u` (0 to 1) of the distribution lies.
double quantile(Shape shape, double middle, double low, double high, double u);

struct Prior {
  std::string symbol;  // "mu_B"
  std::string meaning, unit;
  Shape shape = Shape::fixed;
  double middle = unset, low = unset, high = unset;
  std::string source;
  double at(double u) const { return quantile(shape, middle, low, high, u); }
};

/// Two parameters that hang together.
struct Correlation {
  std::string first, second;
  double rho = 0.0;  // of their normal scores
  std::string source;
};

class Priors {
 public:
  /// Reads data/model.toml. A broken file is our fault: throws BrokenPromise naming the entry.
  static Priors read(std::string_view toml);
  const std::vector<Prior>& all() const { return priors_; }
  const std::vector<Correlation>& correlations() const { return correlations_; }
  /// By symbol; an unknown one is our fault.
  const Prior& of(std::string_view symbol) const { return priors_[place_of(symbol)]; }
  std::size_t place_of(std::string_view symbol) const;

 private:
  std::vector<Prior> priors_;
  std::vector<Correlation> correlations_;
};

}  // namespace barm::brew
