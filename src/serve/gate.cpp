#include "serve/gate.h"

#include <arpa/inet.h>

#include <algorithm>

namespace barm::serve {
namespace {

/// Without the port: "localhost" of "localhost:8787", "[::1]" of "[::1]:8787".
std::string_view without_port(std::string_view host) {
  if (host.starts_with('[')) return host.substr(0, host.find(']') + 1);
  return host.substr(0, host.find(':'));
}

/// An address in figures: no name stands between that someone else could point elsewhere.
bool is_address(std::string_view host) {
  std::string text(host);
  if (text.starts_with('[') && text.ends_with(']')) {
    text = text.substr(1, text.size() - 2);
    in6_addr six{};
    return inet_pton(AF_INET6, text.c_str(), &six) == 1;
  }
  in_addr four{};
  return inet_pton(AF_INET, text.c_str(), &four) == 1;
}

std::string cut(std::string_view text) {
  return std::string(text.substr(0, 100));
}

/// What may come from anywhere: following a link to a page.
bool changes_nothing(const Request& request) {
  return (request.method == "GET" || request.method == "HEAD") && !request.path.starts_with("/api/");
}

}  // namespace

bool Gate::is_own_name(std::string_view host) const {
  const auto name = without_port(host);
  if (name == "localhost" || is_address(name)) return true;
  return std::find(names_.begin(), names_.end(), name) != names_.end();
}

std::optional<Turned> Gate::turned_away(const Request& request) const {
  const auto host = request.header("host");
  if (request.count("host") != 1 || request.path.empty()) return Turned{400, {"serve.request.malformed", "", {}}};
  if (!is_own_name(host)) return Turned{421, {"serve.request.other_host", "", {{"given", cut(host)}}}};
  const auto other_site = [&](std::string_view given) {
    return Turned{403, {"serve.request.other_site", "", {{"given", cut(given)}}}};
  };
  const auto origin = request.header("origin");
  if (!origin.empty() && request.method != "GET" && request.method != "HEAD") {
    const auto at = origin.find("://");
    if (at == std::string_view::npos || origin.substr(at + 3) != host) return other_site(origin);
  }
  const auto from = request.header("sec-fetch-site");
  if ((from == "cross-site" || from == "same-site") && !changes_nothing(request)) return other_site(from);
  return std::nullopt;
}

}  // namespace barm::serve
