#include "serve/journal.h"

#include <algorithm>
#include <chrono>

#include "cards/local_time.h"
#include "operations/record_store.h"

namespace barm::serve {
namespace {

constexpr std::size_t kept_most = 1000;                         // judged: an evening of a busy garden
constexpr auto between_looks = std::chrono::milliseconds(200);  // a look is one number out of an index

News news_of(records::Store& store, const records::Entry& entry) {
  News news{.number = entry.number, .kind = entry.kind, .about = {entry.id}};
  if (!entry.replaces.empty()) news.about.push_back(entry.replaces);
  operations::Json names = operations::Json::object();
  const records::Kind& kind = *store.kinds().find(entry.kind);
  auto values = entry.values;
  if (entry.withdraws) {  // says nothing itself: what it withdraws named the brew
    if (const auto was = store.find(entry.replaces); was.ok()) values = was->values;
  }
  for (std::size_t i = 0; i < values.size() && i < kind.fields.size(); ++i) {
    if (kind.fields[i].type != records::Type::reference || !records::is_given(values[i])) continue;
    news.about.push_back(std::get<std::string>(values[i]));
    names[kind.fields[i].name] = news.about.back();
  }
  operations::Json data = {
      {"number", entry.number}, {"id", entry.id}, {"kind", entry.kind}, {"names", std::move(names)}};
  if (!entry.replaces.empty()) data["replaces"] = entry.replaces;
  if (entry.withdraws) data["withdraws"] = true;
  if (!entry.recorded_by.empty()) data["by"] = entry.recorded_by;
  data["recorded_at"] = cards::iso_text(entry.recorded_at, "UTC");
  news.data = data.dump(-1, ' ', false, operations::Json::error_handler_t::replace);
  return news;
}

}  // namespace

std::int64_t last_number(records::Store& store) {
  return store.connection().whole("SELECT max(number) FROM entry");
}

std::vector<News> news_after(records::Store& store, std::int64_t after, std::int64_t most) {
  const auto last = std::min(last_number(store), after + most);
  std::vector<News> all;
  if (last <= after) return all;
  for (const auto& entry : store.read(after + 1, last)) all.push_back(news_of(store, entry));
  return all;
}

Journal::Journal(std::string store, const operations::World& world, Log& log, std::function<void()> changed)
    : store_(std::move(store)), world_(world), log_(log), changed_(std::move(changed)) {
  Findings findings;
  if (auto opened = findings.take(operations::open_store(store_, world_))) {
    const auto number =
        findings.take(records::or_refusal<std::int64_t>([&] { return Answer<std::int64_t>(last_number(*opened)); }));
    last_ = forgotten_ = number.value_or(0);
  }
  thread_ = std::thread([this] { watch(); });
}

Journal::~Journal() {
  {
    const std::lock_guard<std::mutex> alone(mutex_);
    ends_ = true;
  }
  wake_.notify_all();
  thread_.join();
}

void Journal::nudge() {
  {
    const std::lock_guard<std::mutex> alone(mutex_);
    nudged_ = true;
  }
  wake_.notify_all();
}

Journal::Reading Journal::since(std::int64_t number) const {
  const std::lock_guard<std::mutex> alone(mutex_);
  Reading reading{.last = last_, .gap = number < forgotten_};
  for (auto at = latest_.rbegin(); at != latest_.rend() && at->number > number; ++at) reading.news.push_back(*at);
  std::reverse(reading.news.begin(), reading.news.end());
  return reading;
}

/// A failing record is tried again; it is told once, until it works again.
void Journal::watch() {
  std::optional<records::Store> store;
  bool failing = false;
  std::unique_lock<std::mutex> lock(mutex_);
  while (!ends_) {
    lock.unlock();
    Findings findings;
    if (!store) {
      if (auto opened = findings.take(operations::open_store(store_, world_))) store.emplace(std::move(*opened));
    }
    if (store) {
      findings.take(records::or_refusal<bool>([&] {
        look(*store);
        return Answer<bool>(true);
      }));
    }
    if (findings.refused() && !failing) log_.warning("record_fails", {{"code", findings.refusals().front().code}});
    if (findings.refused()) store.reset();
    failing = findings.refused();
    lock.lock();
    wake_.wait_for(lock, between_looks, [&] { return ends_ || nudged_; });
    nudged_ = false;
  }
}

void Journal::look(records::Store& store) {
  std::int64_t known = 0;
  {
    const std::lock_guard<std::mutex> alone(mutex_);
    known = last_;
  }
  auto news = news_after(store, known, kept_most);
  if (news.empty()) return;
  {
    const std::lock_guard<std::mutex> alone(mutex_);
    last_ = news.back().number;
    for (auto& one : news) latest_.push_back(std::move(one));
    while (latest_.size() > kept_most) {
      forgotten_ = latest_.front().number;
      latest_.pop_front();
    }
  }
  changed_();
}

}  // namespace barm::serve
