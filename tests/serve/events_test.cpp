// News of the record as a browser's EventSource gets it (WHATWG HTML, 9.2: id, event, data, a blank line).
#include "operations/record_store.h"
#include "serve/serving.h"

namespace barm::serve {
namespace {

void listen(Caller& caller, const std::string& query = {}, const std::string& headers = {}) {
  caller.send(request_text("GET", "/api/events" + query, "", headers));
}
void wait_for(Caller& caller, const std::string& text) {
  caller.read_until([&](const std::string& came) { return came.find(text) != std::string::npos; });
  EXPECT_NE(caller.came().find(text), std::string::npos) << "got: " << caller.came();
}
std::string add_garden(const Serving& serving, const std::string& name) {
  const auto reply = post(serving, "/api/record/add-garden", {{"name", name}, {"zone", "UTC"}});
  EXPECT_EQ(reply.status, 200);
  return reply.json()["id"];
}

TEST(Events, an_entry_is_told_to_who_listens) {
  const Serving serving;
  Caller caller(serving.port());
  listen(caller);
  wait_for(caller, "event: standing\ndata: {\"number\":0}\n\n");
  const auto id = add_garden(serving, "A");
  wait_for(caller, "id: 1\nevent: entry\ndata: {\"number\":1,\"id\":\"" + id + "\",\"kind\":\"garden\"");
}

TEST(Events, what_another_process_keeps_is_told_as_well) {
  const Serving serving;
  Caller caller(serving.port());
  listen(caller);
  wait_for(caller, "event: standing");
  auto store = operations::open_store(serving.store(), machine());
  ASSERT_TRUE(store.ok());
  const records::Kind& kind = *store->kinds().find("garden");
  records::Entry entry{.id = operations::new_id(machine()), .kind = "garden"};
  entry.values.resize(kind.fields.size());
  entry.values[*kind.position("name")] = std::string("Elsewhere");
  entry.values[*kind.position("zone")] = std::string("UTC");
  ASSERT_TRUE(store.value().add(entry, machine().now()).ok());
  wait_for(caller, entry.id);
}

TEST(Events, after_a_break_what_was_missed_comes_first) {
  const Serving serving;
  add_garden(serving, "A");
  add_garden(serving, "B");
  add_garden(serving, "C");
  Caller by_header(serving.port()), by_query(serving.port()), anew(serving.port());
  listen(by_header, "", "Last-Event-ID: 1\r\n");
  listen(by_query, "?after=2");
  wait_for(by_header, "id: 3\nevent: entry");
  wait_for(by_query, "id: 3\nevent: entry");
  EXPECT_NE(by_header.came().find("id: 2\nevent: entry"), std::string::npos);
  EXPECT_EQ(by_header.came().find("id: 1\nevent: entry"), std::string::npos);
  EXPECT_EQ(by_query.came().find("id: 2\nevent: entry"), std::string::npos);
}

TEST(Events, a_number_of_another_record_counts_from_now) {
  const Serving serving;
  add_garden(serving, "A");
  Caller caller(serving.port());
  listen(caller, "?after=999999");
  wait_for(caller, "event: standing\ndata: {\"number\":1}");
  const auto id = add_garden(serving, "B");
  wait_for(caller, id);
}

TEST(Events, what_was_kept_before_the_server_began_is_read_from_the_record) {
  std::string folder;
  Serving first;
  add_garden(first, "A");
  first.stop();
  Log log([](const std::string&) {}, machine().now);
  Server second({.port = 0, .store = first.store()}, machine(), log);
  const auto url = second.start();
  ASSERT_TRUE(url.ok());
  std::thread running([&] { second.run(); });
  {
    Caller caller(static_cast<std::uint16_t>(std::stoi(url->substr(url->rfind(':') + 1))));
    listen(caller, "?after=0");
    wait_for(caller, "id: 1\nevent: entry");
  }
  second.stop();
  running.join();
}

TEST(Events, a_listener_hears_only_what_it_asked_for) {
  const Serving serving;
  const auto a = add_garden(serving, "A");
  const auto b = add_garden(serving, "B");
  Caller beds(serving.port()), about(serving.port());
  listen(beds, "?kind=bed,person&after=0");
  listen(about, "?after=0&about=" + b);
  const auto bed_of = [&](const char* garden, const char* name) {
    return post(serving, "/api/record/add-bed", {{"garden", garden}, {"name", name}}).json()["id"].get<std::string>();
  };
  const auto north = bed_of("A", "North"), south = bed_of("B", "South");
  wait_for(beds, south);
  wait_for(about, south);
  EXPECT_NE(beds.came().find(north), std::string::npos);
  EXPECT_EQ(about.came().find(north), std::string::npos);
  EXPECT_EQ(beds.came().find("\"kind\":\"garden\""), std::string::npos);
  EXPECT_NE(about.came().find("\"id\":\"" + b), std::string::npos);
  EXPECT_EQ(about.came().find("\"id\":\"" + a), std::string::npos);
  EXPECT_EQ(ask(serving, "GET", "/api/events?kind=dragon").status, 400);
}

TEST(Events, a_withdrawal_is_told_about_what_it_withdraws) {
  const Serving serving;
  const auto garden = add_garden(serving, "A");
  const auto bed =
      post(serving, "/api/record/add-bed", {{"garden", "A"}, {"name", "North"}}).json()["id"].get<std::string>();
  Caller caller(serving.port());
  listen(caller, "?about=" + garden);
  wait_for(caller, "event: standing");
  EXPECT_EQ(post(serving, "/api/record/withdraw", {{"id", bed}, {"reason", "entered twice"}}).status, 200);
  wait_for(caller, "\"withdraws\":true");
}

TEST(Events, a_quiet_stream_is_kept_open) {
  const Serving serving({.heartbeat = std::chrono::milliseconds(100)});
  Caller caller(serving.port());
  listen(caller);
  wait_for(caller, "\n:\n\n");
  EXPECT_FALSE(caller.closed());
}

TEST(Events, streams_beyond_the_limit_are_told) {
  const Serving serving({.feeds_most = 1});
  Caller first(serving.port());
  listen(first);
  wait_for(first, "event: standing");
  EXPECT_EQ(ask(serving, "GET", "/api/events").status, 503);
}

TEST(Events, a_stop_is_told_and_ends_the_stream) {
  Serving serving;
  Caller caller(serving.port());
  listen(caller);
  wait_for(caller, "event: standing");
  serving.stop();
  wait_for(caller, "event: closing");
  caller.read_until([](const std::string&) { return false; }, 1000);
  EXPECT_TRUE(caller.closed());
}

}  // namespace
}  // namespace barm::serve
