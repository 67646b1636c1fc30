// A request and its response as plain values, whoever carries them over the wire.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace barm::serve {

using Headers = std::vector<std::pair<std::string, std::string>>;

struct Request {
  std::string method{};
  std::string path{};   // decoded, beginning with "/"; empty when it could not be
  std::string query{};  // as sent, after "?"
  Headers headers{};    // names in lower case
  std::string body{};
  std::string peer{};  // address it came from
  bool whole = true;   // false: given up on before all of it was read

  /// Value of a header by its name in lower case; empty when there is none.
  std::string_view header(std::string_view name) const;
  /// How often a header was sent.
  std::size_t count(std::string_view name) const;
  /// Value of a query parameter, decoded; empty when there is none.
  std::string parameter(std::string_view name) const;
};

/// Text sent bit by bit on a connection that stays open.
class Feed {
 public:
  virtual ~Feed() = default;
  /// What is to be sent by now; empty: nothing new. Called on the thread of the wire.
  virtual std::string next() = 0;
  /// Last words, when the server stops.
  virtual std::string closing() = 0;
  /// Whether `next` has said all there will be: the connection is closed, without last words.
  virtual bool ended() const { return false; }
};

struct Response {
  int status = 200;
  std::string type{};  // media type
  Headers headers{};
  std::string body{};
  std::shared_ptr<Feed> feed{};  // instead of a body
};

/// Percent-encoding undone. False when it is broken or hides a NUL; `text` is then unusable.
bool decode(std::string_view encoded, bool plus_is_blank, std::string& text);

}  // namespace barm::serve
