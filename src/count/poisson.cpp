#include "count/poisson.h"

#include <boost/math/distributions/chi_squared.hpp>
#include <boost/math/distributions/students_t.hpp>

namespace barm::count {

Range poisson_95(std::int64_t counted) {
  using boost::math::chi_squared_distribution;
  const double n = static_cast<double>(counted);
  const double low = counted == 0 ? 0.0 : quantile(chi_squared_distribution<double>(2.0 * n), 0.025) / 2.0;
  return {low, quantile(chi_squared_distribution<double>(2.0 * n + 2.0), 0.975) / 2.0};
}

double student_95(std::int64_t degrees_of_freedom) {
  return quantile(boost::math::students_t_distribution<double>(static_cast<double>(degrees_of_freedom)), 0.975);
}

Dispersion dispersion(std::span<const Part> parts) {
  double counted = 0.0, amount = 0.0, chi_square = 0.0;
  for (const Part& part : parts) {
    counted += part.counted;
    amount += part.amount;
  }
  if (parts.size() < 2 || counted == 0.0) return {};
  for (const Part& part : parts) {
    const double expected = counted / amount * part.amount;
    chi_square += (part.counted - expected) * (part.counted - expected) / expected;
  }
  const double free = static_cast<double>(parts.size() - 1);
  const boost::math::chi_squared_distribution<double> chance(free);
  return {chi_square / free, boost::math::cdf(boost::math::complement(chance, chi_square))};
}

}  // namespace barm::count
