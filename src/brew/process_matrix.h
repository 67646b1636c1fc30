// The process matrix: every brew, tank or settling pond described as processes (rows) that turn components (columns)
// into one another. The rate of change of a component is the sum over processes of coefficient times rate, so what a
// row keeps in balance the whole model keeps in balance. Form: Petersen matrix as used by the activated sludge models
// (S53).
//
// A system names at compile time which coefficients are not zero and which components each rate depends on; the sums
// below then unroll into straight lines with no test and no multiplication by nothing.
#pragma once

#include <array>
#include <cstddef>
#include <utility>

namespace barm::brew {

/// A place in a sparse matrix.
struct Cell {
  int row;
  int column;
};

/// Product of the coefficient `coefficient` and the slope `slope`, added to the Jacobian cell of (state, of).
struct SlopeTerm {
  int coefficient;
  int slope;
  int state;
  int of;
};

/// What follows from a system's two lists: `coefficients` (process, state) and `slopes` (process, state it depends on).
/// A system provides:
///   static constexpr int state_count, process_count;
///   static constexpr std::array<Cell, K> coefficients;  K stoichiometric coefficients, values are per member
///   static constexpr std::array<Cell, L> slopes;        L partial derivatives of rates
template <class System>
struct MatrixPlan {
  static constexpr std::size_t coefficient_count = System::coefficients.size();
  static constexpr std::size_t slope_count = System::slopes.size();

  static constexpr std::size_t count_terms() {
    std::size_t terms = 0;
    for (const Cell& c : System::coefficients)
      for (const Cell& s : System::slopes)
        if (c.row == s.row) ++terms;
    return terms;
  }
  static constexpr std::size_t term_count = count_terms();

  static constexpr std::array<SlopeTerm, term_count> list_terms() {
    std::array<SlopeTerm, term_count> terms{};
    std::size_t n = 0;
    for (std::size_t c = 0; c < coefficient_count; ++c)
      for (std::size_t s = 0; s < slope_count; ++s)
        if (System::coefficients[c].row == System::slopes[s].row)
          terms[n++] = {static_cast<int>(c), static_cast<int>(s), System::coefficients[c].column,
                        System::slopes[s].column};
    return terms;
  }
  static constexpr std::array<SlopeTerm, term_count> terms = list_terms();

  /// Which cells of the Jacobian may differ from zero; the diagonal always counts.
  static constexpr auto list_pattern() {
    std::array<std::array<bool, System::state_count>, System::state_count> pattern{};
    for (int i = 0; i < System::state_count; ++i)
      pattern[static_cast<std::size_t>(i)][static_cast<std::size_t>(i)] = true;
    for (const SlopeTerm& t : terms) pattern[static_cast<std::size_t>(t.state)][static_cast<std::size_t>(t.of)] = true;
    return pattern;
  }
  static constexpr auto pattern = list_pattern();
};

}  // namespace barm::brew
