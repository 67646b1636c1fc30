#include "brew/draws.h"

#include <boost/random/sobol.hpp>
#include <cstddef>

#include "quantity/expects.h"

namespace barm::brew {
namespace {

std::uint32_t reversed(std::uint32_t x) {
  x = (x >> 16) | (x << 16);
  x = ((x & 0x00ff00ffU) << 8) | ((x & 0xff00ff00U) >> 8);
  x = ((x & 0x0f0f0f0fU) << 4) | ((x & 0xf0f0f0f0U) >> 4);
  x = ((x & 0x33333333U) << 2) | ((x & 0xccccccccU) >> 2);
  return ((x & 0x55555555U) << 1) | ((x & 0xaaaaaaaaU) >> 1);
}

/// Each bit is flipped or not by what stands above it, which is what nested scrambling asks for.
std::uint32_t scrambled(std::uint32_t x, std::uint32_t seed) {
  x = reversed(x);
  x += seed;
  x ^= x * 0x6c50b47cU;
  x ^= x * 0xb82f1e52U;
  x ^= x * 0xc7afe638U;
  x ^= x * 0x8d22f6e6U;
  return reversed(x);
}

/// A well mixed 32-bit number for each (seed, dimension): the finaliser of SplitMix64.
std::uint32_t seed_of(std::uint64_t seed, int dimension) {
  std::uint64_t z = seed + 0x9e3779b97f4a7c15ULL * (static_cast<std::uint64_t>(dimension) + 1);
  z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9ULL;
  z = (z ^ (z >> 27)) * 0x94d049bb133111ebULL;
  return static_cast<std::uint32_t>((z ^ (z >> 31)) >> 32);
}

}  // namespace

std::vector<double> scrambled_points(int member_count, int dimension_count, std::uint64_t seed) {
  expects(member_count > 0 && dimension_count > 0 && dimension_count <= 512, "1 to 512 dimensions, at least one point");
  boost::random::sobol_engine<std::uint32_t, 32> engine(static_cast<std::size_t>(dimension_count));
  std::vector<std::uint32_t> seeds;
  for (int d = 0; d < dimension_count; ++d) seeds.push_back(seed_of(seed, d));
  std::vector<double> points;
  points.reserve(static_cast<std::size_t>(member_count) * static_cast<std::size_t>(dimension_count));
  for (int m = 0; m < member_count; ++m)
    for (int d = 0; d < dimension_count; ++d) {
      // The library leaves out the first Sobol point, the corner; without it a power of two is no net.
      const std::uint32_t point = m == 0 ? 0U : engine();
      points.push_back((scrambled(point, seeds[static_cast<std::size_t>(d)]) + 0.5) / 4294967296.0);
    }
  return points;
}

}  // namespace barm::brew
