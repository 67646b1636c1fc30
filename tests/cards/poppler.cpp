#include "cards/poppler.h"

#include <unistd.h>

#include <array>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <stdexcept>

namespace barm::test {

std::string poppler(const std::string& program, const std::string& arguments, const std::vector<std::uint8_t>& pdf) {
  const auto path = std::filesystem::temp_directory_path() / ("barm_card_" + std::to_string(getpid()) + ".pdf");
  {
    std::ofstream out(path, std::ios::binary);
    out.write(reinterpret_cast<const char*>(pdf.data()), static_cast<std::streamsize>(pdf.size()));
  }
  std::string command = program + " " + arguments;
  command.replace(command.find("FILE"), 4, "'" + path.string() + "'");
  std::FILE* pipe = popen(command.c_str(), "r");
  if (pipe == nullptr) throw std::runtime_error("cannot run " + program);
  std::string printed;
  std::array<char, 4096> part{};
  for (std::size_t n = 0; (n = std::fread(part.data(), 1, part.size(), pipe)) > 0;) printed.append(part.data(), n);
  const int status = pclose(pipe);
  std::filesystem::remove(path);
  if (status != 0) throw std::runtime_error(program + " fails (poppler-utils installed?)");
  return printed;
}

std::string one_line(const std::string& text) {
  std::string line;
  for (const char c : text) {
    const bool space = c == ' ' || c == '\n' || c == '\f' || c == '\r';
    if (!space)
      line += c;
    else if (!line.empty() && line.back() != ' ')
      line += ' ';
  }
  return line;
}

}  // namespace barm::test
