// Times of many askings, and the machine they were taken on.
#pragma once

#include <chrono>
#include <string>
#include <vector>

namespace barm::bench {

class Clock {
 public:
  double seconds() const { return std::chrono::duration<double>(std::chrono::steady_clock::now() - begun_).count(); }

 private:
  std::chrono::steady_clock::time_point begun_ = std::chrono::steady_clock::now();
};

/// The time below which a share of them lies [ms].
double quantile_ms(std::vector<double> all_ms, double share);

/// "AMD EPYC, 2 cores, 8 GB, Debian 12".
std::string machine();
/// Processes that wanted a processor at once, mean of the last 15 minutes.
std::string load_average();
/// What the source stands at, "unknown" outside a working copy.
std::string commit(const std::string& source_folder);
std::string today();

}  // namespace barm::bench
