// Points that fill a many-sided cube evenly, so that few members already give steady bands: Sobol points, scrambled so
// that every seed gives another set of the same evenness.
#pragma once

#include <cstdint>
#include <vector>

namespace barm::brew {

/// `member_count` points of `dimension_count` numbers in (0, 1), point after point. Sobol numbers from Boost.Random
/// (Joe and Kuo's directions), nested uniform scrambling by hashing (Laine and Karras 2011, Burley 2020; from memory).
/// Powers of two fill best. Range: dimensions 1 to 512.
std::vector<double> scrambled_points(int member_count, int dimension_count, std::uint64_t seed);

}  // namespace barm::brew
