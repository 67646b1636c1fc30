// A fixed piece of work for tools/check_instructions.py: 64 members of the test bucket through 36 h, then their bands.
#include <cstdio>

#include "brew/brews.h"
#include "brew/ensemble.h"

int main() {
  using namespace barm;
  const auto told = brew::forecast(test::bucket(), test::priors(), {.members_count = 64});
  std::printf("%s %.3f\n", std::string(brew::fastest_kernel().name).c_str(), told.value().oxygen_minimum_mg_per_l.p50);
  return told.value().failed_members_count;
}
