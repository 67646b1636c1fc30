// Rodas4, a Rosenbrock method of order 4 with an embedded order 3 and its own dense output of order 3; stiffly
// accurate, L-stable. Tableau: Hairer & Wanner, Solving Ordinary Differential Equations II, 2nd ed. 1996, section IV.7
// and their program RODAS with METH = 1 (from memory; the order of steps and dense output is proved in
// tests/brew/rodas4_order_test.cpp, also for a forcing that changes with time, where a wrong gamma would show).
//
// Stage i solves (I/(h gamma) - J) u_i = f(t + alpha_i h, y + sum a_ij u_j) + sum c_ij u_j / h + gamma_i h df/dt.
// The step is y + sum of stage 6, its error the last increment u_6.
#pragma once

#include <array>

namespace barm::brew::rodas4 {

inline constexpr int stage_count = 6;
inline constexpr double gamma = 0.25;

inline constexpr std::array<double, stage_count> alpha = {0.0, 0.386, 0.21, 0.63, 1.0, 1.0};
inline constexpr std::array<double, stage_count> gamma_time = {0.25, -0.1043, 0.1035, -0.3620000000000023e-01,
                                                               0.0,  0.0};

inline constexpr double a[stage_count][stage_count] = {
    {},
    {1.544000000000000},
    {0.9466785280815826, 0.2557011698983284},
    {3.314825187068521, 2.896124015972201, 0.9986419139977817},
    {1.221224509226641, 6.019134481288629, 12.53708332932087, -0.6878860361058950},
    {1.221224509226641, 6.019134481288629, 12.53708332932087, -0.6878860361058950, 1.0}};

inline constexpr double c[stage_count][stage_count] = {
    {},
    {-5.668800000000000},
    {-2.430093356833875, -0.2063599157091915},
    {-0.1073529058151375, -9.594562251023355, -20.47028614809616},
    {7.496443313967647, -10.24680431464352, -33.99990352819905, 11.70890893206160},
    {8.083246795921522, -7.981132988064893, -31.52159432874371, 16.31930543123136, -6.058818238834054}};

/// Dense output: y(t + s h) = (1-s) y0 + s (y1 + (1-s) (d2 + s d3)), d2 and d3 sums over the stages with these weights.
inline constexpr std::array<double, 5> dense2 = {10.12623508344586, -7.487995877610167, -34.80091861555747,
                                                 -7.992771707568823, 1.025137723295662};
inline constexpr std::array<double, 5> dense3 = {-0.6762803392806898, 6.087714651680606, 16.43084320892478,
                                                 24.76722511418386, -6.594389125716872};

}  // namespace barm::brew::rodas4
