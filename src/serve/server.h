// `barm serve`: the operations, the events and the screens behind one address.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "operations/world.h"
#include "serve/log.h"
#include "serve/wire.h"

namespace barm::serve {

struct Settings {
  std::string address = "127.0.0.1";
  std::uint16_t port = 8787;         // 0: any free one
  std::string store{};               // the record; made when there is none
  std::vector<std::string> names{};  // the server may be called by, beside localhost and addresses in figures
  cards::Language language = cards::Language::english;  // for who asks for none
  Limits limits{};
  std::string sample{};  // text of a sample garden (sample.h), kept when the record is empty; empty: none
};

class Server {
 public:
  /// `world` and `log` must live as long.
  Server(Settings settings, const operations::World& world, Log& log);
  ~Server();

  /// Opens the record and takes the address. Where people find it: "http://127.0.0.1:8787/".
  Answer<std::string> start();
  /// Serves until `stop`, SIGTERM or SIGINT.
  void run();
  void stop();  // from any thread

 private:
  struct Parts;
  std::unique_ptr<Parts> parts_;
};

}  // namespace barm::serve
