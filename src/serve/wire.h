// HTTP/1.1 over TCP: connections, limits and time. Knows nothing of what is served. Boost.Beast stands behind this door
// only. Conduct on the wire: docs/serve/http.md
#pragma once

#include <chrono>
#include <cstdint>
#include <functional>
#include <memory>
#include <string>

#include "quantity/answer.h"
#include "serve/message.h"

namespace barm::serve {

struct Limits {
  std::uint32_t header_bytes_most = 16 * 1024;
  std::uint64_t body_bytes_most = std::uint64_t{1024} * 1024;  // judged: a season's log of a meter is less
  std::chrono::milliseconds header_time{10'000}, body_time{20'000}, idle_time{60'000}, write_time{20'000};
  std::chrono::milliseconds heartbeat{15'000};    // of a feed on which nothing happens
  std::chrono::milliseconds closing_time{5'000};  // for what is being answered when the server stops
  std::size_t connections_most = 1000;
  std::size_t feeds_most = 800;
  std::size_t waiting_most = 100;  // requests waiting for a thread, on each lane
};

/// Where a request is worked out.
enum class Lane : std::uint8_t {
  wire,      // at once, on the thread of the wire: takes microseconds
  record,    // reads or writes the record
  forecast,  // takes a processor for a while
};

/// One exchange, for the log.
struct Told {
  const Request& request;
  int status = 0;
  std::size_t bytes = 0;
  double ms = 0.0;
};

/// What is served, as the wire sees it. None of these throw.
struct Site {
  std::function<Lane(const Request&)> lane{};
  std::function<Response(const Request&)> answer{};  // called on a thread of its lane
  /// What is said when the wire itself refuses a request, as far as that was read.
  std::function<Response(int status, const Request&)> refuse{};
  std::function<void(const Told&)> told{};
};

class Wire {
 public:
  Wire(Limits limits, Site site);
  ~Wire();

  /// Takes an address and a port (0: any free one). The port it got; refuses with a code under "serve.start.".
  Answer<std::uint16_t> listen(const std::string& address, std::uint16_t port);
  /// Serves until `stop` or SIGTERM or SIGINT: then no new connection is taken, what is being answered is finished,
  /// and feeds say their last words.
  void run();
  // From any thread:
  void stop();
  void wake();  // feeds have something new

 private:
  struct Parts;
  std::unique_ptr<Parts> parts_;
};

}  // namespace barm::serve
