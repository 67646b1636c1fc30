// What is known of each model parameter before this brew is watched: a distribution, its bounds and its source.
// Figures: data/model.toml
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "quantity/answer.h"

namespace barm::brew {

enum class Shape : std::uint8_t { fixed, triangular, log_triangular, log_uniform };

struct Prior {
  std::string symbol;              // "mu_B"
  std::string meaning, unit;
  Shape shape = Shape::fixed;
  double middle = unset, low = unset, high = unset;
  std::string source;
};

class Priors {
 public:
  /// Reads data/model.toml. A broken file is our fault: throws BrokenPromise naming the entry.
  static Priors read(std::string_view toml);
  const std::vector<Prior>& all() const { return priors_; }
  const Prior& of(std::string_view symbol) const;

 private:
  std::vector<Prior> priors_;
};

}  // namespace barm::brew
