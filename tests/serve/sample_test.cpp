#include "serve/sample.h"

#include "operations/record_store.h"
#include "operations/registry.h"
#include "serve/serving.h"
#include "support/temporary_folder.h"

namespace barm::serve {
namespace {

class Sample : public testing::Test {
 protected:
  Sample() { EXPECT_TRUE(operations::open_store(store(), machine(), true).ok()); }
  std::string store() const { return folder_.file("r.sqlite"); }
  std::string first_code(const char* toml) {
    const auto kept = keep_sample(toml, store(), machine());
    return kept.ok() ? "" : kept.refusals().front().code;
  }
  test::TemporaryFolder folder_{};
};

TEST_F(Sample, the_sample_garden_is_kept_and_has_a_brew_under_way) {
  const auto kept = keep_sample(content(std::string(BARM_EXAMPLES_DIR) + "/sample_garden.toml"), store(), machine());
  ASSERT_TRUE(kept.ok()) << kept.refusals().front().code << " " << kept.refusals().front().field;
  for (const auto& operation : operations::all_operations()) {
    if (operation.noun != "brew" || operation.verb != "day") continue;
    const auto result =
        operation.ask({.document = {{{"brew", "Tonight's bucket"}, {"store", store()}}, {}}}, machine());
    ASSERT_TRUE(result.ok());
    const Json& day = *result.answer;
    EXPECT_NEAR(day["elapsed_h"].get<double>(), 6.0, 0.1);
    EXPECT_EQ(day["forecast"].size(), 1u);
    EXPECT_EQ(day["fitness"]["verdict"], "fit");
    return;
  }
  FAIL() << "brew day is gone";
}

TEST_F(Sample, what_is_no_sample_is_refused) {
  EXPECT_EQ(first_code("entry = 5"), "serve.sample.no_entries");
  EXPECT_EQ(first_code(""), "serve.sample.no_entries");
  EXPECT_EQ(first_code("[[entry]]\nkind = \"dragon\""), "serve.sample.no_such_kind");
  EXPECT_EQ(first_code("[[entry]]\nname = \"A\""), "serve.sample.no_such_kind");
  EXPECT_EQ(first_code("[[entry]]\nkind = \"garden\"\nname = \"A\""), "operations.input.missing");
  EXPECT_NE(first_code("[[entry]]\nkind = \"garden\"\nname = \"A\"\nzone = \"now - yesterday\""), "");
  EXPECT_NE(first_code("not toml"), "");
}

TEST_F(Sample, a_name_that_begins_with_now_is_a_name) {
  EXPECT_EQ(first_code("[[entry]]\nkind = \"garden\"\nname = \"now and then\"\nzone = \"UTC\""), "");
}

TEST(SampleServed, is_kept_once) {
  Serving first({}, content(std::string(BARM_EXAMPLES_DIR) + "/sample_garden.toml"));
  EXPECT_EQ(post(first, "/api/record/list", {{"kind", "brew"}}).json()["entries"].size(), 2u);
  first.stop();
  Log log([](const std::string&) {}, machine().now);
  Server second(
      {.port = 0, .store = first.store(), .sample = content(std::string(BARM_EXAMPLES_DIR) + "/sample_garden.toml")},
      machine(), log);
  ASSERT_TRUE(second.start().ok());
  auto store = operations::open_store(first.store(), machine());
  EXPECT_EQ(store.value().list(*store->kinds().find("brew"))->size(), 2u);
}

TEST(Start, a_taken_or_nonsense_address_is_refused) {
  const Serving serving;
  Log log([](const std::string&) {}, machine().now);
  const auto code = [&](const std::string& address, std::uint16_t port) {
    Server other({.address = address, .port = port, .store = serving.store()}, machine(), log);
    const auto started = other.start();
    return started.ok() ? std::string() : started.refusals().front().code;
  };
  EXPECT_EQ(code("127.0.0.1", serving.port()), "serve.start.address_taken");
  EXPECT_EQ(code("the shed", 0), "serve.option.not_an_address");
  EXPECT_EQ(code("203.0.113.9", 0), "serve.start.address_failed");  // RFC 5737: nobody's
  EXPECT_EQ(code("127.0.0.1", 0), "");
}

}  // namespace
}  // namespace barm::serve
