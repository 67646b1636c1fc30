#include "serve/server.h"

#include <fmt/format.h>

#include <cmath>

#include "operations/record_store.h"
#include "serve/api.h"
#include "serve/events.h"
#include "serve/gate.h"
#include "serve/journal.h"
#include "serve/pages.h"
#include "serve/refusal.h"
#include "serve/sample.h"
#include "serve/works.h"

namespace barm::serve {
namespace {

constexpr const char* events_path = "/api/events";
constexpr std::size_t works_most = 4;  // long works at a time; each takes every core it is given

/// What a browser is told of every response. Nothing but our own files runs or loads, nobody frames us, and links out
/// do not say where they came from.
const Headers& guards() {
  static const Headers all = {
      {"Content-Security-Policy",
       "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; connect-src 'self'; "
       "manifest-src 'self'; worker-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"},
      {"X-Content-Type-Options", "nosniff"},
      {"Referrer-Policy", "no-referrer"},
      {"Cross-Origin-Resource-Policy", "same-origin"},
      {"Cross-Origin-Opener-Policy", "same-origin"}};
  return all;
}

/// The refusal of the wire itself in our words.
Remark wire_refusal(int status) {
  switch (status) {
    case 408:
      return {"serve.request.too_slow", "", {}};
    case 413:
      return {"serve.request.too_long", "", {}};
    case 417:
      return {"serve.request.expects_more", "", {}};
    case 431:
      return {"serve.request.header_too_long", "", {}};
    case 503:
      return {"serve.request.too_many", "", {}};
    default:
      return {"serve.request.malformed", "", {}};
  }
}

}  // namespace

struct Server::Parts {
  Parts(Settings how, const operations::World& machine, Log& to)
      : settings(std::move(how)),
        world(machine),
        log(to),
        gate(settings.names),
        api(world, settings.store, settings.language) {}

  Site site();
  Lane lane(const Request& request) const;
  Response answer(const Request& request, const Watch& watch = {});
  Response answered(const Request& request, const Watch& watch);
  Response watched(const Request& request);
  Response wrong_method(const Request& request, const char* allowed) const;
  Response page(const Request& request) const;
  operations::Voice voice(const Request& request) const {
    return {.words = world.words, .language = language_of(request, settings.language)};
  }

  Settings settings;
  const operations::World& world;
  Log& log;
  Gate gate;
  Api api;
  std::unique_ptr<Journal> journal;
  std::unique_ptr<Wire> wire;
  std::unique_ptr<Works> works;
};

Lane Server::Parts::lane(const Request& request) const {
  if (gate.turned_away(request)) return Lane::wire;
  if (request.path == events_path && request.method == "GET")
    return reads_record(request, *journal) ? Lane::record : Lane::wire;
  if (wants_watching(request)) return Lane::wire;  // only begun there
  const auto* operation = request.method == "POST" ? operation_at(request.path) : nullptr;
  return operation == nullptr ? Lane::wire : lane_of(*operation);
}

/// Whatever goes wrong inside ends here, as our fault.
Response Server::Parts::answer(const Request& request, const Watch& watch) {
  Response response;
  try {
    response = answered(request, watch);
  } catch (const std::exception& fault) {
    log.warning("fault", {{"path", request.path.substr(0, 200)}, {"detail", std::string(fault.what())}});
    response = refused(500, {"serve.request.fault", "", {{"detail", std::string(fault.what())}}}, voice(request));
  }
  response.headers.insert(response.headers.end(), guards().begin(), guards().end());
  return response;
}

Response Server::Parts::answered(const Request& request, const Watch& watch) {
  if (const auto turned = gate.turned_away(request)) return refused(turned->status, turned->why, voice(request));
  if (request.path == events_path) {
    if (request.method != "GET") return wrong_method(request, "GET");
    return listen_to(request, *journal, settings.store, world, voice(request));
  }
  if (!request.path.starts_with("/api/")) return page(request);
  if (wants_watching(request) && !watch.should_stop) return watched(request);
  auto response = api.answer(request, watch);
  if (response.status == 200 && lane(request) == Lane::record) journal->nudge();
  return response;
}

/// The same question on a thread of its own, told as it goes.
Response Server::Parts::watched(const Request& request) {
  auto feed = works->begin([this, request](const Watch& watch) {
    Response response = answer(request, watch);
    if (response.type == "application/json") return response;
    return refused(406, {"serve.request.download_watched", "", {}}, voice(request));
  });
  if (!feed) return refused(503, {"serve.request.too_many", "", {}}, voice(request));
  return {.type = "text/event-stream",
          .headers = {{"Cache-Control", "no-store"}, {"X-Accel-Buffering", "no"}},
          .feed = std::move(feed)};
}

Response Server::Parts::wrong_method(const Request& request, const char* allowed) const {
  const Remark why{
      "serve.request.wrong_method", "", {{"given", request.method.substr(0, 20)}, {"allowed", std::string(allowed)}}};
  auto response = refused(405, why, voice(request));
  response.headers.emplace_back("Allow", allowed);
  return response;
}

Response Server::Parts::page(const Request& request) const {
  if (request.method != "GET" && request.method != "HEAD") return wrong_method(request, "GET, HEAD");
  if (const Page* found = page_at(request.path)) return show(*found, request);
  if (request.header("accept").find("text/html") != std::string_view::npos)
    return show_lost(*page_at("/"), request.path);
  return refused(404, {"serve.request.no_page", "", {{"given", request.path.substr(0, 100)}}}, voice(request));
}

Site Server::Parts::site() {
  return {.lane = [this](const Request& request) { return lane(request); },
          .answer = [this](const Request& request) { return answer(request); },
          .refuse =
              [this](int status, const Request& request) {
                auto response = refused(status, wire_refusal(status), voice(request));
                response.headers.insert(response.headers.end(), guards().begin(), guards().end());
                return response;
              },
          .told =
              [this](const Told& told) {
                log.info("request", {{"method", told.request.method.substr(0, 20)},
                                     {"path", told.request.path.substr(0, 200)},
                                     {"status", told.status},
                                     {"bytes", told.bytes},
                                     {"ms", std::round(told.ms * 10.0) / 10.0},
                                     {"peer", told.request.peer}});
              }};
}

Server::Server(Settings settings, const operations::World& world, Log& log)
    : parts_(std::make_unique<Parts>(std::move(settings), world, log)) {}

Server::~Server() {
  parts_->works.reset();    // they wake the wire as well
  parts_->journal.reset();  // its thread wakes the wire; the wire's own threads ended with `run`
}

Answer<std::string> Server::start() {
  Findings findings;
  auto store = findings.take(operations::open_store(parts_->settings.store, parts_->world, true));
  if (!store) return std::move(findings).refusal<std::string>();
  if (!parts_->settings.sample.empty() && store->count() == 0 &&
      !findings.take(keep_sample(parts_->settings.sample, parts_->settings.store, parts_->world)))
    return std::move(findings).refusal<std::string>();
  parts_->wire = std::make_unique<Wire>(parts_->settings.limits, parts_->site());
  parts_->works = std::make_unique<Works>(works_most, [this] { parts_->wire->wake(); });
  const auto port = findings.take(parts_->wire->listen(parts_->settings.address, parts_->settings.port));
  if (!port) return std::move(findings).refusal<std::string>();
  parts_->journal =
      std::make_unique<Journal>(parts_->settings.store, parts_->world, parts_->log, [this] { parts_->wire->wake(); });
  const auto& address = parts_->settings.address;
  const bool six = address.find(':') != std::string::npos;
  return std::move(findings).answer(fmt::format("http://{}:{}/", six ? "[" + address + "]" : address, *port));
}

void Server::run() {
  parts_->log.info("started", {{"address", parts_->settings.address}});
  parts_->wire->run();
  parts_->log.info("stopped");
}

void Server::stop() {
  parts_->wire->stop();
}

}  // namespace barm::serve
