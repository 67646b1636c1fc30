// Many at once: idle streams beside a steady mix of requests. The goal: 500 streams and 200 requests a second, 99 of
// 100 answered within 100 ms, 60 MB at most. Measured: docs/serve/http.md
#include <algorithm>
#include <atomic>
#include <deque>

#include "serve/serving.h"

namespace barm::serve {
namespace {

using Clock = std::chrono::steady_clock;

struct Load {
  std::size_t streams = 0, per_second = 0, seconds = 0;
};
struct Told {
  std::vector<double> ms{};
  std::size_t wrong = 0;
  double share(double of) const { return ms[static_cast<std::size_t>(of * static_cast<double>(ms.size() - 1))]; }
};

/// Of 20 requests: 1 plan of 256 brews, 3 entries, 10 questions of the record, 4 small questions, 2 pages.
std::string nth_request(std::size_t n, const std::string& plan) {
  const auto post_text = [](const std::string& path, const Json& body) {
    return request_text("POST", path, body.dump());
  };
  switch (n % 20) {
    case 0:
      return request_text("POST", "/api/brew/plan", plan);
    case 1:
    case 2:
    case 3:
      return post_text("/api/record/add-garden", {{"name", "Yard " + std::to_string(n)}, {"zone", "UTC"}});
    case 4:
    case 5:
      return request_text("GET", "/");
    case 6:
    case 7:
    case 8:
    case 9:
      return post_text("/api/water/oxygen", {{"temperature", "20 degC"}});
    default:
      return post_text("/api/record/list", {{"kind", "garden"}, {"most", 20}});
  }
}

/// Each request is sent at its own time, whether or not those before were answered, so that waiting shows.
Told under(const Serving& serving, const Load& load) {
  std::deque<Caller> streams;
  for (std::size_t i = 0; i < load.streams; ++i) {
    streams.emplace_back(serving.port());
    streams.back().send(request_text("GET", "/api/events"));
  }
  for (auto& one : streams) EXPECT_EQ(one.reply().status, 200);

  Json plan = sample_plan();
  plan["brew"]["members"] = 256;
  const std::string plan_text = plan.dump();
  const std::size_t count = load.per_second * load.seconds, threads_count = 16;
  std::atomic<std::size_t> next{0}, wrong{0};
  std::vector<std::vector<double>> ms(threads_count);
  const auto begun = Clock::now();
  std::vector<std::thread> threads;
  for (std::size_t t = 0; t < threads_count; ++t) {
    threads.emplace_back([&, t] {
      Caller caller(serving.port());
      for (std::size_t n = next++; n < count; n = next++) {
        const auto due = begun + std::chrono::microseconds(1'000'000 * n / load.per_second);
        std::this_thread::sleep_until(due);
        caller.send(nth_request(n, plan_text));
        if (caller.reply().status != 200) ++wrong;
        ms[t].push_back(std::chrono::duration<double, std::milli>(Clock::now() - due).count());
      }
    });
  }
  for (auto& thread : threads) thread.join();
  Told told{.wrong = wrong};
  for (const auto& some : ms) told.ms.insert(told.ms.end(), some.begin(), some.end());
  std::sort(told.ms.begin(), told.ms.end());
  for (auto& one : streams) {  // each heard of entries meanwhile
    one.read_until([](const std::string& came) { return came.find("event: entry") != std::string::npos; });
    if (one.came().find("event: entry") == std::string::npos) ++told.wrong;
  }
  return told;
}

long resident_kb() {
  std::ifstream in("/proc/self/status");
  for (std::string line; std::getline(in, line);) {
    if (line.starts_with("VmRSS:")) return std::atol(line.c_str() + 6);
  }
  return 0;
}

TEST(Load, streams_and_requests_are_all_answered) {
  const Serving serving;
  const auto told = under(serving, {.streams = 50, .per_second = 100, .seconds = 1});
  EXPECT_EQ(told.ms.size(), 100u);
  EXPECT_EQ(told.wrong, 0u);
}

TEST(Load, slow_500_streams_beside_200_requests_a_second) {
  const Serving serving;
  const auto told = under(serving, {.streams = 500, .per_second = 200, .seconds = 5});
  std::printf("500 streams, 200 requests/s: p50 %.1f ms, p99 %.1f ms, most %.1f ms; %ld kB resident, caller and all\n",
              told.share(0.5), told.share(0.99), told.ms.back(), resident_kb());
  EXPECT_EQ(told.wrong, 0u);
  EXPECT_EQ(told.ms.size(), 1000u);
}

}  // namespace
}  // namespace barm::serve
