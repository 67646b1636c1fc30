// What is kept in the record, as it is kept, whoever keeps it: this server or another process.
#pragma once

#include <condition_variable>
#include <cstdint>
#include <deque>
#include <functional>
#include <mutex>
#include <string>
#include <thread>
#include <vector>

#include "operations/world.h"
#include "records/store.h"
#include "serve/log.h"

namespace barm::serve {

/// One entry as listeners are told of it.
struct News {
  std::int64_t number = 0;
  std::string kind{};
  std::vector<std::string> about{};  // ids: its own, the one it replaces, and those it names
  std::string data{};                // JSON in one line
};

/// Number of the last entry kept; 0 when there is none. Throws as the connection does.
std::int64_t last_number(records::Store& store);
/// The entries with numbers above `after`, oldest first, at most `most`.
std::vector<News> news_after(records::Store& store, std::int64_t after, std::int64_t most);

/// Looks at the record a few times a second from its own thread and keeps the latest news for listeners.
class Journal {
 public:
  struct Reading {
    std::vector<News> news{};
    std::int64_t last = 0;  // number of the last entry known
    bool gap = false;       // some have been forgotten already
  };

  /// `changed` is called from the journal's thread when there is something new.
  Journal(std::string store, const operations::World& world, Log& log, std::function<void()> changed);
  ~Journal();
  Journal(const Journal&) = delete;
  Journal& operator=(const Journal&) = delete;

  /// Looks now rather than soon.
  void nudge();
  /// What came after a number.
  Reading since(std::int64_t number) const;

 private:
  void watch();
  void look(records::Store& store);

  std::string store_;
  const operations::World& world_;
  Log& log_;
  std::function<void()> changed_;
  mutable std::mutex mutex_;
  std::condition_variable wake_;
  std::deque<News> latest_;
  std::int64_t last_ = 0, forgotten_ = 0;  // numbers: of the last known, and of the last no longer kept
  bool nudged_ = false, ends_ = false;
  std::thread thread_;
};

}  // namespace barm::serve
