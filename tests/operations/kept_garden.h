// A garden's record in a folder of its own, filled by the operations as a grower would.
#pragma once

#include <gtest/gtest.h>

#include "operations/asking.h"
#include "operations/record_store.h"
#include "operations/registry.h"
#include "support/temporary_folder.h"

namespace barm::operations {

class KeptGarden : public ::testing::Test {
 protected:
  void SetUp() override {
    world_ = world_with();
    world_.now = [this] { return std::int64_t{1'790'000'000'000} + 1000 * ++ticks_; };  // September 2026
    world_.chance = [this] {
      std::array<std::uint8_t, 10> chance{};
      chance[9] = static_cast<std::uint8_t>(++ticks_ % 256);
      chance[8] = static_cast<std::uint8_t>(ticks_ / 256);
      return chance;
    };
    world_.write_file = [this](const std::string& name, std::string_view content) {
      files_[name] = std::string(content);
      return Answer<bool>(true);
    };
    add("garden", "name = \"Hillside\"\nzone = \"America/Bogota\"");
    add("person", "garden = \"Hillside\"\nname = \"Ana\"");
    add("bed", "garden = \"Hillside\"\nname = \"North bed\"\npart_eaten = \"leaf\"");
    add("bed", "garden = \"Hillside\"\nname = \"Hedge\"\npart_eaten = \"none\"");
    add("vessel", "garden = \"Hillside\"\nname = \"Drum\"\nvolume = \"200 L\"");
    add("water_source", "garden = \"Hillside\"\nname = \"Well\"\ntype = \"well\"");
    add("water_test", "water_source = \"Well\"\nat = 2026-04-28T10:00:00-05:00\ne_coli_per_100_ml = 0");
    add("compost_lot",
        "garden = \"Hillside\"\nname = \"Heap\"\norigin = \"made_here\"\nanimal_origin = \"manure\"\nmethod = "
        "\"static_aerated\"\nfinished_on = \"2026-04-20\"");
    add("food_lot", "garden = \"Hillside\"\nname = \"Can\"\nfood = \"blackstrap molasses\"");
    add("brew",
        "garden = \"Hillside\"\nname = \"May brew\"\nvessel = \"Drum\"\nvolume = \"180 L\"\nair_on_at = "
        "2026-05-02T18:00:00-05:00\nperson = \"Ana\"");
    mix("Heap", "mass = \"5 kg\"");
    mix("Well", "volume = \"180 L\"");
  }

  std::string store() const { return "store = \"" + folder_.file("record.sqlite") + "\"\n"; }
  Result ask(const Operation& operation, const std::string& toml, cards::Language language = cards::Language::english) {
    return operation.ask({.document = document((store() + toml).c_str()), .language = language}, world_);
  }
  /// Id of the newest entry of a kind.
  std::string last(const std::string& kind) {
    const auto listed = ask(record_list(), "kind = \"" + kind + "\"");
    return (*listed.answer)["entries"].back()["id"].get<std::string>();
  }
  void add(const std::string& kind, const std::string& toml) {
    for (const auto& operation : all_operations()) {
      if (operation.name() != "record add " + [&] {
            std::string words = kind;
            std::replace(words.begin(), words.end(), '_', ' ');
            return words;
          }())
        continue;
      const auto result = ask(operation, toml);
      ASSERT_TRUE(result.ok()) << kind << " "
                               << (result.refusals.empty() ? "" : result.refusals[0].code + result.refusals[0].field);
      return;
    }
    FAIL() << "no kind " << kind;
  }
  void mix(const std::string& part, const std::string& amount) {
    add("mix", "into = \"May brew\"\npart = \"" + part + "\"\nat = 2026-05-02T17:50:00-05:00\n" + amount);
  }
  void apply(const std::string& bed, const std::string& at = "2026-05-03T14:00:00-05:00") {
    add("application", "bed = \"" + bed + "\"\nbrew = \"May brew\"\nat = " + at +
                           "\nvolume = \"20 L\"\nmethod = \"drench\"\nperson = \"Ana\"");
  }
  /// Three days at 60 degC and more, read every two hours.
  void heat() {
    for (int hour = 0; hour <= 76; hour += 2)
      add("heat_reading", "compost_lot = \"Heap\"\nat = 2026-03-" + std::string(10 + hour / 24 < 10 ? "0" : "") +
                              std::to_string(10 + hour / 24) + "T" + (hour % 24 < 10 ? "0" : "") +
                              std::to_string(hour % 24) + ":00:00-05:00\ntemperature = \"" +
                              std::to_string(60 + hour % 4) + "." + std::to_string(hour % 10) +
                              " degC\"\nplace = \"core\"");
  }

  test::TemporaryFolder folder_;
  World world_;
  std::map<std::string, std::string> files_;
  std::int64_t ticks_ = 0;
};

}  // namespace barm::operations
