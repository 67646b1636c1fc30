#include "serve/log.h"

#include "cards/local_time.h"

namespace barm::serve {

void Log::line(const char* level, const char* event, const Facts& facts) {
  Facts all = {{"at", cards::iso_text(now_(), "UTC")}, {"level", level}, {"event", event}};
  all.update(facts);
  const std::string text = all.dump(-1, ' ', true, Facts::error_handler_t::replace) + "\n";
  const std::lock_guard<std::mutex> alone(one_at_a_time_);
  write_(text);
}

}  // namespace barm::serve
