// Conduct on the wire, whatever comes in. Forms: RFC 9112 (HTTP/1.1), RFC 9110 (semantics).
#include "serve/wire.h"

#include <random>

#include "serve/serving.h"

namespace barm::serve {
namespace {

const std::string question = R"({"temperature": "20 degC"})";

TEST(Wire, a_request_in_crumbs_is_answered) {
  const Serving serving;
  Caller caller(serving.port());
  for (const char c : request_text("POST", "/api/water/oxygen", question)) ASSERT_TRUE(caller.send({&c, 1}));
  EXPECT_EQ(caller.reply().status, 200);
}

TEST(Wire, requests_sent_together_are_answered_in_order) {
  const Serving serving;
  Caller caller(serving.port());
  caller.send(request_text("POST", "/api/water/oxygen", question) + request_text("GET", "/nowhere") +
              request_text("POST", "/api/water/oxygen", question));
  EXPECT_EQ(caller.reply().status, 200);
  EXPECT_EQ(caller.reply().status, 404);
  EXPECT_EQ(caller.reply().status, 200);
}

TEST(Wire, a_body_in_chunks_is_read_whole) {
  const Serving serving;
  Caller caller(serving.port());
  caller.send(
      "POST /api/water/oxygen HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\nTransfer-Encoding: "
      "chunked\r\n\r\n10\r\n{\"temperature\":\"\r\n9\r\n20 degC\"}\r\n0\r\n\r\n");
  EXPECT_EQ(caller.reply().status, 200);
}

TEST(Wire, what_is_no_request_is_answered_400) {
  const Serving serving;
  for (const std::string text : {
           "\r\n\r\nfoo\r\n\r\n",
           "GET\r\n\r\n",
           "GET / HTTP/9.9\r\nHost: localhost\r\n\r\n",
           "GET / HTTP/1.1\r\n\r\n",                                        // no host
           "GET / HTTP/1.1\r\nHost: localhost\r\nHost: localhost\r\n\r\n",  // two
           "GET / HTTP/1.1\r\nHost localhost\r\n\r\n",
           "GET / HTTP/1.1\r\nHost : localhost\r\n\r\n",
           "GET /%zz HTTP/1.1\r\nHost: localhost\r\n\r\n",
           "GET /%00 HTTP/1.1\r\nHost: localhost\r\n\r\n",
           "GET http://localhost/ HTTP/1.1\r\nHost: localhost\r\n\r\n",
           "POST / HTTP/1.1\r\nHost: localhost\r\nContent-Length: -1\r\n\r\n",
           "POST / HTTP/1.1\r\nHost: localhost\r\nContent-Length: 1\r\nContent-Length: 2\r\n\r\nab",
           "POST / HTTP/1.1\r\nHost: localhost\r\nContent-Length: 2\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\n",
           "POST / HTTP/1.1\r\nHost: localhost\r\nTransfer-Encoding: chunked\r\n\r\nxyz\r\n",
       }) {
    Caller caller(serving.port());
    caller.send(text);
    const auto reply = caller.reply();
    EXPECT_EQ(reply.status, 400) << text;
    EXPECT_EQ(reply.first_code(), "serve.request.malformed") << text;
  }
  EXPECT_EQ(post(serving, "/api/water/oxygen", Json::parse(question)).status, 200);
}

TEST(Wire, a_head_too_long_is_431) {
  const Serving serving;
  const auto reply = ask(serving, "GET", "/", "", "X-Long: " + std::string(20'000, 'x') + "\r\n");
  EXPECT_EQ(reply.status, 431);
  EXPECT_EQ(reply.header("Connection"), "close");
}

TEST(Wire, a_body_is_read_up_to_its_limit) {
  const Serving serving({.body_bytes_most = 1000});
  const auto padded = [](std::size_t size) { return question + std::string(size - question.size(), ' '); };
  EXPECT_EQ(ask(serving, "POST", "/api/water/oxygen", padded(1000)).status, 200);
  EXPECT_EQ(ask(serving, "POST", "/api/water/oxygen", padded(1001)).status, 413);
  Caller chunked(serving.port());
  chunked.send("POST /api/water/oxygen HTTP/1.1\r\nHost: localhost\r\nTransfer-Encoding: chunked\r\n\r\n800\r\n" +
               std::string(0x800, ' ') + "\r\n0\r\n\r\n");
  EXPECT_EQ(chunked.reply().status, 413);
}

TEST(Wire, a_body_too_long_is_refused_before_it_is_sent) {
  const Serving serving;
  Caller caller(serving.port());
  caller.send(
      "POST /api/water/oxygen HTTP/1.1\r\nHost: localhost\r\nExpect: 100-continue\r\nContent-Length: 99999999\r\n\r\n");
  EXPECT_EQ(caller.reply().status, 413);
}

TEST(Wire, who_waits_to_go_on_is_told_to) {
  const Serving serving;
  Caller caller(serving.port());
  const std::string text = request_text("POST", "/api/water/oxygen", question, "Expect: 100-continue\r\n");
  caller.send(text.substr(0, text.size() - question.size()));
  EXPECT_EQ(caller.reply().status, 100);
  caller.send(question);
  EXPECT_EQ(caller.reply().status, 200);
  EXPECT_EQ(ask(serving, "GET", "/", "", "Expect: the-moon\r\n").status, 417);
}

TEST(Wire, a_slow_head_and_a_slow_body_are_given_up) {
  using std::chrono::milliseconds;
  const Serving serving({.header_time = milliseconds(150), .body_time = milliseconds(150)});
  Caller head(serving.port());
  head.send("GET / HT");
  EXPECT_EQ(head.reply().status, 408);
  Caller body(serving.port());
  body.send("POST /api/water/oxygen HTTP/1.1\r\nHost: localhost\r\nContent-Length: 50\r\n\r\n{");
  EXPECT_EQ(body.reply().status, 408);
}

TEST(Wire, an_idle_connection_is_closed_in_silence) {
  const Serving serving({.idle_time = std::chrono::milliseconds(100)});
  Caller caller(serving.port());
  caller.read_until([](const std::string&) { return false; }, 2000);
  EXPECT_TRUE(caller.closed());
  EXPECT_EQ(caller.came(), "");
}

TEST(Wire, a_head_request_has_the_length_but_no_body) {
  const Serving serving;
  const auto reply = ask(serving, "HEAD", "/");
  EXPECT_EQ(reply.status, 200);
  EXPECT_EQ(reply.header("Content-Length"), ask(serving, "GET", "/").header("Content-Length"));
  EXPECT_EQ(reply.body, "");
}

TEST(Wire, one_connection_too_many_is_told_so) {
  const Serving serving({.connections_most = 2});
  Caller first(serving.port()), second(serving.port());
  first.send(request_text("GET", "/"));
  second.send(request_text("GET", "/"));
  EXPECT_EQ(first.reply().status, 200);
  EXPECT_EQ(second.reply().status, 200);
  Caller third(serving.port());
  const auto reply = third.reply();
  EXPECT_EQ(reply.status, 503);
  EXPECT_EQ(reply.first_code(), "serve.request.too_many");
  EXPECT_NE(reply.header("Retry-After"), "");
}

TEST(Wire, a_stop_lets_the_running_answer_finish) {
  Serving serving;
  Caller caller(serving.port());
  Json plan = sample_plan();
  plan["brew"]["members"] = 2000;
  caller.send(request_text("POST", "/api/brew/plan", plan.dump()));
  std::this_thread::sleep_for(std::chrono::milliseconds(100));
  serving.stop();
  const auto reply = caller.reply();
  EXPECT_EQ(reply.status, 200);
  EXPECT_TRUE(reply.json().contains("verdict"));
  EXPECT_FALSE(Caller(serving.port()).connected());
}

TEST(Wire, a_stop_waits_for_nobody_who_is_idle) {
  Serving serving;
  Caller caller(serving.port());
  caller.send(request_text("GET", "/"));
  EXPECT_EQ(caller.reply().status, 200);
  const auto begun = std::chrono::steady_clock::now();
  serving.stop();
  EXPECT_LT(std::chrono::steady_clock::now() - begun, std::chrono::seconds(2));
}

/// Requests that are nearly right are worse than noise: each is a good one with some bytes changed, left out or put in.
TEST(Wire, nearly_right_bytes_never_stop_it) {
  const Serving serving({.header_time = std::chrono::milliseconds(300), .body_time = std::chrono::milliseconds(300)});
  std::mt19937 chance(20261125);
  const auto below = [&](std::size_t most) { return std::uniform_int_distribution<std::size_t>(0, most - 1)(chance); };
  const std::string seeds[] = {
      request_text("POST", "/api/water/oxygen", question),
      request_text("GET", "/api/events?after=3", "", "Last-Event-ID: 4\r\n"),
      "POST /api/record/list HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\nTransfer-Encoding: "
      "chunked\r\n\r\n10\r\n{\"kind\":\"reading\r\n2\r\n\"}\r\n0\r\n\r\n"};
  for (int round = 0; round < 400; ++round) {
    std::string text = seeds[below(3)];
    for (std::size_t changes = 1 + below(8); changes > 0; --changes) {
      const auto at = below(text.size());
      const char byte = static_cast<char>(below(256));
      switch (below(4)) {
        case 0:
          text[at] = byte;
          break;
        case 1:
          text.erase(at, 1 + below(10));
          break;
        case 2:
          text.insert(at, 1 + below(10), byte);
          break;
        default:
          text.insert(at, text.substr(below(text.size()), below(40)));
      }
      if (text.empty()) text = "x";
    }
    Caller caller(serving.port());
    caller.send(text);
    caller.half_close();
    caller.read_until([](const std::string& came) { return came.size() > 12; }, 1000);
    EXPECT_TRUE(caller.came().empty() || caller.came().starts_with("HTTP/1.1 ")) << caller.came().substr(0, 40);
  }
  EXPECT_EQ(post(serving, "/api/water/oxygen", Json::parse(question)).status, 200);
}

}  // namespace
}  // namespace barm::serve
