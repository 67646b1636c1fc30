// One possible brew: a setup with every unknown drawn, as the solver wants it. Equations: docs/brew/model.md,
// section 4.
#pragma once

#include <array>
#include <span>
#include <vector>

#include "brew/priors.h"
#include "brew/setup.h"
#include "brew/tea.h"

namespace barm::brew {

/// The unknowns of a brew, in the order they are drawn: what belongs to this setup first (transfer, each compost, each
/// food), then the model's own parameters. The first ones matter most, and the first dimensions of the points fill
/// best.
class Unknowns {
 public:
  Unknowns(const Setup& setup, const Priors& priors);
  int count() const { return static_cast<int>(list_.size()); }
  const Prior& at(int i) const {
    return list_[static_cast<std::size_t>(i)];
  }  // symbols: "kla", "compost1.cells", "food2.cod", "mu_B"

  /// Values from a point of the unit cube, with correlated parameters tied together.
  std::vector<double> values(std::span<const double> point) const;
  /// The same from independent standard normal scores, one for each unknown.
  std::vector<double> values_of_scores(std::span<const double> scores) const;
  /// The middle of each prior.
  std::vector<double> middles() const;
  /// Place of a symbol among the unknowns; -1 when it is not one (fixed).
  int place_of(std::string_view symbol) const;

 private:
  std::vector<Prior> list_;
  struct Tie {
    int first, second;
    double rho;
  };
  std::vector<Tie> ties_;
};

/// What does not differ between the members of a setup, worked out once.
class MemberBuilder {
 public:
  MemberBuilder(const Setup& setup, const Priors& priors, const Unknowns& unknowns);

  struct Member {
    std::vector<double> parameters, coefficients, start;
    double cell_pg_cod = unset;  // COD of a bacterial cell
  };
  Member build(std::span<const double> values) const;
  /// States that dose `index` of the setup's foods adds when it goes in.
  std::vector<double> addition(std::size_t index, std::span<const double> values) const;
  /// What a room so warm adds to the parameters that may change on the way. A cool room's air keeps the moisture it
  /// has, as far as it can hold it.
  std::array<double, tea::System::shifted.size()> room_shift(double temperature_c) const;

 private:
  void add_food(const FoodDose& dose, double cod_g_per_g, std::span<double> states) const;

  Setup setup_;
  std::size_t first_compost_ = 0, first_food_ = 0;  // places among the unknowns
  std::vector<int> places_;                         // of each known symbol among the unknowns; -1: fixed
  std::vector<double> fixed_;                       // its middle
  std::vector<double> saturation_, moisture_;       // polynomials in degC
  double moisture_in_ = unset;
};

}  // namespace barm::brew
