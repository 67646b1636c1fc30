// LU factors of a small sparse matrix whose pattern is known when the program is built: elimination without pivoting as
// a straight line of multiplications, with fill-in found at compile time. Fit for I/(h gamma) - J, where the diagonal
// leads.
#pragma once

#include <array>
#include <cstddef>

namespace barm::brew {

template <std::size_t N>
using Pattern = std::array<std::array<bool, N>, N>;

/// Storage places and operations of the elimination, in order.
template <std::size_t N, Pattern<N> pattern>
struct EliminationPlan {
  struct Scale {
    int cell, pivot;  // cell *= 1 / pivot
  };
  struct Update {
    int cell, left, up;  // cell -= left * up
  };

  static constexpr Pattern<N> fill() {
    Pattern<N> p = pattern;
    for (std::size_t k = 0; k < N; ++k)
      for (std::size_t i = k + 1; i < N; ++i)
        if (p[i][k])
          for (std::size_t j = k + 1; j < N; ++j)
            if (p[k][j]) p[i][j] = true;
    return p;
  }
  static constexpr Pattern<N> filled = fill();

  static constexpr std::array<std::array<int, N>, N> number_cells() {
    std::array<std::array<int, N>, N> cells{};
    int next = 0;
    for (std::size_t i = 0; i < N; ++i)
      for (std::size_t j = 0; j < N; ++j) cells[i][j] = filled[i][j] ? next++ : -1;
    return cells;
  }
  static constexpr std::array<std::array<int, N>, N> cell = number_cells();

  static constexpr std::size_t count_cells() {
    std::size_t n = 0;
    for (const auto& row : filled)
      for (const bool there : row) n += there ? 1 : 0;
    return n;
  }
  static constexpr std::size_t cell_count = count_cells();

  /// One step of the elimination: either a row factor (scale) or an update.
  struct Step {
    int target, left, up;  // target -= left * up;  up < 0: target *= reciprocal of pivot `left`
  };
  static constexpr std::size_t count_steps() {
    std::size_t n = 0;
    for (std::size_t k = 0; k < N; ++k)
      for (std::size_t i = k + 1; i < N; ++i)
        if (filled[i][k]) {
          ++n;
          for (std::size_t j = k + 1; j < N; ++j)
            if (filled[k][j]) ++n;
        }
    return n + N;
  }
  static constexpr std::size_t step_count = count_steps();
  static constexpr int reciprocal = -2;  // `up` of a step that turns pivot `left` into its reciprocal, kept in `target`

  static constexpr std::array<Step, step_count> list_steps() {
    std::array<Step, step_count> steps{};
    std::size_t n = 0;
    for (std::size_t k = 0; k < N; ++k) {
      steps[n++] = {static_cast<int>(k), cell[k][k], reciprocal};
      for (std::size_t i = k + 1; i < N; ++i) {
        if (!filled[i][k]) continue;
        steps[n++] = {cell[i][k], static_cast<int>(k), -1};
        for (std::size_t j = k + 1; j < N; ++j)
          if (filled[k][j]) steps[n++] = {cell[i][j], cell[i][k], cell[k][j]};
      }
    }
    return steps;
  }
  static constexpr std::array<Step, step_count> steps = list_steps();

  /// Forward then backward substitution: x[row] -= lu[cell] * x[column]; cell < 0: x[row] *= reciprocal[row].
  struct Substitution {
    int row, cell, column;
  };
  static constexpr std::size_t count_substitutions() { return cell_count; }
  static constexpr std::array<Substitution, cell_count> list_substitutions() {
    std::array<Substitution, cell_count> list{};
    std::size_t n = 0;
    for (std::size_t i = 0; i < N; ++i)
      for (std::size_t j = 0; j < i; ++j)
        if (filled[i][j]) list[n++] = {static_cast<int>(i), cell[i][j], static_cast<int>(j)};
    for (std::size_t i = N; i-- > 0;) {
      for (std::size_t j = N; j-- > i + 1;)
        if (filled[i][j]) list[n++] = {static_cast<int>(i), cell[i][j], static_cast<int>(j)};
      list[n++] = {static_cast<int>(i), -1, static_cast<int>(i)};
    }
    return list;
  }
  static constexpr std::array<Substitution, cell_count> substitutions = list_substitutions();
};

}  // namespace barm::brew
