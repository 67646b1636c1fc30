// Long work told as it goes: how far it is, then what came of it, as server-sent events on the connection that asked.
// Whoever closes the connection calls the work off. Frames: docs/serve/http.md
#pragma once

#include <atomic>
#include <functional>
#include <list>
#include <memory>
#include <mutex>
#include <thread>

#include "serve/message.h"

namespace barm::serve {

/// What an operation is told by and asked on the way; empty: nobody asks.
struct Watch {
  std::function<void(double share)> progress{};
  std::function<bool()> should_stop{};
};

class Works {
 public:
  /// At most so many run at a time. `wake` is called, from their threads, whenever a feed has something new.
  Works(std::size_t most, std::function<void()> wake) : most_(most), wake_(std::move(wake)) {}
  /// Calls all of them off and waits for them.
  ~Works();
  Works(const Works&) = delete;
  Works& operator=(const Works&) = delete;

  /// Begins `work` on a thread of its own, whose Response becomes the last event of the feed. nullptr when too many
  /// run. `work` must not throw.
  std::shared_ptr<Feed> begin(std::function<Response(const Watch&)> work);

 private:
  struct Work;
  void forget_ended();

  std::size_t most_;
  std::function<void()> wake_;
  std::mutex mutex_;
  std::list<std::shared_ptr<Work>> works_;
};

}  // namespace barm::serve
