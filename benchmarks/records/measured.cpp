#include "records/measured.h"

#include <fmt/chrono.h>
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <ctime>
#include <fstream>
#include <thread>

namespace barm::bench {
namespace {

/// What stands behind the first line that begins so; empty when none does.
std::string line_of(const char* file, const std::string& begins) {
  std::ifstream in(file);
  for (std::string line; std::getline(in, line);) {
    if (!line.starts_with(begins)) continue;
    const auto at = line.find_first_not_of(" \t:=\"", begins.size());
    return at == std::string::npos ? "" : line.substr(at, line.find_last_not_of("\" ") - at + 1);
  }
  return {};
}

}  // namespace

double quantile_ms(std::vector<double> all_ms, double share) {
  std::sort(all_ms.begin(), all_ms.end());
  const auto at = static_cast<std::size_t>(std::ceil(share * static_cast<double>(all_ms.size())));
  return all_ms.at(std::min(all_ms.size(), std::max<std::size_t>(at, 1)) - 1);
}

std::string machine() {
  const auto memory_kb = std::atof(line_of("/proc/meminfo", "MemTotal").c_str());
  return fmt::format("{}, {} cores, {:.0f} GB memory, {}", line_of("/proc/cpuinfo", "model name"),
                     std::thread::hardware_concurrency(), memory_kb / 1024.0 / 1024.0,
                     line_of("/etc/os-release", "PRETTY_NAME"));
}

std::string load_average() {
  std::ifstream in("/proc/loadavg");
  std::string one, five, fifteen;
  in >> one >> five >> fifteen;
  return fifteen;
}

std::string commit(const std::string& source_folder) {
  std::FILE* pipe = popen(("git -C '" + source_folder + "' rev-parse --short HEAD 2>/dev/null").c_str(), "r");
  char text[64] = {};
  const bool read = pipe != nullptr && std::fgets(text, sizeof text, pipe) != nullptr;
  if (pipe != nullptr) pclose(pipe);
  std::string commit = read ? text : "unknown";
  while (!commit.empty() && commit.back() == '\n') commit.pop_back();
  return commit;
}

std::string today() {
  return fmt::format("{:%Y-%m-%d}", fmt::gmtime(std::time(nullptr)));
}

}  // namespace barm::bench
