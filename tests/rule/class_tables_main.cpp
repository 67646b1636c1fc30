#include <cstdio>

#include "class_tables.h"

int main() {
  std::puts(barm::rule::class_table().c_str());
  std::puts(barm::rule::contact_table().c_str());
}
