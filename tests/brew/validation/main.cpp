// Prints docs/validation.md.
#include <cstdio>

#include "brew/validation/validation.h"

int main() {
  std::fputs(barm::test::validation_page().c_str(), stdout);
}
