#include "records/cooperative.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "records/id.h"

namespace barm::bench {

using records::Entry;
using records::Value;

namespace {

constexpr std::int64_t begun_at = 1'451'606'400'000;  // 2016-01-01T00:00:00Z
constexpr std::int64_t minute_ms = 60'000, hour_ms = 3'600'000, day_ms = 86'400'000;
constexpr std::int64_t span_ms = 3652 * day_ms;  // ten years
constexpr int beds_count = 20;                   // of a garden
constexpr std::int64_t brews_a_lot = 8;          // brews between two heaps
constexpr std::int64_t corrected_in = 1000;      // of so many readings one is corrected or withdrawn

std::string text(const char* words, std::int64_t number) {
  return fmt::format("{} {}", words, number);
}

/// As long as what the program itself writes of a plan.
std::string document(const char* key, int parts) {
  std::string json = fmt::format("{{\"{}\":[", key);
  for (int i = 0; i < parts; ++i)
    json += fmt::format("{}{{\"hour\":{},\"low\":{:.2f},\"high\":{:.2f}}}", i == 0 ? "" : ",", i, 5.0 + 0.01 * i, 8.0);
  return json + "]}";
}

}  // namespace

Cooperative::Cooperative(const Size& size)
    : size_(size), random_(size.seed), plan_(document("steps", 24)), forecast_(document("oxygen", 36)) {}

double Cooperative::between(double low, double high) {
  return low + (high - low) * static_cast<double>(random_() >> 11) * 0x1.0p-53;
}

Entry Cooperative::make(const char* kind_name, std::int64_t at, const Fields& fields) {
  const records::Kind& kind = *records::all_kinds().find(kind_name);
  std::array<std::uint8_t, 10> chance{};
  for (std::size_t i = 0; i < chance.size(); ++i) chance[i] = static_cast<std::uint8_t>(random_() >> 56);
  Entry entry{.id = records::make_id(at, chance), .kind = kind_name, .recorded_by = "Ana"};
  entry.values.resize(kind.fields.size());
  for (const auto& [name, value] : fields) entry.values[kind.position(name).value()] = value;
  return entry;
}

std::vector<Entry> Cooperative::gardens() {
  std::vector<Entry> all;
  const auto add = [&](const char* kind, const Fields& fields) {
    all.push_back(make(kind, begun_at, fields));
    return all.back().id;
  };
  for (std::int64_t i = 0; i < size_.gardens_count; ++i) {
    Garden one;
    one.id = add("garden", {{"name", text("Garden", i)}, {"zone", std::string("America/Bogota")}});
    const Value id = one.id;
    one.person = add("person", {{"garden", id}, {"name", text("Ana", i)}});
    one.vessel = add("vessel", {{"garden", id}, {"name", text("Drum", i)}, {"volume", 200.0}});
    const auto pump = add("pump", {{"garden", id}, {"name", text("Pump", i)}});
    const auto stones = add("diffuser", {{"garden", id}, {"name", text("Stones", i)}});
    one.line = add("line", {{"garden", id}, {"name", text("Line", i)}, {"pump", pump}, {"diffuser", stones}});
    one.water = add("water_source", {{"garden", id}, {"name", text("Well", i)}, {"type", std::string("well")}});
    for (int bed = 0; bed < beds_count; ++bed)
      one.beds.push_back(add("bed", {{"garden", id}, {"name", text("Bed", bed)}, {"area", between(10.0, 60.0)}}));
    gardens_.push_back(std::move(one));
  }
  return all;
}

std::vector<Entry> Cooperative::next_brew() {
  std::vector<Entry> all;
  if (made_ == size_.brews_count) return all;
  const std::int64_t at = begun_at + day_ms + span_ms / size_.brews_count * made_;
  Garden& garden = gardens_[static_cast<std::size_t>(made_ % size_.gardens_count)];
  const auto add = [&](const char* kind, std::int64_t when, const Fields& fields) {
    all.push_back(make(kind, when, fields));
    return all.back().id;
  };
  if (garden.brews_made++ % brews_a_lot == 0) {
    garden.compost = add("compost_lot", at,
                         {{"garden", garden.id},
                          {"name", text("Heap", made_)},
                          {"origin", std::string("made_here")},
                          {"animal_origin", std::string("none")},
                          {"method", std::string("windrow")},
                          {"mass", 200'000.0}});
    garden.food =
        add("food_lot", at,
            {{"garden", garden.id}, {"name", text("Can", made_)}, {"food", std::string("molasses")}, {"volume", 20.0}});
    compost_ids.push_back(garden.compost);
    food_ids.push_back(garden.food);
  }
  const auto off_at = at + size_.readings_count * minute_ms;
  const auto brew = add("brew", at,
                        {{"garden", garden.id},
                         {"name", text("Brew", made_)},
                         {"vessel", garden.vessel},
                         {"line", garden.line},
                         {"volume", 180.0},
                         {"air_on_at", at},
                         {"air_off_at", off_at},
                         {"plan", plan_},
                         {"forecast", forecast_},
                         {"person", garden.person}});
  brew_ids.push_back(brew);
  add("mix", at, {{"into", brew}, {"part", garden.water}, {"at", at}, {"volume", 180.0}, {"person", garden.person}});
  add("mix", at, {{"into", brew}, {"part", garden.compost}, {"at", at}, {"mass", 2000.0}, {"person", garden.person}});
  add("mix", at, {{"into", brew}, {"part", garden.food}, {"at", at}, {"volume", 0.4}, {"person", garden.person}});
  double oxygen = between(7.5, 9.0), temperature = between(15.0, 26.0);
  for (std::int64_t i = 0; i < size_.readings_count; ++i) {
    oxygen = std::clamp(oxygen + between(-0.05, 0.045), 0.0, 12.0);
    temperature += between(-0.02, 0.02);
    const auto tenth = [](double value, double parts) { return std::round(value * parts) / parts; };
    add("reading", at + i * minute_ms,
        {{"brew", brew},
         {"at", at + i * minute_ms},
         {"oxygen", tenth(oxygen, 100.0)},
         {"temperature", tenth(temperature, 10.0)}});
    ++readings_made;
    if (random_() % corrected_in != 0) continue;
    Entry later = make("reading", at + i * minute_ms + 1, {});
    later.replaces = all.back().id;
    later.reason = "probe out of the tea";
    later.withdraws = random_() % 2 == 0;
    if (later.withdraws) {
      later.values.clear();
    } else {
      later.values = all.back().values;
      later.values[2] = 8.0;
    }
    all.push_back(std::move(later));
  }
  add("observation", off_at, {{"brew", brew}, {"at", off_at}, {"smell", std::string("earthy")}});
  add("fitness", off_at,
      {{"brew", brew}, {"at", off_at}, {"verdict", std::string("fit")}, {"reasons", std::string("[]")}});
  // Three brews have twenty applications together: 400,000 of 60,000.
  for (std::int64_t i = 0; i < (made_ % 3 == 0 ? 6 : 7); ++i) {
    const auto& bed = garden.beds[random_() % garden.beds.size()];
    add("application", off_at + hour_ms,
        {{"bed", bed},
         {"brew", brew},
         {"at", off_at + hour_ms + i * 10 * minute_ms},
         {"volume", 20.0},
         {"method", std::string("drench")},
         {"person", garden.person}});
    ++applications_made;
  }
  const auto& bed = garden.beds[random_() % garden.beds.size()];
  harvest_ids.push_back(
      add("harvest", off_at + 10 * hour_ms,
          {{"bed", bed}, {"at", off_at + 10 * hour_ms}, {"crop", std::string("lettuce")}, {"mass", 14'000.0}}));
  ++made_;
  return all;
}

}  // namespace barm::bench
