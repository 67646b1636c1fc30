// Any bytes, read as a plan file with a log of readings after a line "---", are answered or refused: nothing crashes,
// and every number told is a number. What the plan names as a file is the log.
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string>
#include <string_view>

#include "operations/registry.h"

namespace {
using namespace barm;

void check(const operations::Json& told) {
  for (const auto& child : told) {
    if (child.is_structured()) check(child);
    if (child.is_number_float() && !std::isfinite(child.get<double>())) std::abort();
  }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const cards::Catalogue words = cards::Catalogue::embedded();
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  const std::size_t cut = text.find("\n---\n");
  const std::string log(cut == text.npos ? std::string_view() : text.substr(cut + 5));
  const auto read = operations::read_toml(text.substr(0, cut));
  if (!read) return read.refusals().empty() ? std::abort(), 0 : 0;
  operations::Document document = *read;
  (void)operations::put(document, "brew.members", 64);  // few, for speed

  operations::World world{.words = &words};
  world.now = [] { return std::int64_t{1'777'593'600'000}; };
  world.read_file = [&](const std::string&) { return Answer<std::string>(log); };
  world.write_file = [](const std::string&, std::string_view) { return Answer<bool>(true); };
  for (const char* verb : {"plan", "forecast"})
    for (const auto& operation : operations::all_operations()) {
      if (operation.noun != "brew" || operation.verb != verb) continue;
      const auto result = operation.ask({.document = document}, world);
      if (result.ok() == !result.refusals.empty()) std::abort();
      const auto told = operations::to_json(result);
      check(told);
      (void)told.dump();  // throws when a text is not UTF-8
    }
  return 0;
}
