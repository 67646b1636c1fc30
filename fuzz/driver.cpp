// Runs a harness without a fuzzing engine: every seed file as it is, then edited at random. For ./check, where a few
// seconds must do, and for compilers without an engine. Usage: HARNESS SECONDS SEED FILE...; prints how many inputs
// were tried. An input that ends the program is left in the file "last_input".
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <random>
#include <string>
#include <vector>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

namespace {

std::string contents(const char* name) {
  std::ifstream in(name, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

class Editor {
 public:
  Editor(std::vector<std::string> seeds, unsigned long seed) : seeds_(std::move(seeds)), random_(seed) {}

  std::string next() {
    std::string text = seeds_[below(seeds_.size())];
    for (std::size_t edits = 1 + below(6); edits > 0; --edits) edit(text);
    return text;
  }

 private:
  std::size_t below(std::size_t count) { return count == 0 ? 0 : random_() % count; }
  void edit(std::string& text) {
    const std::size_t at = below(text.size());
    const std::size_t length = 1 + below(std::min<std::size_t>(40, text.size() - at + 1));
    switch (below(7)) {
      case 0:
        text.erase(at, length);
        break;
      case 1:
        text.insert(at, text.substr(below(text.size()), length));
        break;
      case 2:
        text.insert(at, 1, static_cast<char>(random_()));
        break;
      case 3:
        if (!text.empty()) text[at] = static_cast<char>(random_());
        break;
      case 4: {
        const std::string& other = seeds_[below(seeds_.size())];
        text.insert(at, other.substr(below(other.size()), length * 4));
        break;
      }
      default:
        replace_number(text);
        break;
    }
  }
  /// A number somewhere becomes one that nobody expects.
  void replace_number(std::string& text) {
    static const char* const odd[] = {"0",   "-1",  "nan", "inf", "1e308", "-1e308", "1e-320", "99999999999999999999",
                                      "0.5", "1e6", "",    "1,5", "12 lb", "٣"};
    const std::size_t from = text.find_first_of("0123456789", below(text.size()));
    if (from == text.npos) return;
    const std::size_t to = text.find_first_not_of("0123456789.", from);
    text.replace(from, (to == text.npos ? text.size() : to) - from, odd[below(std::size(odd))]);
  }
  std::vector<std::string> seeds_;
  std::mt19937_64 random_;
};

void run(const std::string& text) {
  std::ofstream("last_input", std::ios::binary) << text;
  LLVMFuzzerTestOneInput(reinterpret_cast<const std::uint8_t*>(text.data()), text.size());
}

}  // namespace

int main(int count, char** words) {
  if (count < 4) return std::fputs("usage: HARNESS COUNT SEED FILE...\n", stderr), 2;
  const long wanted = std::strtol(words[1], nullptr, 10);
  std::vector<std::string> seeds;
  for (int i = 3; i < count; ++i) seeds.push_back(contents(words[i]));
  for (const std::string& seed : seeds) run(seed);
  Editor editor(seeds, std::strtoul(words[2], nullptr, 10));
  for (long tried = 0; tried < wanted; ++tried) run(editor.next());
  std::remove("last_input");
  std::printf("%ld inputs tried, none ended the program\n", wanted);
}
