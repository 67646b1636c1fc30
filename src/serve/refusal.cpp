#include "serve/refusal.h"

#include <cstdlib>

namespace barm::serve {
namespace {

std::string_view trimmed(std::string_view text) {
  while (!text.empty() && (text.front() == ' ' || text.front() == '\t')) text.remove_prefix(1);
  while (!text.empty() && (text.back() == ' ' || text.back() == '\t')) text.remove_suffix(1);
  return text;
}

/// "0.8" of "es;q=0.8"; 1 when it says none.
double liking(std::string_view range) {
  const auto at = range.find(";q=");
  if (at == std::string_view::npos) return 1.0;
  const std::string number(range.substr(at + 3, 5));
  return std::strtod(number.c_str(), nullptr);
}

}  // namespace

cards::Language language_of(const Request& request, cards::Language otherwise) {
  auto best = otherwise;
  double most = 0.0;
  std::string_view rest = request.header("accept-language");
  while (!rest.empty()) {
    const auto range = trimmed(rest.substr(0, rest.find(',')));
    rest.remove_prefix(std::min(rest.size(), std::min(rest.find(','), rest.size()) + 1));
    const auto tag = range.substr(0, range.find_first_of("-;"));
    const bool spanish = tag == "es" || tag == "ES";
    if (!spanish && tag != "en" && tag != "EN") continue;
    if (const double much = liking(range); much > most) {
      most = much;
      best = spanish ? cards::Language::spanish : cards::Language::english;
    }
  }
  return best;
}

Response json(int status, const operations::Json& body) {
  return {.status = status,
          .type = "application/json",
          .headers = {{"Cache-Control", "no-store"}},
          .body = body.dump(-1, ' ', false, operations::Json::error_handler_t::replace)};
}

Response refused(int status, const Remark& why, const operations::Voice& voice) {
  Response response = json(status, {{"refusals", operations::Json::array({operations::remark_json(why, voice)})}});
  if (status == 503 || status == 429) response.headers.emplace_back("Retry-After", "2");
  return response;
}

}  // namespace barm::serve
