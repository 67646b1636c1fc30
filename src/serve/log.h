// The server's log: one line of JSON an event, on standard error. What people write is not in it: paths without their
// queries, no bodies.
#pragma once

#include <functional>
#include <mutex>
#include <nlohmann/json.hpp>
#include <string>

namespace barm::serve {

class Log {
 public:
  using Facts = nlohmann::ordered_json;
  /// `write` is given whole lines, one at a time; `now` is the clock [ms UTC].
  Log(std::function<void(const std::string&)> write, std::function<std::int64_t()> now)
      : write_(std::move(write)), now_(std::move(now)) {}

  void info(const char* event, const Facts& facts = Facts::object()) { line("info", event, facts); }
  void warning(const char* event, const Facts& facts = Facts::object()) { line("warning", event, facts); }

 private:
  void line(const char* level, const char* event, const Facts& facts);

  std::function<void(const std::string&)> write_;
  std::function<std::int64_t()> now_;
  std::mutex one_at_a_time_;
};

}  // namespace barm::serve
