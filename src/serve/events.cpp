#include "serve/events.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>

#include "operations/record_store.h"
#include "serve/refusal.h"

namespace barm::serve {
namespace {

constexpr std::int64_t missed_most = 1000;  // more is quicker read anew than told one by one

struct Wanted {
  std::vector<std::string> kinds{};  // none: all
  std::string about{};               // empty: all
  bool holds(const News& news) const {
    const auto among = [](const std::vector<std::string>& all, const std::string& one) {
      return std::find(all.begin(), all.end(), one) != all.end();
    };
    return (kinds.empty() || among(kinds, news.kind)) && (about.empty() || among(news.about, about));
  }
};

std::string frame(const char* event, std::int64_t number, const std::string& data) {
  return fmt::format("id: {}\nevent: {}\ndata: {}\n\n", number, event, data);
}

std::string numbered(std::int64_t number) {
  return fmt::format("{{\"number\":{}}}", number);
}

class Listening : public Feed {
 public:
  Listening(const Journal& journal, Wanted wanted, std::int64_t after, std::string first)
      : journal_(journal), wanted_(std::move(wanted)), last_(after), first_(std::move(first)) {}

  std::string next() override {
    std::string text = std::exchange(first_, {});
    const auto reading = journal_.since(last_);
    if (reading.gap) text += frame("gap", reading.last, numbered(reading.last));
    for (const auto& news : reading.news) {
      if (!reading.gap && wanted_.holds(news)) text += frame("entry", news.number, news.data);
    }
    last_ = std::max(last_, reading.last);
    return text;
  }
  std::string closing() override { return "event: closing\ndata: {}\n\n"; }

 private:
  const Journal& journal_;
  Wanted wanted_;
  std::int64_t last_ = 0;
  std::string first_;
};

/// Number after which to tell; nothing when none was given. Anything else than a number counts from the beginning.
std::optional<std::int64_t> given_number(const Request& request) {
  std::string text(request.header("last-event-id"));
  if (text.empty()) text = request.parameter("after");
  if (text.empty()) return std::nullopt;
  std::int64_t number = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  const bool whole = error == std::errc() && end == text.data() + text.size() && number >= 0;
  return whole ? number : 0;
}

std::vector<std::string> words_of(const std::string& list) {
  std::vector<std::string> words;
  std::string_view rest = list;
  while (!rest.empty()) {
    const auto word = rest.substr(0, rest.find(','));
    if (!word.empty()) words.emplace_back(word);
    rest.remove_prefix(std::min(rest.size(), word.size() + 1));
  }
  return words;
}

}  // namespace

bool reads_record(const Request& request, const Journal& journal) {
  const auto after = given_number(request);
  if (!after) return false;
  const auto known = journal.since(*after);
  return known.gap || *after > known.last;
}

Response listen_to(const Request& request, const Journal& journal, const std::string& store,
                   const operations::World& world, const operations::Voice& voice) {
  Wanted wanted{.kinds = words_of(request.parameter("kind")), .about = request.parameter("about")};
  for (const auto& kind : wanted.kinds) {
    if (records::all_kinds().find(kind) != nullptr) continue;
    const auto known = records::all_kinds().names();
    const Remark why{"operations.input.not_a_choice",
                     "kind",
                     {{"given", kind.substr(0, 100)}, {"allowed", fmt::format("{}", fmt::join(known, ", "))}}};
    return refused(400, why, voice);
  }
  auto standing = journal.since(records::known_now).last;
  auto after = given_number(request).value_or(standing);
  std::vector<News> missed;
  bool gap = false;
  if (reads_record(request, journal)) {
    Findings findings;
    auto opened = findings.take(operations::open_store(store, world));
    const auto read = opened ? findings.take(records::or_refusal<bool>([&] {
      standing = last_number(*opened);
      gap = standing - after > missed_most;
      if (!gap) missed = news_after(*opened, after, missed_most);
      return Answer<bool>(true);
    }))
                             : std::nullopt;
    if (!read) return refused(503, findings.refusals().front(), voice);
    after = standing;  // a number beyond it is of another record
  }
  std::string first = "retry: 2000\n" + frame("standing", standing, numbered(standing));
  if (gap) first += frame("gap", standing, numbered(standing));
  for (const auto& news : missed) {
    if (wanted.holds(news)) first += frame("entry", news.number, news.data);
  }
  return {.type = "text/event-stream",
          .headers = {{"Cache-Control", "no-store"}, {"X-Accel-Buffering", "no"}},
          .feed = std::make_shared<Listening>(journal, std::move(wanted), after, std::move(first))};
}

}  // namespace barm::serve
