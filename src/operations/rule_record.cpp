#include "operations/rule_record.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "cards/local_time.h"
#include "compost/heat_log.h"
#include "operations/record_store.h"
#include "recipe/plan.h"
#include "operations/shipped.h"

namespace barm::operations {

using records::Entry;
using rule::Facts;

rule::Day local_day(std::int64_t at_ms, const std::string& zone) {
  return *rule::read_day(cards::iso_text(at_ms, zone).substr(0, 10));
}

const std::vector<Entry>& Things::all(const std::string& kind) {
  const auto at = kinds_.find(kind);
  if (at != kinds_.end()) return at->second;
  auto& entries = kinds_[kind];
  auto listed = store_->list(*store_->kinds().find(kind), {.most = 1'000'000});
  for (const auto& why : listed.refusals()) failures_.push_back(why);
  if (listed.ok()) entries = std::move(listed.value());
  return entries;
}

const Entry* Things::named(const std::string& id) {
  if (id.empty()) return nullptr;
  auto [at, is_new] = found_.try_emplace(id);
  if (is_new) {
    auto first = store_->find(id);
    if (first.ok()) at->second = std::move(first.value());
  }
  if (!at->second) return nullptr;
  for (const auto& entry : all(at->second->kind)) {
    if (entry.thing_number == at->second->thing_number) return &entry;
  }
  return nullptr;
}

std::vector<const Entry*> Things::of(const std::string& kind, const std::string& field, const Entry& thing) {
  std::vector<const Entry*> those;
  for (const auto& entry : all(kind)) {
    const Entry* named_there = named(text(entry, field));
    if (named_there != nullptr && named_there->thing_number == thing.thing_number) those.push_back(&entry);
  }
  return those;
}

const records::Value* Things::value(const Entry& entry, const std::string& field) const {
  const auto at = store_->kinds().find(entry.kind)->position(field);
  if (!at || *at >= entry.values.size() || !records::is_given(entry.values[*at])) return nullptr;
  return &entry.values[*at];
}
std::string Things::text(const Entry& entry, const std::string& field) const {
  const auto* held = value(entry, field);
  const auto* words = held == nullptr ? nullptr : std::get_if<std::string>(held);
  return words == nullptr ? std::string() : *words;
}
std::optional<double> Things::number(const Entry& entry, const std::string& field) const {
  const auto* held = value(entry, field);
  const auto* figure = held == nullptr ? nullptr : std::get_if<double>(held);
  return figure == nullptr ? std::nullopt : std::optional(*figure);
}
std::optional<std::int64_t> Things::whole(const Entry& entry, const std::string& field) const {
  const auto* held = value(entry, field);
  const auto* figure = held == nullptr ? nullptr : std::get_if<std::int64_t>(held);
  return figure == nullptr ? std::nullopt : std::optional(*figure);
}
std::string Things::name(const Entry* entry) const {
  return entry == nullptr ? std::string() : name_of(*store_->kinds().find(entry->kind), *entry);
}

namespace {

/// `above`: the brews it is itself mixed into, so that a record in which two are mixed into each other has an end.
Mixed mixed_below(Things& things, const Entry& brew, std::set<std::int64_t>& above) {
  Mixed mixed;
  if (!above.insert(brew.thing_number).second) return mixed;
  for (const Entry* mix : things.of("mix", "into", brew)) {
    const Entry* part = things.named(things.text(*mix, "part"));
    if (part == nullptr) continue;
    mixed.is_recorded = true;
    if (part->kind == "compost_lot") mixed.composts.push_back(part);
    if (part->kind == "food_lot") mixed.foods.push_back(part);
    if (part->kind == "water_source") mixed.waters.push_back(part);
    if (part->kind != "brew") continue;  // an earlier brew brings all that is in it
    mixed.brews.push_back(part);
    const Mixed before = mixed_below(things, *part, above);
    for (const auto& [from, into] :
         {std::pair(&before.composts, &mixed.composts), std::pair(&before.foods, &mixed.foods),
          std::pair(&before.waters, &mixed.waters), std::pair(&before.brews, &mixed.brews)})
      into->insert(into->end(), from->begin(), from->end());
  }
  above.erase(brew.thing_number);
  return mixed;
}

}  // namespace

Mixed mixed_into(Things& things, const Entry& brew) {
  std::set<std::int64_t> above;
  return mixed_below(things, brew, above);
}

namespace {

constexpr double ms_per_h = 3'600'000.0;

/// Whether the readings of a lot up to that instant meet the produce rule's heat for the way it was composted.
bool heat_meets(Things& things, const Entry& lot, std::int64_t before) {
  const std::map<std::string, compost::Method> methods = {{"windrow", compost::Method::windrow},
                                                          {"static_aerated", compost::Method::static_aerated_pile},
                                                          {"in_vessel", compost::Method::in_vessel}};
  const auto method = methods.find(things.text(lot, "method"));
  if (method == methods.end()) return false;
  const auto& rules = shipped_heat_rules();
  auto readings = things.of("heat_reading", "compost_lot", lot);
  std::erase_if(readings, [&](const Entry* one) { return things.whole(*one, "at").value_or(before + 1) > before; });
  std::sort(readings.begin(), readings.end(),
            [&](const Entry* a, const Entry* b) { return things.whole(*a, "at") < things.whole(*b, "at"); });
  std::map<std::string, compost::HeatPosition> positions;
  compost::HeatLog log;
  for (const Entry* reading : readings) {
    const double at_h =
        static_cast<double>(*things.whole(*reading, "at") - *things.whole(*readings.front(), "at")) / ms_per_h;
    auto& position = positions[things.text(*reading, "place")];
    position.name = things.text(*reading, "place");
    position.time_h.push_back(at_h);
    position.temperature_c.push_back(static_cast<float>(things.number(*reading, "temperature").value_or(NAN)));
    if (things.whole(*reading, "turned").value_or(0) != 0) log.turned_at_h.push_back(at_h);
  }
  for (auto& [place, position] : positions) log.positions.push_back(std::move(position));
  if (log.positions.empty()) return false;
  const auto told = compost::judge_heat(log, {.method = method->second, .rule = compost::Rule::produce}, rules);
  return told.ok() && told->asked.meets;
}

/// Finished by the day a brew was made of it, and hot enough until then.
bool is_composted(Things& things, const Entry& lot, std::int64_t before) {
  const auto finished_on = rule::read_day(things.text(lot, "finished_on"));
  if (!finished_on || *finished_on > local_day(before, zone_of(things.store()))) return false;
  return heat_meets(things, lot, before);
}

void tell_composts(Things& things, const Mixed& mixed, std::int64_t before, Facts& facts) {
  bool any_animal = false, all_known = mixed.is_recorded && !mixed.composts.empty(), all_processed = all_known;
  bool all_worms = !mixed.composts.empty(), any_worms = false;
  for (const Entry* lot : mixed.composts) {
    const std::string origin = things.text(*lot, "animal_origin");
    any_animal = any_animal || origin == "manure" || origin == "other";
    all_known = all_known && !origin.empty() && origin != "not_known";
    if (origin != "none") all_processed = all_processed && is_composted(things, *lot, before);
    const bool is_worms = things.text(*lot, "method") == "vermicompost";
    all_worms = all_worms && is_worms;
    any_worms = any_worms || is_worms;
  }
  for (const Entry* food : mixed.foods) {
    const auto is_of_animals = is_animal_food(things.text(*food, "food"));
    all_known = all_known && is_of_animals.has_value();
    if (!is_of_animals.value_or(false)) continue;
    any_animal = true;  // its own processing is not in the record
    all_processed = false;
  }
  if (any_animal) facts.set("animal_origin", "yes");
  if (!any_animal && all_known) facts.set("animal_origin", "no");
  if (any_animal && all_processed) facts.set("process", "composted");
  if (all_worms || (!any_worms && !mixed.composts.empty()))
    facts.set("material", all_worms ? "vermicompost" : "compost");
}

/// The way all of the lots were composted, when they agree.
void tell_method(Things& things, const Mixed& mixed, Facts& facts) {
  const std::map<std::string, std::string> words = {{"windrow", "windrow"},
                                                    {"static_aerated", "static_aerated_pile"},
                                                    {"in_vessel", "in_vessel"},
                                                    {"static", "static"}};
  std::string method;
  for (const Entry* lot : mixed.composts) {
    const auto at = words.find(things.text(*lot, "method"));
    if (at == words.end() || (!method.empty() && method != at->second)) return;
    method = at->second;
  }
  if (!method.empty()) facts.set("method", method);
}

/// Disinfected since the brew before it in the same vessel; nothing when no cleaning is recorded.
void tell_equipment(Things& things, const Entry& brew, Facts& facts) {
  const Entry* vessel = things.named(things.text(brew, "vessel"));
  const auto air_on_at = things.whole(brew, "air_on_at");
  if (vessel == nullptr || !air_on_at) return;
  std::int64_t since = 0;
  for (const Entry* other : things.of("brew", "vessel", *vessel)) {
    const auto begun = things.whole(*other, "air_on_at");
    if (begun && *begun < *air_on_at) since = std::max(since, things.whole(*other, "air_off_at").value_or(*begun));
  }
  for (const Entry* cleaning : things.of("cleaning", "vessel", *vessel)) {
    const auto at = things.whole(*cleaning, "at");
    if (at && *at > since && *at <= *air_on_at && things.text(*cleaning, "method") == "disinfected")
      facts.set("equipment_sanitised", "yes");
  }
}

/// Whether none found is none there: the rule asks for none in 100 mL. A limit nobody wrote is taken for that (judged).
bool finds_one_in_100_ml(const Things& things, const Entry& test) {
  return things.number(test, "e_coli_detection_limit_per_100_ml").value_or(1.0) <= 1.0;
}

void tell_water(Things& things, const Mixed& mixed, std::int64_t before, Facts& facts) {
  const std::map<std::string, std::string> sources = {
      {"well", "ground"}, {"mains", "municipal"}, {"river", "untreated_surface"}, {"pond", "untreated_surface"}};
  std::optional<std::string> source;
  bool all_tested = !mixed.waters.empty(), any_found = false, all_named = !mixed.waters.empty();
  for (const Entry* water : mixed.waters) {
    const auto at = sources.find(things.text(*water, "type"));
    all_named = all_named && at != sources.end();
    if (at != sources.end() && source != "untreated_surface") source = at->second;
    const Entry* latest = nullptr;
    for (const Entry* test : things.of("water_test", "water_source", *water)) {
      const auto tested_at = things.whole(*test, "at");
      if (!things.number(*test, "e_coli_per_100_ml") || !tested_at || *tested_at > before) continue;
      if (latest == nullptr || tested_at > things.whole(*latest, "at")) latest = test;
    }
    const bool is_found = latest != nullptr && *things.number(*latest, "e_coli_per_100_ml") > 0.0;
    all_tested = all_tested && latest != nullptr && (is_found || finds_one_in_100_ml(things, *latest));
    any_found = any_found || is_found;
  }
  if (source && (all_named || source == "untreated_surface")) facts.set("water_source", *source);
  if (any_found || all_tested) facts.set("water_e_coli", any_found ? "yes" : "no");
}

/// Counts of the brew up to the application, geometric mean; nothing while a count of none, or a find that was not
/// counted, is among them. A microscope tells no E. coli from other rods.
void tell_counts(Things& things, const Entry& brew, std::int64_t before, Facts& facts) {
  constexpr double per_100_ml = 100.0;
  double sum = 0.0;
  int count = 0;
  for (const Entry* one : things.of("count", "of", brew)) {
    const auto density = things.number(*one, "density");
    if (things.text(*one, "organism") != "e_coli" || things.whole(*one, "at") > before) continue;
    if (things.text(*one, "method") == "microscope" || (!density && things.text(*one, "result").empty())) continue;
    sum += std::log(density.value_or(0.0) * per_100_ml);
    ++count;
  }
  if (count > 0 && std::isfinite(sum)) facts.set("tea_e_coli", std::exp(sum / count));
}

/// When the oldest part of a tea was begun: its own air on, or that of a brew mixed into it; nothing while one is not
/// known.
std::optional<std::int64_t> first_air_on(const Things& things, const Entry& brew, const Mixed& mixed) {
  auto first = things.whole(brew, "air_on_at");
  for (const Entry* part : mixed.brews) {
    const auto begun = things.whole(*part, "air_on_at");
    if (!first || !begun) return std::nullopt;
    first = std::min(*first, *begun);
  }
  return first;
}

void tell_bed(Things& things, const Entry& application, Facts& facts) {
  const std::string method = things.text(application, "method");
  if (!method.empty()) facts.set("foliar", method == "spray" ? "yes" : "no");
  const Entry* bed = things.named(things.text(application, "bed"));
  const std::string part = bed == nullptr ? std::string() : things.text(*bed, "part_eaten");
  if (part == "none") {
    facts.set("crop_contact", "not_eaten");
    facts.set("covered_produce", "no");
  }
  if (part == "leaf" || part == "root") facts.set("crop_contact", "soil");
  if (part == "leaf" || part == "root" || part == "fruit")
    facts.set("covered_produce", "yes");  // judged: until told no
}

}  // namespace

std::optional<bool> is_animal_food(const std::string& name) {
  const auto food = shipped_knowledge().foods.find(name);
  return food.ok() ? std::optional((*food)->is_animal_origin) : std::nullopt;
}

Facts facts_of_application(Things& things, const Entry& application) {
  Facts facts;
  const std::int64_t at = things.whole(application, "at").value_or(0);
  tell_bed(things, application, facts);
  const Entry* brew = things.named(things.text(application, "brew"));
  if (brew == nullptr) return facts;
  const Mixed mixed = mixed_into(things, *brew);
  tell_composts(things, mixed, std::min(at, things.whole(*brew, "air_on_at").value_or(at)), facts);
  tell_method(things, mixed, facts);
  tell_equipment(things, *brew, facts);
  tell_water(things, mixed, at, facts);
  tell_counts(things, *brew, at, facts);
  if (mixed.is_recorded) facts.set("food", mixed.foods.empty() ? "no" : "yes");
  if (const auto begun_at = first_air_on(things, *brew, mixed); begun_at && *begun_at <= at)
    facts.set("held", static_cast<double>(at - *begun_at) / ms_per_h);
  return facts;
}

}  // namespace barm::operations
