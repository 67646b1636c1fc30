// A server on a thread of its own, with an empty record, and a caller that speaks to it byte by byte.
#pragma once

#include <arpa/inet.h>
#include <gtest/gtest.h>
#include <poll.h>
#include <sys/socket.h>
#include <unistd.h>

#include <chrono>
#include <filesystem>
#include <fstream>
#include <mutex>
#include <sstream>
#include <string>
#include <thread>

#include "cli/files.h"
#include "operations/document.h"
#include "serve/server.h"
#include "support/temporary_folder.h"

namespace barm::serve {

using operations::Json;

inline const operations::World& machine() {
  static const auto words = cards::Catalogue::embedded();
  static const auto world = cli::real_world(words);
  return world;
}

class Serving {
 public:
  explicit Serving(Limits limits = {}, const std::string& sample = {})
      : log_(
            [this](const std::string& line) {
              const std::lock_guard<std::mutex> alone(mutex_);
              lines_ += line;
            },
            machine().now) {
    server_.emplace(Settings{.port = 0, .store = store(), .names = {"shed.local"}, .limits = limits, .sample = sample},
                    machine(), log_);
    const auto url = server_->start();
    EXPECT_TRUE(url.ok());
    port_ = static_cast<std::uint16_t>(std::stoi(url->substr(url->rfind(':') + 1)));
    thread_ = std::thread([this] { server_->run(); });
  }
  ~Serving() {
    stop();
    server_.reset();
  }
  void stop() {
    if (!thread_.joinable()) return;
    server_->stop();
    thread_.join();
  }
  std::uint16_t port() const { return port_; }
  std::string store() const { return folder_.file("garden.sqlite"); }
  const std::string& folder() const { return folder_.path(); }
  std::string log() {
    const std::lock_guard<std::mutex> alone(mutex_);
    return lines_;
  }

 private:
  std::mutex mutex_;
  std::string lines_;
  test::TemporaryFolder folder_;
  Log log_;
  std::optional<Server> server_;
  std::uint16_t port_ = 0;
  std::thread thread_;
};

struct Reply {
  int status = 0;  // 0: nothing came
  std::string head{}, body{};
  Json json() const { return Json::parse(body, nullptr, false); }
  std::string header(const std::string& name) const {
    const auto at = head.find("\r\n" + name + ": ");
    if (at == std::string::npos) return {};
    const auto from = at + name.size() + 4;
    return head.substr(from, head.find("\r\n", from) - from);
  }
  std::string first_code() const {
    const Json all = json();
    return all.is_object() && all.contains("refusals") ? all["refusals"][0]["code"].get<std::string>() : "";
  }
};

class Caller {
 public:
  explicit Caller(std::uint16_t port) : socket_(::socket(AF_INET, SOCK_STREAM | SOCK_CLOEXEC, 0)) {
    sockaddr_in at{};
    at.sin_family = AF_INET;
    at.sin_port = htons(port);
    at.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    connected_ = ::connect(socket_, reinterpret_cast<const sockaddr*>(&at), sizeof at) == 0;
  }
  ~Caller() { ::close(socket_); }
  Caller(const Caller&) = delete;
  Caller& operator=(const Caller&) = delete;

  bool connected() const { return connected_; }
  bool send(std::string_view text) {
    while (!text.empty()) {
      const auto count = ::send(socket_, text.data(), text.size(), MSG_NOSIGNAL);
      if (count <= 0) return false;
      text.remove_prefix(static_cast<std::size_t>(count));
    }
    return true;
  }
  void half_close() { ::shutdown(socket_, SHUT_WR); }
  /// Reads until `enough` of what came, the other side closes, or time is up.
  template <class Enough>
  void read_until(Enough enough, int ms = 5000) {
    const auto end = std::chrono::steady_clock::now() + std::chrono::milliseconds(ms);
    while (!enough(came_) && !closed_) {
      const auto left = std::chrono::duration_cast<std::chrono::milliseconds>(end - std::chrono::steady_clock::now());
      pollfd one{socket_, POLLIN, 0};
      if (left.count() <= 0 || ::poll(&one, 1, static_cast<int>(left.count())) <= 0) return;
      char part[16384];
      const auto count = ::recv(socket_, part, sizeof part, 0);
      if (count <= 0) {
        closed_ = true;
      } else {
        came_.append(part, static_cast<std::size_t>(count));
      }
    }
  }
  bool closed() const { return closed_; }
  const std::string& came() const { return came_; }
  /// The next whole response, taken off what came.
  Reply reply(bool bodiless = false) {
    read_until([](const std::string& text) { return text.find("\r\n\r\n") != std::string::npos; });
    const auto end = came_.find("\r\n\r\n");
    if (end == std::string::npos) return {};
    Reply reply{.head = came_.substr(0, end + 2)};
    came_.erase(0, end + 4);
    reply.status = std::atoi(reply.head.c_str() + 9);
    const auto length = reply.header("Content-Length");
    if (bodiless || length.empty()) return reply;
    const auto wanted = static_cast<std::size_t>(std::stoul(length));
    read_until([&](const std::string& text) { return text.size() >= wanted; });
    reply.body = came_.substr(0, wanted);
    came_.erase(0, wanted);
    return reply;
  }

 private:
  int socket_;
  bool connected_ = false, closed_ = false;
  std::string came_;
};

inline std::string request_text(const std::string& method, const std::string& target, const std::string& body = {},
                                const std::string& headers = {}) {
  std::string text = method + " " + target + " HTTP/1.1\r\n";
  if (headers.find("Host: ") == std::string::npos) text += "Host: 127.0.0.1\r\n";
  if (method == "POST") text += "Content-Length: " + std::to_string(body.size()) + "\r\n";
  if (method == "POST" && headers.find("Content-Type: ") == std::string::npos)
    text += "Content-Type: application/json\r\n";
  return text + headers + "\r\n" + body;
}

inline Reply ask(const Serving& serving, const std::string& method, const std::string& target,
                 const std::string& body = {}, const std::string& headers = {}) {
  Caller caller(serving.port());
  caller.send(request_text(method, target, body, headers));
  return caller.reply(method == "HEAD");
}

inline Reply post(const Serving& serving, const std::string& target, const Json& body,
                  const std::string& headers = {}) {
  return ask(serving, "POST", target, body.dump(), headers);
}

inline std::string content(const std::string& file) {
  std::ifstream in(file);
  std::stringstream text;
  text << in.rdbuf();
  return text.str();
}

/// The sample plan as a request tells it.
inline Json sample_plan() {
  const auto document = operations::read_toml(content(std::string(BARM_EXAMPLES_DIR) + "/allotment_bucket.toml"));
  EXPECT_TRUE(document.ok());
  Json tree = document->tree;
  tree["brew"]["members"] = 32;
  return tree;
}

}  // namespace barm::serve
