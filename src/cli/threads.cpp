#include "cli/threads.h"

#include <algorithm>
#include <atomic>
#include <exception>
#include <mutex>
#include <thread>
#include <vector>

namespace barm::cli {

void on_all_cores(int count, const std::function<void(int)>& job) {
  std::atomic<int> next{0};
  std::exception_ptr fault;
  std::mutex fault_guard;
  const auto work = [&] {
    for (int i = next++; i < count; i = next++) {
      try {
        job(i);
      } catch (...) {
        const std::lock_guard lock(fault_guard);
        if (!fault) fault = std::current_exception();
      }
    }
  };
  const int cores = static_cast<int>(std::max(1u, std::thread::hardware_concurrency()));
  std::vector<std::thread> others;
  for (int i = 1; i < std::min(cores, count); ++i) others.emplace_back(work);
  work();
  for (std::thread& other : others) other.join();
  if (fault) std::rethrow_exception(fault);
}

}  // namespace barm::cli
