// Questions told as they are worked out. Frames as an event stream is written: WHATWG HTML, 9.2.
#include "serve/works.h"

#include "serve/serving.h"

namespace barm::serve {
namespace {

using std::chrono::milliseconds;

const std::string watched = "Accept: text/event-stream\r\n";

/// All that comes until the server closes.
std::string stream(const Serving& serving, const std::string& path, const Json& body) {
  Caller caller(serving.port());
  caller.send(request_text("POST", path, body.dump(), watched));
  caller.read_until([](const std::string&) { return false; }, 60'000);
  EXPECT_TRUE(caller.closed());
  return caller.came();
}
/// The data of the first event of that name; null when there is none.
Json data_of(const std::string& came, const std::string& name) {
  const auto at = came.find("event: " + name + "\ndata: ");
  if (at == std::string::npos) return nullptr;
  const auto from = at + name.size() + 14;
  return Json::parse(came.substr(from, came.find("\n\n", from) - from), nullptr, false);
}
Json design(int members) {
  const auto document = operations::read_toml(content(std::string(BARM_EXAMPLES_DIR) + "/saturday_beans.toml"));
  EXPECT_TRUE(document.ok());
  Json tree = document->tree;
  tree["brew"]["members"] = members;
  return tree;
}
template <class Holds>
bool soon(Holds holds) {
  for (int tries = 0; tries < 500; ++tries) {
    if (holds()) return true;
    std::this_thread::sleep_for(milliseconds(20));
  }
  return false;
}
/// Work that ends only when it is called off.
Response until_called_off(const Watch& watch) {
  while (!watch.should_stop()) std::this_thread::sleep_for(milliseconds(1));
  return {.status = 400, .type = "application/json", .headers = {}, .body = "{}"};
}

TEST(Works, a_question_watched_is_answered_as_one_that_is_not) {
  const Serving serving;
  const Json question = {{"temperature", "20 degC"}};
  const auto came = stream(serving, "/api/water/oxygen", question);
  EXPECT_NE(came.find("Content-Type: text/event-stream"), std::string::npos);
  EXPECT_EQ(data_of(came, "answer"), post(serving, "/api/water/oxygen", question).json());
}

TEST(Works, what_is_wrong_is_told_with_the_status_it_would_have_had) {
  const Serving serving;
  const auto told = data_of(stream(serving, "/api/water/oxygen", {{"temperature", "warm"}}), "refused");
  EXPECT_EQ(told["status"], 400);
  EXPECT_EQ(told["refusals"][0]["field"], "temperature");
}

TEST(Works, a_file_is_not_told_as_events) {
  const Serving serving;
  Json plan = sample_plan();
  plan["card"] = "card.pdf";
  const auto told = data_of(stream(serving, "/api/brew/plan", plan), "refused");
  EXPECT_EQ(told["status"], 406);
  EXPECT_EQ(told["refusals"][0]["code"], "serve.request.download_watched");
}

TEST(Works, the_record_is_written_at_once_or_not_at_all) {
  const Serving serving;
  const auto reply = post(serving, "/api/record/add-garden", {{"name", "A"}, {"zone", "UTC"}}, watched);
  EXPECT_EQ(reply.status, 200);
  EXPECT_TRUE(reply.json().contains("id"));
}

TEST(Works, a_design_says_how_far_it_is_and_never_goes_back) {
  const Serving serving;
  const auto came = stream(serving, "/api/recipe/design", design(32));
  double last = -1.0;
  int told_count = 0;
  const std::string mark = "event: progress\ndata: {\"share\":";
  for (auto at = came.find(mark); at != std::string::npos; at = came.find(mark, at + 1), ++told_count) {
    const double share = std::stod(came.substr(at + mark.size()));
    EXPECT_GT(share, last);
    last = share;
  }
  EXPECT_GT(told_count, 5);
  EXPECT_EQ(data_of(came, "answer")["designs"][0]["role"], "best");
}

TEST(Works, who_leaves_calls_the_work_off) {
  const Serving serving;
  for (int turn = 0; turn < 3; ++turn) {  // four at a time: were one of them to go on, the last turn would be refused
    std::vector<std::unique_ptr<Caller>> callers;
    for (int i = 0; i < 4; ++i) {
      EXPECT_TRUE(soon([&] {
        auto caller = std::make_unique<Caller>(serving.port());
        caller->send(request_text("POST", "/api/recipe/design", design(512).dump(), watched));
        caller->read_until([](const std::string& text) { return text.find("\r\n\r\n") != std::string::npos; });
        const bool begun = caller->came().starts_with("HTTP/1.1 200");
        if (begun) callers.push_back(std::move(caller));
        return begun;
      }));
    }
    const auto full = post(serving, "/api/recipe/design", design(512), watched);
    EXPECT_TRUE(full.status == 503 || full.status == 200);  // 200: one of them was quick
  }
}

TEST(Works, the_server_stops_though_a_design_runs) {
  Serving serving;
  Caller caller(serving.port());
  caller.send(request_text("POST", "/api/recipe/design", design(512).dump(), watched));
  caller.read_until([](const std::string& text) { return text.find("event: progress") != std::string::npos; });
  const auto begun = std::chrono::steady_clock::now();
  serving.stop();
  EXPECT_LT(std::chrono::steady_clock::now() - begun, milliseconds(4000));
  caller.read_until([](const std::string&) { return false; });
  EXPECT_NE(caller.came().find("event: closing"), std::string::npos);
}

TEST(Works, a_feed_left_behind_calls_its_work_off) {
  std::atomic<bool> is_over = false;
  Works works(1, [] {});
  auto feed = works.begin([&](const Watch& watch) {
    auto response = until_called_off(watch);
    is_over = true;
    return response;
  });
  ASSERT_NE(feed, nullptr);
  EXPECT_EQ(works.begin(until_called_off), nullptr);  // one at a time
  EXPECT_FALSE(is_over);
  feed.reset();
  EXPECT_TRUE(soon([&] { return is_over.load(); }));
  EXPECT_TRUE(soon([&] { return works.begin(until_called_off) != nullptr; }));
}

TEST(Works, progress_is_told_in_whole_hundredths_and_only_forward) {
  std::atomic<int> woken_count = 0;
  Works works(1, [&] { ++woken_count; });
  auto feed = works.begin([](const Watch& watch) {
    for (const double share : {0.101, 0.102, 0.05, 0.5}) watch.progress(share);
    return Response{.status = 200, .type = "application/json", .headers = {}, .body = "{\"a\":1}"};
  });
  ASSERT_NE(feed, nullptr);
  ASSERT_TRUE(soon([&] { return woken_count == 3; }));  // 10 and 50 of 100, and the answer
  EXPECT_EQ(feed->next(), "event: progress\ndata: {\"share\":0.5}\n\nevent: answer\ndata: {\"a\":1}\n\n");
  EXPECT_TRUE(feed->ended());
  EXPECT_EQ(feed->next(), "");
}

}  // namespace
}  // namespace barm::serve
