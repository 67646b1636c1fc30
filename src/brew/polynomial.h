// A smooth function of one variable as a polynomial of fourth degree, through its values at five Chebyshev points.
#pragma once

#include <array>
#include <functional>

namespace barm::brew {

/// Coefficients c of c[0] + c[1] x + ... + c[4] x^4 on [low, high].
std::array<double, 5> quartic_through(const std::function<double(double)>& f, double low, double high);

}  // namespace barm::brew
