#include <unistd.h>

#include <array>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <span>

#include "benchmarks/brew/peers.h"
#include "brew/tea.h"

namespace barm::bench {
namespace {

void write(std::ofstream& to, std::span<const double> values) {
  to.write(reinterpret_cast<const char*>(values.data()), static_cast<std::streamsize>(values.size_bytes()));
}

void write_members(const std::filesystem::path& name, const brew::Members& members, std::size_t count) {
  using namespace brew::tea;
  std::ofstream to(name, std::ios::binary);
  const std::array<double, 4> shape = {
      static_cast<double>(count), static_cast<double>(coefficients.size() + std::size_t{parameter_count}),
      static_cast<double>(int{state_count}), static_cast<double>(output_hours().size())};
  write(to, shape);
  write(to, output_hours());
  write(to, System::absolute);
  for (std::size_t m = 0; m < count; ++m) {
    write(to, {members.parameters.data() + m * parameter_count, parameter_count});
    write(to, {members.coefficients.data() + m * coefficients.size(), coefficients.size()});
    write(to, {members.states.data() + m * state_count, state_count});
  }
}

}  // namespace

LsodaRun by_lsoda(const brew::Members& members, int member_count, const Effort& effort, int repeat_count) {
  const auto folder = std::filesystem::temp_directory_path() / ("barm_lsoda_" + std::to_string(getpid()));
  std::filesystem::create_directory(folder);
  const auto count = static_cast<std::size_t>(member_count);
  write_members(folder / "members.bin", members, count);
  std::array<char, 64> effort_words{};
  std::snprintf(effort_words.data(), effort_words.size(), " %g %g %d", effort.relative, effort.absolute_scale,
                repeat_count);
  const std::string command = std::string("Rscript --vanilla " LSODA_SCRIPT " " LSODA_SIDE " ") +
                              (folder / "members.bin").string() + " " + (folder / "paths.bin").string() +
                              effort_words.data() + " 2>/dev/null";
  LsodaRun run;
  if (FILE* said = popen(command.c_str(), "r")) {
    std::array<char, 256> line{};
    while (std::fgets(line.data(), line.size(), said) != nullptr) run.seconds = std::strtod(line.data(), nullptr);
    if (pclose(said) != 0) run.seconds = 0.0;
  }
  if (run.seconds > 0.0) {
    std::ifstream from(folder / "paths.bin", std::ios::binary);
    for (std::size_t m = 0; m < count; ++m) {
      Path path(output_hours().size() * brew::tea::state_count);
      from.read(reinterpret_cast<char*>(path.data()), static_cast<std::streamsize>(path.size() * sizeof(double)));
      run.paths.push_back(std::move(path));
    }
  }
  std::filesystem::remove_all(folder);
  return run;
}

}  // namespace barm::bench
