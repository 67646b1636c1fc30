#include "cli/serve_command.h"

#include <sys/resource.h>

#include <cstdio>
#include <cstdlib>
#include <filesystem>

#include "cli/arguments.h"
#include "serve/server.h"

namespace barm::cli {
namespace {

namespace fs = std::filesystem;
using operations::Voice;

/// The user's own folder for data, by the XDG Base Directory rules.
fs::path data_folder() {
  if (const char* own = std::getenv("XDG_DATA_HOME"); own != nullptr && *own == '/') return fs::path(own) / "barm";
  const char* home = std::getenv("HOME");
  return fs::path(home == nullptr ? "." : home) / ".local" / "share" / "barm";
}

/// The file usually served, its folder made so that only this user can look inside.
std::string usual_file() {
  const fs::path folder = data_folder();
  std::error_code ignored;
  if (fs::create_directories(folder, ignored)) fs::permissions(folder, fs::perms::owner_all, ignored);
  return (folder / "garden-record.sqlite").string();
}

/// Every stream is a descriptor; the usual limit of 1024 is for programs of one person.
void allow_connections() {
  rlimit limit{};
  if (getrlimit(RLIMIT_NOFILE, &limit) != 0) return;
  limit.rlim_cur = std::min<rlim_t>(limit.rlim_max, 4096);
  setrlimit(RLIMIT_NOFILE, &limit);
}

Outcome refused(const Remarks& refusals, const Voice& voice) {
  Outcome outcome{.out = "", .errors = "", .status = wrong_input};
  for (const auto& why : refusals) {
    outcome.errors += (why.field.empty() ? "" : "--" + why.field + ": ") + voice.say(why) + "\n";
    if (const auto next = voice.next(why); !next.empty()) outcome.errors += "  " + next + "\n";
    if (operations::is_world_failure(why) || why.code.starts_with("serve.start.")) outcome.status = world_failed;
  }
  return outcome;
}

}  // namespace

bool is_serve(const std::vector<std::string>& words) {
  Findings ignored;
  const auto rest = read_common(words, ignored).rest;
  return !rest.empty() && rest[0] == "serve";
}

Outcome serve(const std::vector<std::string>& words, const operations::World& world) {
  Findings findings;
  Common common = read_common(words, findings);
  const Voice voice{.words = world.words, .language = common.language, .customs = common.customs};
  if (common.help) return {voice.say("serve.help") + "\n", "", done};
  common.rest.erase(common.rest.begin());
  const ServeWords given = read_serve(common.rest, findings);
  const auto sample =
      given.sample.empty() ? std::optional(std::string()) : findings.take(world.read_file(given.sample));
  if (findings.refused()) return refused(findings.refusals(), voice);

  allow_connections();
  serve::Log log([](const std::string& line) { std::fwrite(line.data(), 1, line.size(), stderr); }, world.now);
  serve::Server server({.address = given.address,
                        .port = given.port,
                        .store = given.store.empty() ? usual_file() : given.store,
                        .names = given.names,
                        .language = common.language,
                        .sample = *sample},
                       world, log);
  const auto url = findings.take(server.start());
  if (!url) return refused(findings.refusals(), voice);
  const std::string ready = voice.say("serve.ready", {{"given", *url}}) + "\n";
  std::fwrite(ready.data(), 1, ready.size(), stdout);
  std::fflush(stdout);
  server.run();
  return {};
}

}  // namespace barm::cli
