// The only file that knows Boost.Beast and Asio. One thread moves bytes; lanes of further threads work answers out.
#include "serve/wire.h"

#include <boost/asio.hpp>
#include <boost/beast/core.hpp>
#include <boost/beast/http.hpp>
#include <csignal>
#include <set>
#include <sys/socket.h>

namespace barm::serve {
namespace {

namespace asio = boost::asio;
namespace beast = boost::beast;
namespace http = beast::http;
using asio::ip::tcp;
using boost::system::error_code;
using Clock = std::chrono::steady_clock;
using Parser = http::request_parser<http::string_body>;

constexpr auto as_told = asio::as_tuple(asio::use_awaitable);

/// One connection, for as long as it lasts.
struct Session : std::enable_shared_from_this<Session> {
  explicit Session(tcp::socket taken)
      : socket(std::move(taken)), timer(socket.get_executor()), pause(socket.get_executor()) {}

  /// Whatever waits on the socket is given up after this time, unless set anew.
  void within(std::chrono::milliseconds time) {
    ran_out = false;
    timer.expires_after(time);
    timer.async_wait([self = shared_from_this()](error_code cancelled) {
      if (cancelled) return;
      self->ran_out = true;
      error_code ignored;
      self->socket.cancel(ignored);
    });
  }

  tcp::socket socket;
  asio::steady_timer timer;  // until what waits is given up
  asio::steady_timer pause;  // of a feed, until there is something new
  beast::flat_buffer buffer{std::size_t{64} * 1024};
  bool ran_out = false;
  bool idle = true;   // between requests: may be closed without loss
  bool fed = false;   // a feed runs on it
  bool gone = false;  // of a feed: the other side has closed
};
using SessionPointer = std::shared_ptr<Session>;

std::string lower(std::string_view text) {
  std::string low(text);
  for (char& c : low) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return low;
}

Request request_of(const Parser& parser, const Session& session) {
  const auto& message = parser.get();
  Request request{.method = std::string(message.method_string()), .body = message.body()};
  for (const auto& field : message)
    request.headers.emplace_back(lower(field.name_string()), std::string(field.value()));
  const std::string_view target(message.target().data(), message.target().size());
  const auto mark = std::min(target.find('?'), target.size());
  if (!target.starts_with('/') || !decode(target.substr(0, mark), false, request.path)) request.path.clear();
  if (mark < target.size()) request.query = target.substr(mark + 1);
  error_code ignored;
  request.peer = session.socket.remote_endpoint(ignored).address().to_string();
  request.whole = parser.is_done();
  return request;
}

/// What a reading that failed is answered with; 0: nothing, the other side is gone.
int status_of(const error_code& error, const Session& session, const Parser& parser) {
  if (session.ran_out) return 408;
  if (error == http::error::body_limit) return 413;
  if (error == http::error::header_limit || error == http::error::buffer_overflow) return 431;
  if (error == http::error::end_of_stream || error == http::error::partial_message) return 0;
  if (error.category() == make_error_code(http::error::bad_method).category()) {
    return parser.is_header_done() && error == http::error::unexpected_body ? 413 : 400;
  }
  return 0;
}

struct Work {  // threads for one lane, and how many requests wait for them
  explicit Work(std::size_t threads) : pool(threads) {}
  asio::thread_pool pool;
  std::size_t waiting = 0;
};

/// Whether whoever asked has closed the connection meanwhile: a slider moved on.
bool left(tcp::socket& socket) {
  char byte = 0;
  return ::recv(socket.native_handle(), &byte, 1, MSG_PEEK | MSG_DONTWAIT) == 0;
}

asio::awaitable<Response> worked_out(const Site& site, const Request& request, SessionPointer session, Lane lane) {
  Response response;
  response.status = 499;
  if (lane != Lane::forecast || !left(session->socket)) response = site.answer(request);
  co_return response;
}

}  // namespace

struct Wire::Parts {
  Parts(Limits most, Site what) : limits(most), site(std::move(what)) {}

  asio::awaitable<void> accept();
  asio::awaitable<void> serve(SessionPointer session);
  asio::awaitable<bool> exchange(SessionPointer session);
  asio::awaitable<int> read(SessionPointer session, Parser& parser);
  asio::awaitable<Response> answer(SessionPointer session, const Request& request);
  asio::awaitable<bool> send(SessionPointer session, const Request& request, Response response, bool keep);
  asio::awaitable<void> feed(SessionPointer session, std::shared_ptr<Feed> from);
  asio::awaitable<void> linger(SessionPointer session);
  void watch_other_side(const SessionPointer& session);
  void stop();
  void leave();

  Limits limits;
  Site site;
  asio::io_context io{1};
  tcp::acceptor acceptor{io};
  asio::signal_set signals{io};
  asio::steady_timer last_call{io};
  Work records{2}, forecasts{std::max(1u, std::thread::hardware_concurrency())};
  std::set<SessionPointer> sessions;
  std::size_t feeds_count = 0;
  bool stopping = false;
};

asio::awaitable<void> Wire::Parts::accept() {
  while (acceptor.is_open()) {
    auto [error, socket] = co_await acceptor.async_accept(as_told);
    if (error == asio::error::operation_aborted || !acceptor.is_open()) co_return;
    if (error) {  // no descriptor left, most likely: leave the others time to end
      asio::steady_timer pause(io, std::chrono::milliseconds(50));
      co_await pause.async_wait(as_told);
      continue;
    }
    auto session = std::make_shared<Session>(std::move(socket));
    sessions.insert(session);
    asio::co_spawn(io, serve(session), asio::detached);
  }
}

asio::awaitable<void> Wire::Parts::serve(SessionPointer session) {
  error_code ignored;
  session->socket.set_option(tcp::no_delay(true), ignored);
  if (sessions.size() > limits.connections_most) {
    session->idle = false;
    Request nothing;
    nothing.whole = false;
    Response full = site.refuse(503, nothing);
    co_await send(session, nothing, std::move(full), false);
  } else {
    while (co_await exchange(session)) {
    }
  }
  session->timer.cancel();
  session->socket.close(ignored);
  sessions.erase(session);
  leave();
}

/// One request and its response. Whether the connection is kept for another.
asio::awaitable<bool> Wire::Parts::exchange(SessionPointer session) {
  if (session->buffer.size() == 0) {
    session->idle = true;
    if (stopping) co_return false;
    session->within(limits.idle_time);
    const auto [error, count] = co_await session->socket.async_read_some(session->buffer.prepare(4096), as_told);
    if (error) co_return false;
    session->buffer.commit(count);
  }
  session->idle = false;
  Parser parser;
  parser.header_limit(limits.header_bytes_most);
  parser.body_limit(limits.body_bytes_most);
  const int wrong = co_await read(session, parser);
  const auto begun = Clock::now();
  const Request request = request_of(parser, *session);
  if (wrong < 0) co_return false;
  const bool keep = wrong == 0 && parser.keep_alive() && !stopping;
  Response response;  // GCC 12 mistreats co_await inside ?: and temporaries of aggregates
  if (wrong == 0) {
    response = co_await answer(session, request);
  } else {
    response = site.refuse(wrong, request);
  }
  auto from = response.feed;
  if (from && feeds_count >= limits.feeds_most) {
    response = site.refuse(503, request);
    from.reset();
  }
  const int status = response.status;
  const std::size_t bytes = response.body.size();
  const bool sent = co_await send(session, request, std::move(response), keep);
  site.told({request, status, bytes, std::chrono::duration<double, std::milli>(Clock::now() - begun).count()});
  if (sent && from) co_await feed(session, from);
  co_return sent&& keep && !from && !stopping;
}

/// 0 when a whole request was read; the status it is refused with; -1 when the other side is gone.
asio::awaitable<int> Wire::Parts::read(SessionPointer session, Parser& parser) {
  session->within(limits.header_time);
  auto [error, count] = co_await http::async_read_header(session->socket, session->buffer, parser, as_told);
  if (!error) {
    session->within(limits.body_time);
    const auto expected = parser.get().find(http::field::expect);
    if (expected != parser.get().end()) {
      if (!beast::iequals(expected->value(), "100-continue")) co_return 417;
      static constexpr std::string_view go_on = "HTTP/1.1 100 Continue\r\n\r\n";
      std::tie(error, count) = co_await asio::async_write(session->socket, asio::buffer(go_on), as_told);
    }
    if (!error && !parser.is_done())
      std::tie(error, count) = co_await http::async_read(session->socket, session->buffer, parser, as_told);
  }
  session->timer.cancel();
  if (!error) co_return 0;
  const int status = status_of(error, *session, parser);
  co_return status == 0 ? -1 : status;
}

asio::awaitable<Response> Wire::Parts::answer(SessionPointer session, const Request& request) {
  const Lane lane = site.lane(request);
  Response response;
  if (lane == Lane::wire) {
    response = site.answer(request);
    co_return response;
  }
  Work& work = lane == Lane::record ? records : forecasts;
  if (work.waiting >= limits.waiting_most) {
    response = site.refuse(503, request);
    co_return response;
  }
  ++work.waiting;
  response = co_await asio::co_spawn(work.pool, worked_out(site, request, session, lane), asio::use_awaitable);
  --work.waiting;
  co_return response;
}

asio::awaitable<bool> Wire::Parts::send(SessionPointer session, const Request& request, Response response, bool keep) {
  http::response<http::string_body> message;
  message.result(static_cast<unsigned>(response.status));
  message.version(11);
  for (auto& [name, value] : response.headers) message.insert(name, value);
  if (!response.type.empty()) message.set(http::field::content_type, response.type);
  const bool streams = response.feed != nullptr;
  message.keep_alive(keep && !streams);
  const bool bodiless = response.status == 304 || response.status == 204;
  if (!streams && !bodiless) message.content_length(response.body.size());
  if (request.method != "HEAD" && !bodiless) message.body() = std::move(response.body);
  session->within(limits.write_time);
  http::response_serializer<http::string_body> serializer(message);
  error_code error;
  if (streams || message.body().empty()) {
    std::tie(error, std::ignore) = co_await http::async_write_header(session->socket, serializer, as_told);
  } else {
    std::tie(error, std::ignore) = co_await http::async_write(session->socket, serializer, as_told);
  }
  session->timer.cancel();
  if (error) co_return false;
  if (!keep && !streams) co_await linger(session);
  co_return true;
}

/// Closes our half and reads on a little, so that what was said is not lost with the rest of an unread request.
asio::awaitable<void> Wire::Parts::linger(SessionPointer session) {
  error_code ignored;
  session->socket.shutdown(tcp::socket::shutdown_send, ignored);
  session->within(std::chrono::milliseconds(500));
  std::array<char, std::size_t{16} * 1024> thrown_away{};
  for (std::size_t left = 64 * thrown_away.size(); left > thrown_away.size(); left -= thrown_away.size()) {
    const auto [error, count] = co_await session->socket.async_read_some(asio::buffer(thrown_away), as_told);
    if (error) break;
  }
  session->timer.cancel();
}

void Wire::Parts::watch_other_side(const SessionPointer& session) {
  session->buffer.clear();
  session->socket.async_read_some(session->buffer.prepare(64), [session](error_code error, std::size_t) {
    if (error == asio::error::operation_aborted) return;
    session->gone = true;  // closed, or speaking out of turn
    session->pause.cancel();
  });
}

asio::awaitable<void> Wire::Parts::feed(SessionPointer session, std::shared_ptr<Feed> from) {
  session->fed = true;
  ++feeds_count;
  watch_other_side(session);
  auto quiet_since = Clock::now();
  bool ended = false;
  while (!session->gone && !stopping && !ended) {
    std::string text = from->next();
    ended = from->ended();
    const auto now = Clock::now();
    if (text.empty() && now - quiet_since >= limits.heartbeat) text = ":\n\n";
    if (text.empty() && !ended) {
      session->pause.expires_after(limits.heartbeat - (now - quiet_since));
      co_await session->pause.async_wait(as_told);
      continue;
    }
    quiet_since = now;
    session->within(limits.write_time);
    const auto [error, count] = co_await asio::async_write(session->socket, asio::buffer(text), as_told);
    session->timer.cancel();
    if (error) session->gone = true;
  }
  if (!session->gone) {
    const std::string last = ended ? std::string() : from->closing();
    session->within(limits.write_time);
    co_await asio::async_write(session->socket, asio::buffer(last), as_told);
    session->timer.cancel();
    error_code ignored;
    session->socket.shutdown(tcp::socket::shutdown_send, ignored);
  }
  --feeds_count;
}

void Wire::Parts::stop() {
  if (std::exchange(stopping, true)) return io.stop();  // asked twice: at once
  error_code ignored;
  acceptor.close(ignored);
  for (const auto& session : sessions) {
    if (session->idle) session->socket.cancel(ignored);
    if (session->fed) session->pause.cancel();
  }
  last_call.expires_after(limits.closing_time);
  last_call.async_wait([this](error_code cancelled) {
    if (!cancelled) io.stop();
  });
  leave();
}

/// Ends the run once the last connection has ended.
void Wire::Parts::leave() {
  if (!stopping || !sessions.empty()) return;
  last_call.cancel();
  io.stop();
}

Wire::Wire(Limits limits, Site site) : parts_(std::make_unique<Parts>(limits, std::move(site))) {}

Wire::~Wire() = default;

Answer<std::uint16_t> Wire::listen(const std::string& address, std::uint16_t port) {
  const auto refuse = [&](const char* code, const error_code& error) {
    const std::map<std::string, Remark::Fact> facts{{"given", address + ":" + std::to_string(port)},
                                                    {"reason", error.message()}};
    return Answer<std::uint16_t>::refused({{code, "", facts}});
  };
  error_code error;
  const auto at = asio::ip::make_address(address, error);
  if (error) return refuse("serve.option.not_an_address", error);
  const tcp::endpoint end(at, port);
  auto& acceptor = parts_->acceptor;
  acceptor.open(end.protocol(), error);
  if (!error) acceptor.set_option(asio::socket_base::reuse_address(true), error);
  if (!error) acceptor.bind(end, error);
  if (!error) acceptor.listen(asio::socket_base::max_listen_connections, error);
  if (!error) parts_->signals.add(SIGTERM, error);  // before anybody is told that it is ready
  if (!error) parts_->signals.add(SIGINT, error);
  if (error) {
    const bool taken = error == asio::error::address_in_use;
    return refuse(taken ? "serve.start.address_taken" : "serve.start.address_failed", error);
  }
  return acceptor.local_endpoint(error).port();
}

void Wire::run() {
  std::function<void(error_code, int)> heard = [&](error_code cancelled, int) {
    if (cancelled) return;
    parts_->stop();
    parts_->signals.async_wait(heard);
  };
  parts_->signals.async_wait(heard);
  asio::co_spawn(parts_->io, parts_->accept(), asio::detached);
  parts_->io.run();
  error_code ignored;
  parts_->signals.clear(ignored);
  parts_->forecasts.pool.stop();  // nobody waits for them any more
  parts_->forecasts.pool.join();
  parts_->records.pool.join();  // what is being written is written
}

void Wire::stop() {
  asio::post(parts_->io, [parts = parts_.get()] { parts->stop(); });
}

void Wire::wake() {
  asio::post(parts_->io, [parts = parts_.get()] {
    for (const auto& session : parts->sessions) {
      if (session->fed) session->pause.cancel();
    }
  });
}

}  // namespace barm::serve
