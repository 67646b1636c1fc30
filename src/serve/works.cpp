#include "serve/works.h"

#include <fmt/format.h>

#include <cmath>
#include <optional>

#include "operations/document.h"

namespace barm::serve {

struct Works::Work {
  std::atomic<bool> is_called_off = false;
  std::atomic<bool> is_over = false;
  std::mutex mutex;  // guards what stands below
  int percent = 0;
  std::optional<Response> came;
  std::thread thread;
};

namespace {

std::string event(const char* name, const std::string& data) {
  return fmt::format("event: {}\ndata: {}\n\n", name, data);
}

/// What came of it: the answer, or why there is none, with the status it would have had.
std::string last_event(const Response& came) {
  if (came.status == 200) return event("answer", came.body);  // JSON in one line
  auto told = operations::Json::parse(came.body, nullptr, false);
  if (!told.is_object()) told = operations::Json::object();
  told["status"] = came.status;
  return event("refused", told.dump(-1, ' ', false, operations::Json::error_handler_t::replace));
}

template <class Work>
class Watching : public Feed {
 public:
  explicit Watching(std::shared_ptr<Work> work) : work_(std::move(work)) {}
  ~Watching() override { work_->is_called_off = true; }  // nobody waits for it any more
  Watching(const Watching&) = delete;
  Watching& operator=(const Watching&) = delete;

  std::string next() override {
    const std::lock_guard<std::mutex> alone(work_->mutex);
    std::string text;
    if (work_->percent != told_) text = event("progress", fmt::format("{{\"share\":{}}}", work_->percent / 100.0));
    told_ = work_->percent;
    if (work_->came && !ended_) text += last_event(*work_->came);
    ended_ = work_->came.has_value();
    return text;
  }
  std::string closing() override { return "event: closing\ndata: {}\n\n"; }
  bool ended() const override { return ended_; }

 private:
  std::shared_ptr<Work> work_;
  int told_ = -1;
  bool ended_ = false;
};

}  // namespace

Works::~Works() {
  for (const auto& work : works_) work->is_called_off = true;
  for (const auto& work : works_) work->thread.join();
}

void Works::forget_ended() {
  for (auto at = works_.begin(); at != works_.end();) {
    if (!(*at)->is_over) {
      ++at;
      continue;
    }
    (*at)->thread.join();
    at = works_.erase(at);
  }
}

std::shared_ptr<Feed> Works::begin(std::function<Response(const Watch&)> work) {
  const std::lock_guard<std::mutex> alone(mutex_);
  forget_ended();
  if (works_.size() >= most_) return nullptr;
  auto one = std::make_shared<Work>();
  works_.push_back(one);
  one->thread = std::thread([one, work = std::move(work), wake = wake_] {
    const Watch watch{.progress =
                          [&](double share) {
                            const int percent = static_cast<int>(std::lround(share * 100.0));
                            {
                              const std::lock_guard<std::mutex> alone_there(one->mutex);
                              if (percent <= one->percent) return;
                              one->percent = percent;
                            }
                            wake();
                          },
                      .should_stop = [&]() -> bool { return one->is_called_off; }};
    Response came = work(watch);
    {
      const std::lock_guard<std::mutex> alone_there(one->mutex);
      one->came = std::move(came);
    }
    wake();
    one->is_over = true;
  });
  return std::make_shared<Watching<Work>>(one);
}

}  // namespace barm::serve
