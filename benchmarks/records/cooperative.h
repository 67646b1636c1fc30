// Ten years of a made-up co-operative: the same entries for the same seed, in the order of time.
#pragma once

#include <cstdint>
#include <random>
#include <string>
#include <vector>

#include "records/entry.h"

namespace barm::bench {

struct Size {
  std::int64_t gardens_count = 200, brews_count = 60'000, readings_count = 500;  // readings of each brew
  std::uint64_t seed = 2026;
};

class Cooperative {
 public:
  explicit Cooperative(const Size& size);

  /// Gardens with their people, beds, vessels, air lines and water: what everything else names.
  std::vector<records::Entry> gardens();
  /// The next brew: lots when new ones are due, the brew, its mix, readings, corrections of a few, verdict,
  /// applications, harvests. Empty at the end.
  std::vector<records::Entry> next_brew();

  // What can be asked for afterwards.
  std::vector<std::string> brew_ids{}, compost_ids{}, food_ids{}, harvest_ids{};
  std::int64_t readings_made = 0, applications_made = 0;

 private:
  struct Garden {
    std::string id{}, person{}, vessel{}, line{}, water{}, compost{}, food{};
    std::vector<std::string> beds{};
    std::int64_t brews_made = 0;
  };
  using Fields = std::vector<std::pair<const char*, records::Value>>;
  records::Entry make(const char* kind, std::int64_t at, const Fields& fields);
  double between(double low, double high);

  Size size_;
  std::mt19937_64 random_;
  std::vector<Garden> gardens_{};
  std::int64_t made_ = 0;
  std::string plan_{}, forecast_{};
};

}  // namespace barm::bench
