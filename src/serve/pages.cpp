#include "serve/pages.h"

#include <algorithm>
#include <boost/algorithm/string/replace.hpp>

namespace barm::serve {
namespace {

bool accepts_gzip(const Request& request) {
  const auto accepted = request.header("accept-encoding");
  const auto at = accepted.find("gzip");
  return at != std::string_view::npos && !accepted.substr(at + 4).starts_with(";q=0,") &&
         accepted.substr(at + 4) != ";q=0";
}

}  // namespace

const Page* page_at(std::string_view path) {
  if (path == "/") path = "/index.html";
  const auto& all = all_pages();
  const auto at = std::find_if(all.begin(), all.end(), [&](const Page& page) { return page.path == path; });
  return at == all.end() ? nullptr : &*at;
}

Response show(const Page& page, const Request& request) {
  Response response{.type = std::string(page.type)};
  response.headers = {{"ETag", std::string(page.tag)},
                      {"Cache-Control", page.is_forever ? "public, max-age=31536000, immutable" : "no-cache"},
                      {"Vary", "Accept-Encoding"}};
  if (request.header("if-none-match").find(page.tag) != std::string_view::npos) {
    response.status = 304;
    return response;
  }
  const bool small = !page.gzip.empty() && accepts_gzip(request);
  if (small) response.headers.emplace_back("Content-Encoding", "gzip");
  response.body = small ? page.gzip : page.content;
  return response;
}

Response show_lost(const Page& first, std::string_view path) {
  std::string up = "./";
  for (auto depth = std::count(path.begin(), path.end(), '/'); depth > 1; --depth) up += "../";
  std::string body(first.content);
  boost::algorithm::replace_all(body, "=\"./", "=\"" + up);
  boost::algorithm::replace_all(body, "id=\"page\"", "id=\"page\" data-lost=\"" + up + "\"");
  return {.status = 404, .type = std::string(first.type), .headers = {{"Cache-Control", "no-store"}}, .body = body};
}

}  // namespace barm::serve
