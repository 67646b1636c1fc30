// Any bytes are read as a quantity or refused; what was read is finite, and what is written of it reads back.
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "quantity/text.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  if (size < 2) return 0;
  const auto dimension = static_cast<barm::Dimension>(data[0] % barm::dimension_count);
  barm::Customs customs;
  if (data[1] & 1) customs.gallon = data[1] & 2 ? barm::Gallon::imperial : barm::Gallon::us;
  customs.measures = data[1] & 4 ? barm::Measures::us : barm::Measures::metric;
  const std::string_view text(reinterpret_cast<const char*>(data) + 2, size - 2);

  const auto range = barm::read_range(text, dimension, customs);
  if (range && !(range->low <= range->high)) std::abort();
  (void)barm::read_amount(text, customs);
  (void)barm::convert("1 L", text, customs);

  const auto value = barm::read_quantity(text, dimension, customs);
  if (!value) return value.refusals().empty() ? std::abort(), 0 : 0;
  if (!std::isfinite(*value)) std::abort();
  const auto written = barm::write({.value = *value, .dimension = dimension}, customs);
  const bool human = std::abs(*value) > 1e-9 && std::abs(*value) < 1e12;
  if (human && !barm::read_quantity(written, dimension, customs)) std::abort();
  return 0;
}
