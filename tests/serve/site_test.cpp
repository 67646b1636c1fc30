// What a browser, a program and a stranger get.
#include "serve/serving.h"
#include "serve/api.h"
#include "serve/pages.h"
#include "serve/refusal.h"

namespace barm::serve {
namespace {

const Json question = {{"temperature", "20 degC"}};

TEST(Site, only_names_of_its_own_are_answered) {
  const Serving serving;
  for (const char* host : {"localhost", "localhost:8787", "127.0.0.1", "192.168.1.20:80", "[::1]:8787", "shed.local"})
    EXPECT_EQ(ask(serving, "GET", "/", "", std::string("Host: ") + host + "\r\n").status, 200) << host;
  for (const char* host : {"evil.example", "localhost.evil.example", "127.0.0.1.evil.example", "[evil]", ""})
    EXPECT_EQ(ask(serving, "GET", "/", "", std::string("Host: ") + host + "\r\n").status, 421) << host;
}

TEST(Site, pages_of_other_sites_may_not_ask) {
  const Serving serving;
  const auto status = [&](const std::string& headers) {
    return post(serving, "/api/water/oxygen", question, headers).status;
  };
  EXPECT_EQ(status("Origin: http://127.0.0.1\r\n"), 200);
  EXPECT_EQ(status("Origin: http://evil.example\r\n"), 403);
  EXPECT_EQ(status("Origin: null\r\n"), 403);
  EXPECT_EQ(status("Origin: http://127.0.0.1:1234\r\n"), 403);
  EXPECT_EQ(status("Sec-Fetch-Site: same-origin\r\n"), 200);
  EXPECT_EQ(status("Sec-Fetch-Site: cross-site\r\n"), 403);
  EXPECT_EQ(ask(serving, "GET", "/api/events", "", "Sec-Fetch-Site: cross-site\r\n").status, 403);
  EXPECT_EQ(ask(serving, "GET", "/", "", "Sec-Fetch-Site: cross-site\r\n").status, 200);  // a link
}

TEST(Site, a_form_is_no_question) {
  const Serving serving;
  for (const char* type : {"text/plain", "application/x-www-form-urlencoded", "multipart/form-data; boundary=x", ""})
    EXPECT_EQ(post(serving, "/api/water/oxygen", question, std::string("Content-Type: ") + type + "\r\n").status, 415);
  EXPECT_EQ(post(serving, "/api/water/oxygen", question, "Content-Type: Application/JSON; charset=utf-8\r\n").status,
            200);
}

TEST(Site, wrong_paths_and_methods_say_what_is_there) {
  const Serving serving;
  const auto near = post(serving, "/api/water/oxigen", question);
  EXPECT_EQ(near.status, 404);
  EXPECT_EQ(near.json()["refusals"][0]["suggestion"], "/api/water/oxygen");
  EXPECT_EQ(post(serving, "/api/record/add_bed", question).status, 404);
  EXPECT_EQ(post(serving, "/api/record/restore", {{"file", "x"}}).status, 404);
  const auto got = ask(serving, "GET", "/api/water/oxygen");
  EXPECT_EQ(got.status, 405);
  EXPECT_EQ(got.header("Allow"), "POST");
  EXPECT_EQ(ask(serving, "DELETE", "/").header("Allow"), "GET, HEAD");
  EXPECT_EQ(post(serving, "/api/events", question).header("Allow"), "GET");
  EXPECT_EQ(ask(serving, "GET", "/../../etc/passwd").status, 404);
  EXPECT_EQ(ask(serving, "GET", "/%2e%2e/%2e%2e/etc/passwd").status, 404);
}

TEST(Site, a_person_at_a_path_without_a_page_is_shown_one) {
  const Serving serving;
  const auto shown = ask(serving, "GET", "/deep/er/nowhere", "", "Accept: text/html,*/*;q=0.8\r\n");
  EXPECT_EQ(shown.status, 404);
  EXPECT_TRUE(shown.header("Content-Type").starts_with("text/html")) << shown.header("Content-Type");
  EXPECT_EQ(shown.header("Cache-Control"), "no-store");
  const auto count = [](const std::string& text, const std::string& part) {
    int sum = 0;
    for (auto at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) ++sum;
    return sum;
  };
  const auto first = ask(serving, "GET", "/").body;
  EXPECT_EQ(count(shown.body, "=\"./../../"), count(first, "=\"./") + 1) << "files by the way up, and the way home";
  EXPECT_EQ(count(shown.body, "=\"/"), 0) << "none by the root: there may be a prefix before it";
  const auto beside = ask(serving, "GET", "/nowhere", "", "Accept: text/html\r\n");
  EXPECT_EQ(count(beside.body, "=\"./../"), 0);
  EXPECT_EQ(ask(serving, "GET", "/deep/er/nowhere").json()["refusals"][0]["code"], "serve.request.no_page");
}

TEST(Site, every_response_carries_the_guards) {
  const Serving serving;
  for (const auto& reply :
       {ask(serving, "GET", "/"), ask(serving, "GET", "/nowhere"), post(serving, "/api/water/oxygen", question),
        post(serving, "/api/water/oxygen", {}), ask(serving, "GET", "/", "", "Host: evil.example\r\n"),
        ask(serving, "GET", "/api/openapi.json"),
        ask(serving, "GET", "/", "", "X: " + std::string(20'000, 'x') + "\r\n")}) {
    EXPECT_NE(reply.header("Content-Security-Policy").find("frame-ancestors 'none'"), std::string::npos);
    EXPECT_EQ(reply.header("Content-Security-Policy").find("unsafe"), std::string::npos);
    EXPECT_EQ(reply.header("X-Content-Type-Options"), "nosniff");
    EXPECT_EQ(reply.header("Referrer-Policy"), "no-referrer");
  }
}

TEST(Site, words_come_in_the_language_asked_for) {
  const auto of = [](const char* accepted) {
    return language_of({.headers = {{"accept-language", accepted}}}, cards::Language::english);
  };
  EXPECT_EQ(of("es"), cards::Language::spanish);
  EXPECT_EQ(of("es-CO, en;q=0.8"), cards::Language::spanish);
  EXPECT_EQ(of("en;q=0.5, es;q=0.9"), cards::Language::spanish);
  EXPECT_EQ(of("fr, en"), cards::Language::english);
  EXPECT_EQ(of("estonian"), cards::Language::english);
  EXPECT_EQ(of(",,;q=,"), cards::Language::english);
  const Serving serving;
  const auto reply = post(serving, "/api/water/oxygen", {{"temperature", "20"}}, "Accept-Language: es\r\n");
  EXPECT_EQ(reply.status, 400);
  EXPECT_NE(reply.body.find("no lleva unidad"), std::string::npos);
}

TEST(Site, bodies_that_are_no_document_are_refused) {
  const Serving serving;
  for (const std::string body : {"", "[]", "null", "{", "{\"a\":1,\"a\":2}", "\xff\xfe", "\"text\""})
    EXPECT_EQ(ask(serving, "POST", "/api/water/oxygen", body).status, 400) << body;
  EXPECT_EQ(ask(serving, "POST", "/api/water/oxygen", std::string(5000, '[')).status, 400);
  const auto measures = post(serving, "/api/water/oxygen?measures=royal", question);
  EXPECT_EQ(measures.status, 400);
  EXPECT_EQ(measures.json()["refusals"][0]["field"], "measures");
}

TEST(Site, a_request_reads_no_file_of_the_machine) {
  const Serving serving;
  const std::string secret = serving.folder() + "/secret.csv";
  std::ofstream(secret) << "time_h,oxygen_mg_per_l\n0,8.123\n1,7.456\n";
  const auto test = post(serving, "/api/air/test", {{"readings", secret}});
  EXPECT_EQ(test.status, 400);  // the name is taken for the text of a log
  EXPECT_EQ(test.body.find("8.123"), std::string::npos);
  Json plan = sample_plan();
  plan["readings"] = "/etc/passwd";
  EXPECT_EQ(post(serving, "/api/brew/plan", plan).status, 400);
  EXPECT_EQ(post(serving, "/api/record/add-garden", {{"name", "A"}, {"zone", "UTC"}}).status, 200);
  const auto bed = post(serving, "/api/record/add-bed", {{"garden", "A"}, {"name", "B"}, {"outline", "@" + secret}});
  EXPECT_EQ(bed.status, 400);
  EXPECT_EQ(bed.first_code(), "serve.request.no_files");
}

TEST(Site, a_request_names_no_record) {
  const Serving serving;
  const std::string other = serving.folder() + "/other.sqlite";
  for (const char* path : {"/api/record/list", "/api/record/add-garden", "/api/record/verify", "/api/brew/day"}) {
    const auto reply = post(serving, path, {{"store", other}});
    EXPECT_EQ(reply.status, 400) << path;
    EXPECT_EQ(reply.first_code(), "serve.request.own_store") << path;
  }
  EXPECT_FALSE(std::filesystem::exists(other));
}

TEST(Site, a_request_writes_no_file_of_the_machine) {
  const Serving serving;
  Json plan = sample_plan();
  for (const std::string name : {"../card.pdf", "/card.pdf", "a/b.pdf", "..", ".hidden", "a\\b.pdf", "a\nb.pdf",
                                 "card.pdf\r\nX: y", "~", "a b.pdf"}) {
    plan["card"] = name;
    const auto reply = post(serving, "/api/brew/plan", plan);
    EXPECT_EQ(reply.status, 400) << name;
    EXPECT_EQ(reply.first_code(), "serve.request.not_a_plain_name") << name;
    EXPECT_EQ(post(serving, "/api/record/export", {{"file", name}}).status, 400) << name;
    EXPECT_EQ(post(serving, "/api/record/backup", {{"file", name}}).status, 400) << name;
  }
  EXPECT_EQ(post(serving, "/api/record/export", Json::object()).status, 400);  // needed
}

TEST(Site, a_failing_answer_tells_no_place_of_the_machine) {
  const Serving serving;
  std::filesystem::permissions(serving.store(), std::filesystem::perms::none);
  std::ofstream(serving.store(), std::ios::trunc) << "no record at all, only words, and some more of them";
  for (const char* beside : {"-wal", "-shm"}) std::filesystem::remove(serving.store() + beside);  // they hold it whole
  const auto reply = post(serving, "/api/record/list", {{"kind", "bed"}});
  EXPECT_NE(reply.status, 200);
  EXPECT_EQ(reply.body.find(serving.folder()), std::string::npos) << reply.body;
}

TEST(Site, what_is_written_comes_as_a_download) {
  const Serving serving;
  Json plan = sample_plan();
  plan["card"] = "friday.pdf";
  const auto card = post(serving, "/api/brew/plan", plan);
  EXPECT_EQ(card.status, 200);
  EXPECT_EQ(card.header("Content-Type"), "application/pdf");
  EXPECT_EQ(card.header("Content-Disposition"), "attachment; filename=\"friday.pdf\"");
  EXPECT_TRUE(card.body.starts_with("%PDF-"));

  EXPECT_EQ(post(serving, "/api/record/add-garden", {{"name", "A"}, {"zone", "UTC"}}).status, 200);
  EXPECT_EQ(post(serving, "/api/record/add-bed", {{"garden", "A"}, {"name", "North"}}).status, 200);
  const auto archive = post(serving, "/api/record/export", {{"file", "garden.zip"}});
  EXPECT_EQ(archive.header("Content-Type"), "application/zip");
  EXPECT_TRUE(archive.body.starts_with("PK"));
  const auto tables = post(serving, "/api/record/export", {{"file", "tables"}, {"form", "csv"}});
  EXPECT_EQ(tables.header("Content-Disposition"), "attachment; filename=\"tables.zip\"");
  EXPECT_NE(tables.body.find("bed.csv"), std::string::npos);
  const auto calendar = post(serving, "/api/record/export", {{"file", "garden.ics"}, {"form", "calendar"}});
  EXPECT_TRUE(calendar.body.starts_with("BEGIN:VCALENDAR"));
  const auto copy = post(serving, "/api/record/backup", {{"file", "copy.sqlite"}});
  EXPECT_TRUE(copy.body.starts_with("SQLite format 3"));
}

TEST(Site, a_file_to_read_is_its_text) {
  const Serving serving;
  EXPECT_EQ(post(serving, "/api/record/add-garden", {{"name", "A"}, {"zone", "UTC"}}).status, 200);
  const auto bed = post(serving, "/api/record/import", {{"kind", "person"}, {"file", "name\nAna\n"}});
  EXPECT_EQ(bed.status, 400);  // read, and found without its garden
  Json plan = sample_plan();
  plan["readings"] = "time_h,oxygen_mg_per_l\n1,8.6\n2,8.5\n";
  const auto reply = post(serving, "/api/brew/forecast", plan);
  EXPECT_EQ(reply.status, 200);
  EXPECT_EQ(reply.json()["readings"].size(), 2u);
}

TEST(Site, an_entry_sent_twice_is_kept_once) {
  const Serving serving;
  const Json garden = {{"id", "019f2a4e-7c00-7123-8abc-0123456789ab"}, {"name", "A"}, {"zone", "UTC"}};
  EXPECT_EQ(post(serving, "/api/record/add-garden", garden).json()["was_there"], false);
  EXPECT_EQ(post(serving, "/api/record/add-garden", garden).json()["was_there"], true);
}

TEST(Site, an_answer_in_words_is_what_the_command_prints) {
  const Serving serving;
  const auto reply = post(serving, "/api/water/oxygen", question, "Accept: text/plain\r\n");
  EXPECT_TRUE(reply.header("Content-Type").starts_with("text/plain"));
  EXPECT_NE(reply.body.find("9.09"), std::string::npos);
}

TEST(Site, a_plan_is_small_enough_for_a_slider) {
  const Serving serving;
  const auto reply = post(serving, "/api/brew/plan", sample_plan());
  EXPECT_EQ(reply.status, 200);
  EXPECT_LT(reply.body.size(), 60'000u);
  EXPECT_TRUE(reply.json()["oxygen_mg_per_l"]["p50"].is_array());
}

TEST(Site, numbers_are_no_longer_than_they_deserve) {
  Json json = {
      {"one", 1.0 / 3.0}, {"many", {1.0 / 3.0, 12345678.9, nullptr, 5}}, {"deep", {{"x", {{{"y", 2.0 / 3.0}}}}}}};
  shorten(json);
  EXPECT_EQ(json.dump(),
            R"({"one":0.3333333333,"many":[0.33333,12346000.0,null,5],"deep":{"x":[{"y":0.6666666667}]}})");
}

TEST(Site, a_page_is_not_sent_again_to_who_has_it) {
  const Serving serving;
  const auto first = ask(serving, "GET", "/");
  EXPECT_EQ(first.header("Content-Type"), "text/html; charset=utf-8");
  const auto again = ask(serving, "GET", "/", "", "If-None-Match: " + first.header("ETag") + "\r\n");
  EXPECT_EQ(again.status, 304);
  EXPECT_EQ(again.body, "");
  EXPECT_EQ(ask(serving, "GET", "/", "", "If-None-Match: \"other\"\r\n").status, 200);
}

TEST(Site, a_page_is_compressed_for_who_reads_that) {
  const std::string_view whole = "whole", small = "small";
  const Page page{.path = "/a.js", .type = "text/javascript", .content = whole, .gzip = small, .tag = "\"1\""};
  EXPECT_EQ(show(page, {.headers = {{"accept-encoding", "br, gzip"}}}).body, small);
  EXPECT_EQ(show(page, {}).body, whole);
  EXPECT_EQ(show(page, {.headers = {{"accept-encoding", "gzip;q=0"}}}).body, whole);
}

TEST(Site, the_log_tells_the_path_and_nothing_people_wrote) {
  Serving serving;
  post(serving, "/api/water/oxygen?measures=us", {{"temperature", "words of a person"}});
  serving.stop();
  EXPECT_NE(serving.log().find("\"path\":\"/api/water/oxygen\",\"status\":400"), std::string::npos);
  EXPECT_EQ(serving.log().find("measures"), std::string::npos);
  EXPECT_EQ(serving.log().find("person"), std::string::npos);
  std::stringstream lines(serving.log());
  for (std::string line; std::getline(lines, line);) EXPECT_TRUE(Json::accept(line)) << line;
}

}  // namespace
}  // namespace barm::serve
