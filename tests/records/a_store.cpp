#include "records/a_store.h"

#include <unistd.h>

#include <atomic>
#include <filesystem>

#include "records/id.h"
#include "records/image.h"
#include "records/postgres_server.h"

namespace barm::records {

Place OnBoth::empty_place() {
  if (GetParam() == Engine::postgresql) return {PostgresServer::shared().new_database()};
  return {folder.file("record-" + std::to_string(++places_) + ".sqlite")};
}

Store OnBoth::open(const Place& place, const Kinds& kinds) {
  auto store = Store::open(place, kinds, {.make = true, .now = may_2026, .backup_folder = folder.path()});
  if (!store.ok()) throw std::runtime_error(told(store.refusals()));
  return std::move(store.value());
}

std::string engine_name(const ::testing::TestParamInfo<Engine>& info) {
  return info.param == Engine::sqlite ? "sqlite" : "postgresql";
}

std::string new_id() {
  static std::atomic<int> number = 0;
  return id_of_content(may_2026, "test " + std::to_string(getpid()) + " " + std::to_string(++number));
}

Entry entry(const std::string& kind_name, const std::map<std::string, Value>& values, const Kinds& kinds) {
  const Kind& kind = *kinds.find(kind_name);
  Entry made{.id = new_id(), .kind = kind_name, .recorded_by = "Ana"};
  made.values.resize(kind.fields.size());
  for (const auto& [name, value] : values) made.values.at(kind.position(name).value()) = value;
  return made;
}

Entry correction(Entry of, const std::map<std::string, Value>& changes, const std::string& reason) {
  of.replaces = of.id;
  of.id = new_id();
  of.reason = reason;
  for (const auto& [name, value] : changes) of.values.at(all_kinds().find(of.kind)->position(name).value()) = value;
  return of;
}

Entry withdrawal(const Entry& of, const std::string& reason) {
  return {
      .id = new_id(), .kind = of.kind, .replaces = of.id, .reason = reason, .withdraws = true, .recorded_by = "Ana"};
}

Value value(const Entry& entry, const std::string& field) {
  return entry.values.at(all_kinds().find(entry.kind)->position(field).value());
}

bool has(const Remarks& remarks, const std::string& code, const std::string& field) {
  for (const auto& remark : remarks) {
    if (remark.code == code && (field.empty() || remark.field == field)) return true;
  }
  return false;
}

std::string told(const Remarks& remarks) {
  std::string text;
  for (const auto& remark : remarks) {
    text += remark.code + " " + remark.field;
    for (const auto& [name, fact] : remark.facts) {
      if (const auto* words = std::get_if<std::string>(&fact)) text += " " + name + "=" + *words;
    }
    text += "\n";
  }
  return text;
}

void keep(Store& store, const Entry& entry, std::int64_t now) {
  const auto kept = store.add(entry, now);
  ASSERT_TRUE(kept.ok()) << told(kept.refusals());
}

Season a_season() {
  using std::string;
  Season s;
  const auto at = [](double days) {
    return Value(may_2026 + static_cast<std::int64_t>(days * static_cast<double>(day_ms)));
  };
  s.garden = entry("garden", {{"name", string("Hillside garden")},
                              {"zone", string("America/Bogota")},
                              {"rules", string("us_produce,us_organic")}});
  const Value garden = s.garden.id;
  s.ana = entry("person", {{"garden", garden}, {"name", string("Ana")}});
  const auto bed = [&](const char* name) {
    return entry("bed", {{"garden", garden}, {"name", string(name)}, {"area", 30.0}});
  };
  s.bed = bed("North bed");
  s.other_bed = bed("South bed");
  s.bare_bed = bed("Bare bed");
  s.vessel = entry("vessel", {{"garden", garden}, {"name", string("Blue drum")}, {"volume", 200.0}});
  s.water = entry("water_source", {{"garden", garden}, {"name", string("Well")}, {"type", string("well")}});
  s.compost = entry("compost_lot", {{"garden", garden},
                                    {"name", string("Spring heap")},
                                    {"origin", string("made_here")},
                                    {"animal_origin", string("none")},
                                    {"method", string("windrow")},
                                    {"mass", 50'000.0},
                                    {"density", 500.0}});
  s.molasses = entry("food_lot", {{"garden", garden},
                                  {"name", string("Molasses, second can")},
                                  {"food", string("molasses")},
                                  {"expires_on", string("2026-12-01")},
                                  {"volume", 4.0}});
  const auto brew = [&](const char* name, double days) {
    return entry("brew", {{"garden", garden},
                          {"vessel", s.vessel.id},
                          {"name", string(name)},
                          {"volume", 180.0},
                          {"air_on_at", at(days)},
                          {"plan", string(R"({"recipe":"balanced","note":"50 % \"dark\", año"})")},
                          {"person", s.ana.id}});
  };
  s.brew = brew("May night brew", 2);
  s.second_brew = brew("Second brew", 9);
  const auto mix = [&](const Entry& into, const Entry& part, const char* field, double amount, double days) {
    return entry("mix", {{"into", into.id}, {"part", part.id}, {"at", at(days)}, {field, amount}});
  };
  s.rest = {
      mix(s.brew, s.water, "volume", 180.0, 2), mix(s.brew, s.compost, "mass", 2'000.0, 2),
      mix(s.brew, s.molasses, "volume", 0.5, 2),
      // The second brew is begun with some of the first.
      mix(s.second_brew, s.brew, "volume", 5.0, 9), mix(s.second_brew, s.water, "volume", 170.0, 9),
      entry("water_test", {{"water_source", s.water.id}, {"at", at(1)}, {"free_chlorine", 0.0}, {"ph", 7.1}}),
      entry("fitness", {{"brew", s.brew.id}, {"at", at(3)}, {"verdict", string("fit")}, {"reasons", string("[]")}})};
  s.rest.push_back(entry("photo", {{"brew", s.brew.id}, {"at", at(2.2)}, {"image", base64_of(a_picture)}}));
  s.rest.push_back(
      entry("step", {{"brew", s.brew.id}, {"at", at(2)}, {"step", string("mix 0")}, {"done", std::int64_t{1}}}));
  for (int i = 0; i < 10; ++i) {
    s.rest.push_back(entry("reading", {{"brew", s.brew.id}, {"at", at(2 + 0.1 * i)}, {"oxygen", 8.0 - 0.1 * i}}));
  }
  const auto applied = [&](const Entry& from, const Entry& to, double days) {
    return entry("application", {{"bed", to.id},
                                 {"brew", from.id},
                                 {"at", at(days)},
                                 {"volume", 20.0},
                                 {"method", string("drench")},
                                 {"person", s.ana.id}});
  };
  s.application = applied(s.brew, s.bed, 3);
  s.late_application = applied(s.second_brew, s.other_bed, 10);
  const auto harvest = [&](const Entry& of, double days) {
    return entry("harvest", {{"bed", of.id}, {"at", at(days)}, {"crop", string("lettuce")}, {"mass", 14'000.0}});
  };
  s.early_harvest = harvest(s.bed, 1);
  s.harvest = harvest(s.bed, 40);
  s.bare_harvest = harvest(s.bare_bed, 41);
  return s;
}

std::vector<Entry> Season::all() const {
  std::vector<Entry> all = {garden, ana, bed, other_bed, bare_bed, vessel, water, compost, molasses, brew, second_brew};
  all.insert(all.end(), rest.begin(), rest.end());
  for (const auto& one : {application, late_application, early_harvest, harvest, bare_harvest}) all.push_back(one);
  return all;
}

}  // namespace barm::records
