// `barm serve` as a newcomer starts it, rightly and wrongly, and as a machine stops it.
#include "cli/serve_command.h"

#include <gtest/gtest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <csignal>
#include <filesystem>

#include "cli/files.h"
#include "support/temporary_folder.h"

namespace barm::cli {
namespace {

class ServeCommand : public testing::Test {
 protected:
  void expect_refused(const std::vector<std::string>& words, int status, const std::string& saying) {
    const auto outcome = serve(words, world_);
    EXPECT_EQ(outcome.status, status) << outcome.errors;
    EXPECT_EQ(outcome.out, "");
    EXPECT_NE(outcome.errors.find(saying), std::string::npos) << outcome.errors;
  }
  cards::Catalogue words_ = cards::Catalogue::embedded();
  operations::World world_ = real_world(words_);
};

TEST_F(ServeCommand, wrong_words_are_named) {
  expect_refused({"serve", "--port", "http"}, wrong_input, "--port: http is no port");
  expect_refused({"serve", "--port", "65536"}, wrong_input, "65536");
  expect_refused({"serve", "--port", "-1"}, wrong_input, "-1");
  expect_refused({"serve", "--prot", "80"}, wrong_input, "Did you mean --port?");
  expect_refused({"serve", "now"}, wrong_input, "now");
  expect_refused({"serve", "--port", "http", "--lang", "es"}, wrong_input, "no es un puerto");
}

TEST_F(ServeCommand, what_the_machine_cannot_give_is_its_failure) {
  expect_refused({"serve", "--sample", "no/such/file.toml"}, world_failed, "no/such/file.toml");
  expect_refused({"serve", "--port", "0", "--store", "no/such/folder/r.sqlite"}, world_failed, "no/such/folder");
  const auto store = (std::filesystem::temp_directory_path() / "barm-serve-command.sqlite").string();
  expect_refused({"serve", "--address", "the shed", "--store", store}, wrong_input, "the shed");
  std::filesystem::remove(store);
}

TEST_F(ServeCommand, help_tells_every_option_in_both_languages) {
  for (const char* language : {"en", "es"}) {
    const auto told = serve({"serve", "--help", "--lang", language}, world_);
    EXPECT_EQ(told.status, done);
    for (const char* option : {"--port", "--address", "--store", "--name", "--sample", "--lang"})
      EXPECT_NE(told.out.find(option), std::string::npos) << option;
  }
  EXPECT_NE(run({"--help"}, world_).out.find("barm serve"), std::string::npos);
}

TEST_F(ServeCommand, common_options_may_stand_before_it) {
  EXPECT_TRUE(is_serve({"--lang", "es", "serve"}));
  EXPECT_FALSE(is_serve({"water", "oxygen"}));
  EXPECT_FALSE(is_serve({}));
}

TEST_F(ServeCommand, the_api_is_told_without_a_server) {
  const auto told = run({"--openapi"}, world_);
  EXPECT_EQ(told.status, done);
  EXPECT_NE(told.out.find("\"openapi\": \"3.1.0\""), std::string::npos);
}

/// The process itself: says where it is, makes its own folder, and ends well when it is told to.
TEST(ServeProcess, starts_says_where_and_ends_when_told) {
  const test::TemporaryFolder home;
  int pipe_ends[2];
  ASSERT_EQ(pipe(pipe_ends), 0);
  const auto begun = std::chrono::steady_clock::now();
  const pid_t child = fork();
  if (child == 0) {
    setenv("XDG_DATA_HOME", home.path().c_str(), 1);
    dup2(pipe_ends[1], STDOUT_FILENO);
    freopen("/dev/null", "w", stderr);
    execl(BARM_COMMAND, "barm", "serve", "--port", "0", static_cast<char*>(nullptr));
    _exit(127);
  }
  close(pipe_ends[1]);
  std::string said;
  for (char c = 0; read(pipe_ends[0], &c, 1) == 1 && c != '\n';) said += c;
  const std::chrono::duration<double, std::milli> took = std::chrono::steady_clock::now() - begun;
  std::printf("ready after %.0f ms\n", took.count());
  EXPECT_TRUE(said.starts_with("barm answers at http://127.0.0.1:")) << said;
  EXPECT_TRUE(std::filesystem::exists(home.path() + "/barm/garden-record.sqlite"));
  kill(child, SIGTERM);
  int status = -1;
  waitpid(child, &status, 0);
  EXPECT_TRUE(WIFEXITED(status));
  EXPECT_EQ(WEXITSTATUS(status), 0);
  close(pipe_ends[0]);
}

}  // namespace
}  // namespace barm::cli
