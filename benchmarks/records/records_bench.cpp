// How fast the record is with ten years of a co-operative in it. Each answer is checked before it is timed. What is
// measured and how: docs/records/speed.md, which this program writes.
#include <fmt/format.h>
#include <unistd.h>

#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <filesystem>
#include <fstream>
#include <optional>
#include <random>
#include <stdexcept>

#include "records/brew_page.h"
#include "records/cooperative.h"
#include "records/measured.h"
#include "records/postgres_server.h"
#include "records/raw_writer.h"
#include "records/store.h"
#include "records/trace.h"
#include "records/verify.h"

namespace barm::bench {
namespace {

using records::Engine;
using records::Entry;
using records::Place;
using records::Store;

constexpr std::int64_t now = 1'777'593'600'000;  // 2026-05-01T00:00:00Z
constexpr std::size_t batch_most = 10'000;       // entries written together
constexpr int times_asked = 1000;                // times each question is asked
constexpr int asked_first = 20;                  // times before that, to warm up

struct Options {
  Size size{};
  std::string folder = std::filesystem::temp_directory_path().string(), report{};
  std::int64_t rate_entries = 500'000;
  std::int64_t server_brews = 0;  // as many as of a file when 0
  bool sqlite = true, postgresql = true, verifies = true, rate_only = false, keeps = false;
};

/// Name, times [ms], and the goal for them.
struct Asked {
  std::string what{}, goal{};
  std::vector<double> ms{}, cpu_ms{};  // by the wall, and by the processor in this process
};

struct Outcome {
  std::string engine{};
  double raw_per_s = 0.0, ours_per_s = 0.0, load_per_s = 0.0, load_s = 0.0, verify_s = 0.0;
  double size_gb = 0.0;
  std::int64_t entries = 0, brews = 0, readings = 0, applications = 0;
  std::vector<Asked> asked{};
};

template <class T>
T must(Answer<T> answer) {
  if (answer.ok()) return std::move(answer.value());
  throw std::runtime_error(answer.refusals().front().code);
}

Store opened(const Place& place, bool make) {
  return must(Store::open(place, records::all_kinds(), {.make = make, .now = now}));
}

/// Entries until a batch is full; empty at the end.
std::vector<Entry> next_batch(Cooperative& cooperative) {
  std::vector<Entry> batch;
  while (batch.size() < batch_most) {
    auto some = cooperative.next_brew();
    if (some.empty()) break;
    batch.insert(batch.end(), std::make_move_iterator(some.begin()), std::make_move_iterator(some.end()));
  }
  return batch;
}

/// Batches go to the engine by itself and to the store in turn.
void rates(const Options& options, const Place& raw_place, const Place& place, Outcome& outcome) {
  { const Store tables = opened(raw_place, true); }
  Store store = opened(place, true);
  RawWriter raw(raw_place);
  Cooperative cooperative(options.size);
  double raw_s = 0.0, ours_s = 0.0;
  std::int64_t timed = 0;
  auto batch = cooperative.gardens();
  for (bool warm = false; !batch.empty() && timed < options.rate_entries;
       warm = true, batch = next_batch(cooperative)) {
    raw.prepare(batch);
    const Clock raw_clock;
    raw.write();
    const double raw_took = raw_clock.seconds();
    const Clock our_clock;
    must(store.add_all(batch, now));
    const double we_took = our_clock.seconds();
    if (!warm) continue;  // the gardens, and the first statements
    raw_s += raw_took;
    ours_s += we_took;
    timed += static_cast<std::int64_t>(batch.size());
  }
  outcome.raw_per_s = static_cast<double>(timed) / raw_s;
  outcome.ours_per_s = static_cast<double>(timed) / ours_s;
  fmt::print("{}: raw {:.0f}/s, record {:.0f}/s, {:.0f} %\n", outcome.engine, outcome.raw_per_s, outcome.ours_per_s,
             100.0 * outcome.ours_per_s / outcome.raw_per_s);
}

Cooperative load(const Options& options, Store& store, Outcome& outcome) {
  Cooperative cooperative(options.size);
  must(store.add_all(cooperative.gardens(), now));
  double writing_s = 0.0;
  for (auto batch = next_batch(cooperative); !batch.empty(); batch = next_batch(cooperative)) {
    const Clock clock;
    must(store.add_all(batch, now));
    writing_s += clock.seconds();
    if (cooperative.brew_ids.size() % 2000 < 20)
      fmt::print("{}: {} brews, {:.0f} s\n", outcome.engine, cooperative.brew_ids.size(), writing_s),
          std::fflush(stdout);
  }
  outcome.entries = store.count();
  outcome.brews = static_cast<std::int64_t>(cooperative.brew_ids.size());
  outcome.readings = cooperative.readings_made;
  outcome.applications = cooperative.applications_made;
  outcome.load_s = writing_s;
  outcome.load_per_s = static_cast<double>(outcome.entries) / writing_s;
  return cooperative;
}

template <class Ask>
Asked times(const char* what, const char* goal, const std::vector<std::string>& ids, Ask ask, int count = times_asked) {
  Asked asked{what, goal, {}, {}};
  std::mt19937_64 random(7);
  for (int i = -asked_first; i < count; ++i) {
    const auto& id = ids[random() % ids.size()];
    const Clock clock;
    const auto cpu = std::clock();
    ask(id);
    if (i < 0) continue;
    asked.ms.push_back(1000.0 * clock.seconds());
    asked.cpu_ms.push_back(1000.0 * static_cast<double>(std::clock() - cpu) / CLOCKS_PER_SEC);
  }
  fmt::print("  {}: p50 {:.2f} ms, p99 {:.2f} ms, processor {:.2f} and {:.2f} ms\n", what, quantile_ms(asked.ms, 0.5),
             quantile_ms(asked.ms, 0.99), quantile_ms(asked.cpu_ms, 0.5), quantile_ms(asked.cpu_ms, 0.99));
  std::fflush(stdout);
  return asked;
}

void expect(bool holds, const char* what) {
  if (!holds) throw std::runtime_error(fmt::format("wrong answer: {}", what));
}

/// A brew's readings that count, and its lowest oxygen, added up one by one.
void check_answers(Store& store, const Cooperative& cooperative) {
  const auto& reading = *store.kinds().find("reading");
  for (const std::size_t i : {std::size_t{0}, cooperative.brew_ids.size() / 2, cooperative.brew_ids.size() - 1}) {
    const auto& id = cooperative.brew_ids[i];
    const auto all = must(store.list(reading, {.field = "brew", .names = id, .most = 100'000}));
    double lowest = 100.0;
    for (const auto& one : all) lowest = std::min(lowest, std::get<double>(one.values[2]));
    std::int64_t count = 0;
    double drawn_lowest = 100.0;
    for (const auto& stretch : must(records::chart_of(store, id))) {
      count += stretch.count;
      drawn_lowest = std::min(drawn_lowest, stretch.oxygen_lowest_mg_per_l.value());
    }
    expect(count == static_cast<std::int64_t>(all.size()) && drawn_lowest == lowest, "chart");
    expect(must(records::page_of(store, id)).applications.size() >= 6, "page");
    for (const auto& step : must(records::trace_back(store, id))) {
      if (step.id != id) continue;
      expect(step.readings_count == count && step.oxygen_lowest_mg_per_l == lowest, "trace");
    }
  }
}

void ask(const Place& place, const Cooperative& cooperative, Outcome& outcome) {
  outcome.asked.push_back(times(
      "open", "< 100 ms", {""}, [&](const std::string&) { const Store again = opened(place, false); }, 50));
  Store store = opened(place, false);
  check_answers(store, cooperative);
  const auto& brews = cooperative.brew_ids;
  outcome.asked.push_back(times("a brew's page with its chart", "p99 < 20 ms", brews,
                                [&](const auto& id) { must(records::page_of(store, id)); }));
  outcome.asked.push_back(times("a chart of its readings", "p99 < 20 ms", brews,
                                [&](const auto& id) { must(records::chart_of(store, id)); }));
  outcome.asked.push_back(times("from a compost lot forward", "< 50 ms", cooperative.compost_ids,
                                [&](const auto& id) { must(records::trace_forward(store, id)); }));
  outcome.asked.push_back(times("from a food lot forward", "< 50 ms", cooperative.food_ids,
                                [&](const auto& id) { must(records::trace_forward(store, id)); }));
  outcome.asked.push_back(times("from a harvest back", "< 50 ms", cooperative.harvest_ids,
                                [&](const auto& id) { must(records::trace_back(store, id)); }));
  outcome.asked.push_back(times(
      "brews in the making", "none set", {""}, [&](const std::string&) { must(records::live_brews(store, now)); }, 50));
}

double gigabytes(const std::string& path) {
  double bytes = 0.0;
  for (const auto& one : std::filesystem::recursive_directory_iterator(path)) {
    if (one.is_regular_file()) bytes += static_cast<double>(one.file_size());
  }
  return bytes / 1e9;
}

void fill_and_ask(const Options& options, const Place& place, Outcome& outcome) {
  std::optional<Cooperative> cooperative;
  {
    Store store = opened(place, true);
    cooperative = load(options, store, outcome);
    if (outcome.engine == "PostgreSQL") store.connection().run("VACUUM ANALYZE");
  }
  ask(place, *cooperative, outcome);
  if (!options.verifies) return;
  Store store = opened(place, false);
  const Clock clock;
  expect(must(records::verify(store)).faults.empty(), "verify");
  outcome.verify_s = clock.seconds();
}

Outcome measure_sqlite(const Options& options) {
  Outcome outcome{.engine = "SQLite"};
  const auto folder = std::filesystem::path(options.folder) / fmt::format("barm_bench_{}", getpid());
  std::filesystem::create_directory(folder);
  const auto file = [&](const char* name) { return Place{(folder / name).string()}; };
  rates(options, file("raw.sqlite"), file("rates.sqlite"), outcome);
  for (const auto& one : std::filesystem::directory_iterator(folder)) std::filesystem::remove(one.path());
  if (!options.rate_only) {
    fill_and_ask(options, file("record.sqlite"), outcome);
    outcome.size_gb = gigabytes(folder.string());
  }
  if (!options.keeps) std::filesystem::remove_all(folder);
  return outcome;
}

Outcome measure_postgresql(Options options) {
  if (options.server_brews > 0) options.size.brews_count = options.server_brews;
  Outcome outcome{.engine = "PostgreSQL"};
  records::PostgresServer server(true);
  rates(options, {server.new_database()}, {server.new_database()}, outcome);
  if (options.rate_only) return outcome;
  const Place place{server.new_database()};
  fill_and_ask(options, place, outcome);
  Store store = opened(place, false);
  outcome.size_gb = static_cast<double>(store.connection().whole("SELECT pg_database_size(current_database())")) / 1e9;
  return outcome;
}

std::string row_of(const Asked& asked, const std::string& engine) {
  return fmt::format("| {} | {} | {} | {:.2f} | {:.2f} | {:.2f} | {:.2f} |\n", asked.what, engine, asked.goal,
                     quantile_ms(asked.ms, 0.5), quantile_ms(asked.ms, 0.99), quantile_ms(asked.cpu_ms, 0.5),
                     quantile_ms(asked.cpu_ms, 0.99));
}

std::string report(const Options& options, const std::vector<Outcome>& outcomes) {
  const auto& size = options.size;
  std::string text = fmt::format(
      "# How fast the record is\n\nWritten by `records_bench`; not edited by hand. {}, at commit {}. {}. {}. Load "
      "while it ran (mean of the "
      "last 15 minutes): {}.\n\n"
      "Ten years of a co-operative made up from seed {}: {} gardens, a brew with {} readings every few days, one "
      "reading in "
      "a thousand corrected or withdrawn.\n\n",
      today(), commit(BARM_HOUSE), machine(), "GCC " __VERSION__ ", -O3", load_average(), size.seed, size.gardens_count,
      size.readings_count);
  text += fmt::format(
      "## Bulk load\n\nThe engine by itself puts the same rows into the same tables and indexes through its own "
      "interface (prepared statements; of PostgreSQL 64 rows to a statement), without checks, look-ups or chain. Both "
      "write {} entries at a time to lasting storage, in turn, in one run over {} entries. An entry is a row of the "
      "ledger and one of its kind.\n\n| engine | by itself, entries/s | record, entries/s | share | goal |\n"
      "|---|---|---|---|---|\n",
      batch_most, options.rate_entries);
  for (const auto& one : outcomes)
    text += fmt::format("| {} | {:.0f} | {:.0f} | {:.0f} % | 50 % |\n", one.engine, one.raw_per_s, one.ours_per_s,
                        100.0 * one.ours_per_s / one.raw_per_s);
  if (options.rate_only) return text;
  text +=
      "\n| engine | brews | readings | applications | entries | loaded in, s | entries/s | size, GB | verified in, s "
      "|\n"
      "|---|---|---|---|---|---|---|---|---|\n";
  for (const auto& one : outcomes)
    text += fmt::format("| {} | {} | {} | {} | {} | {:.0f} | {:.0f} | {:.1f} | {} |\n", one.engine, one.brews,
                        one.readings, one.applications, one.entries, one.load_s, one.load_per_s, one.size_gb,
                        options.verifies ? fmt::format("{:.0f}", one.verify_s) : "not asked");
  text += fmt::format(
      "\n## Questions\n\nAt the size above, of entries drawn at random, one after another, after {} to warm up; {} "
      "times "
      "each "
      "(opening and the brews in the making 50). Milliseconds. Each answer is checked first against readings added up "
      "one by "
      "one. Processor: time this process was reckoning, without waiting for its turn or for a server.\n\n| question | "
      "engine | goal | middle | 99 % below | processor, middle | processor, 99 % below "
      "|\n|---|---|---|---|---|---|---|\n",
      asked_first, times_asked);
  for (const auto& one : outcomes) {
    for (const auto& question : one.asked) text += row_of(question, one.engine);
  }
  return text;
}

Options options_of(int count, char** words) {
  Options options;
  for (int i = 1; i < count; ++i) {
    const std::string word = words[i];
    const auto equals = word.find('=');
    const auto name = word.substr(0, equals), value = equals == std::string::npos ? "" : word.substr(equals + 1);
    if (name == "--brews") {
      options.size.brews_count = std::atoll(value.c_str());
    } else if (name == "--gardens") {
      options.size.gardens_count = std::atoll(value.c_str());
    } else if (name == "--server-brews") {
      options.server_brews = std::atoll(value.c_str());
    } else if (name == "--entries") {
      options.rate_entries = std::atoll(value.c_str());
    } else if (name == "--folder") {
      options.folder = value;
    } else if (name == "--report") {
      options.report = value;
    } else if (name == "--engine") {
      options.sqlite = value == "sqlite", options.postgresql = value == "postgresql";
    } else if (name == "--rate-only") {
      options.rate_only = true;
    } else if (name == "--keep") {
      options.keeps = true;
    } else if (name == "--no-verify") {
      options.verifies = false;
    } else {
      fmt::print(
          "records_bench [--gardens=200] [--brews=60000] [--server-brews=60000] [--entries=500000] "
          "[--engine=sqlite|postgresql] "
          "[--rate-only] "
          "[--no-verify] [--keep] [--folder=FOLDER] [--report=docs/records/speed.md]\n");
      std::exit(name == "--help" ? 0 : 2);
    }
  }
  return options;
}

}  // namespace
}  // namespace barm::bench

int main(int count, char** words) {
  using namespace barm::bench;
  const Options options = options_of(count, words);
  std::vector<Outcome> outcomes;
  const auto tell = [&] {  // after each engine, so that a run broken off leaves what it measured
    if (!options.report.empty()) std::ofstream(options.report) << report(options, outcomes);
  };
  if (options.sqlite) outcomes.push_back(measure_sqlite(options)), tell();
  if (options.postgresql) outcomes.push_back(measure_postgresql(options)), tell();
  if (options.report.empty()) fmt::print("{}", report(options, outcomes));
  return 0;
}
