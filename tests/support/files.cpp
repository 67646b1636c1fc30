#include "support/files.h"

#include <fstream>
#include <stdexcept>

namespace barm::test {

std::string support_file(const std::string& name) {
  static const std::string digits = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  std::ifstream in(std::string(BARM_TESTS_DIR) + "/support/" + name + ".txt");
  std::string bytes;
  unsigned held = 0, bits = 0;
  for (char c = 0; in >> c && c != '=';) {
    held = held << 6U | static_cast<unsigned>(digits.find(c));
    bits += 6;
    if (bits < 8) continue;
    bits -= 8;
    bytes += static_cast<char>(held >> bits & 0xFFU);
  }
  if (bytes.empty()) throw std::runtime_error("cannot read tests/support/" + name + ".txt");
  return bytes;
}

}  // namespace barm::test
