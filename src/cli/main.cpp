// The `barm` command: hands the words of the command line to cli::run or cli::serve and their texts to the terminal.
#include <unistd.h>

#include <cstdio>
#include <exception>

#include "cli/command.h"
#include "cli/files.h"
#include "cli/serve_command.h"

namespace {

bool print(std::FILE* to, const std::string& text) {
  return std::fwrite(text.data(), 1, text.size(), to) == text.size() && std::fflush(to) == 0;
}

/// How far long work is, on one line that is wiped when it is done.
void show_progress(double share) {
  static int last = -1;
  const int percent = static_cast<int>(share * 100.0);
  if (percent == last) return;
  last = percent;
  std::fprintf(stderr, percent >= 100 ? "\r     \r" : "\r%3d %%", percent);
  std::fflush(stderr);
}

}  // namespace

int main(int count, char** words) {
  try {
    const auto catalogue = barm::cards::Catalogue::embedded();
    auto world = barm::cli::real_world(catalogue);
    if (isatty(STDERR_FILENO) != 0) world.progress = show_progress;
    const std::vector<std::string> said(words + 1, words + count);
    const auto outcome = barm::cli::is_serve(said) ? barm::cli::serve(said, world) : barm::cli::run(said, world);
    print(stderr, outcome.errors);
    if (print(stdout, outcome.out)) return outcome.status;
    print(stderr, catalogue.text({"operations.world.output_failed", "", {}}, barm::cards::Language::english) + "\n");
    return barm::cli::world_failed;
  } catch (const std::exception& fault) {  // the catalogue itself is broken, so there are no words to say it with
    std::fprintf(stderr, "barm: %s\n", fault.what());
    return barm::cli::our_fault;
  }
}
