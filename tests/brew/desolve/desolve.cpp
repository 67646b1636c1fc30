#include "brew/desolve/desolve.h"

#include <array>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <span>

#include "brew/tea.h"
#include "support/temporary_folder.h"

namespace barm::test {
namespace {

void write(std::ofstream& to, std::span<const double> values) {
  to.write(reinterpret_cast<const char*>(values.data()), static_cast<std::streamsize>(values.size_bytes()));
}

void write_members(const std::filesystem::path& name, const brew::Members& members, const DesolveTask& task) {
  using namespace brew::tea;
  std::ofstream to(name, std::ios::binary);
  const std::array<double, 4> shape = {static_cast<double>(task.member_count),
                                       static_cast<double>(coefficients.size() + std::size_t{parameter_count}),
                                       static_cast<double>(int{state_count}), static_cast<double>(task.at_h.size())};
  write(to, shape);
  write(to, task.at_h);
  write(to, System::absolute);
  for (std::size_t m = 0; m < static_cast<std::size_t>(task.member_count); ++m) {
    write(to, {members.parameters.data() + m * parameter_count, parameter_count});
    write(to, {members.coefficients.data() + m * coefficients.size(), coefficients.size()});
    write(to, {members.states.data() + m * state_count, state_count});
  }
}

std::string quoted(const std::filesystem::path& name) {
  return " '" + name.string() + "'";
}

}  // namespace

DesolveRun by_desolve(const brew::Members& members, const DesolveTask& task) {
  const TemporaryFolder temporary;
  const std::filesystem::path folder = temporary.path();
  write_members(folder / "members.bin", members, task);
  std::array<char, 64> effort{};
  std::snprintf(effort.data(), effort.size(), " %g %g", task.relative, task.absolute_scale);
  const std::string command = "Rscript --vanilla" + quoted(DESOLVE_SCRIPT) + quoted(DESOLVE_SIDE) +
                              quoted(folder / "members.bin") + quoted(folder / "paths.bin") + " " + task.method +
                              effort.data() + " 2>/dev/null";
  DesolveRun run;
  bool done = false;
  if (FILE* said = popen(command.c_str(), "r")) {
    std::array<char, 256> line{};
    while (std::fgets(line.data(), line.size(), said) != nullptr) run.seconds = std::strtod(line.data(), nullptr);
    done = pclose(said) == 0;
  }
  if (done) {
    std::ifstream from(folder / "paths.bin", std::ios::binary);
    for (int m = 0; m < task.member_count; ++m) {
      std::vector<double> path(task.at_h.size() * brew::tea::state_count);
      from.read(reinterpret_cast<char*>(path.data()), static_cast<std::streamsize>(path.size() * sizeof(double)));
      run.paths.push_back(std::move(path));
    }
  }
  return run;
}

}  // namespace barm::test
