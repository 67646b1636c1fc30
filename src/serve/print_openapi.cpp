// Prints the OpenAPI document while the program is being built, when the screens need it and `barm` is not there yet.
#include <cstdio>

#include "operations/registry.h"
#include "operations/schema.h"

int main() {
  const auto words = barm::cards::Catalogue::embedded();
  const std::string text = barm::operations::open_api(barm::operations::all_operations(), words).dump(2);
  return std::fwrite(text.data(), 1, text.size(), stdout) == text.size() && std::fflush(stdout) == 0 ? 0 : 1;
}
