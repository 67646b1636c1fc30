#include "operations/rule_pack_found.h"

#include <algorithm>
#include <set>

#include "operations/record_fields.h"
#include "operations/record_store.h"
#include "operations/rule_inputs.h"
#include "operations/rule_told_facts.h"

namespace barm::operations {
namespace {

using records::Entry;

class Gathering {
 public:
  Gathering(records::Store& store, const PackAsk& ask) : things_(store), ask_(ask) {
    pack_.zone = zone_of(store);
    pack_.ask = ask;
  }

  void applications(const Entry* harvest, const std::vector<rule::RuleSet>& sets, ToldFacts& told, const World& world) {
    for (const Entry& application : things_.all("application")) {
      if (!is_asked_for(application, harvest)) continue;
      PackApplication one{.application = noted(application)};
      note(things_.named(things_.text(application, "bed")));
      const Entry* brew = things_.named(things_.text(application, "brew"));
      if (brew != nullptr) {
        note(brew);
        note(things_.named(things_.text(*brew, "vessel")));
        const Mixed mixed = mixed_into(things_, *brew);
        std::set<std::int64_t> listed;  // what went in twice is listed once
        for (const auto* group : {&mixed.composts, &mixed.foods, &mixed.waters}) {
          for (const Entry* lot : *group) {
            if (listed.insert(lot->thing_number).second) one.lots.push_back(noted(*lot));
          }
        }
      }
      one.facts = told.beside(facts_of_application(things_, application));
      days_to_harvest(application, harvest, one.facts);
      one.facts = rule::with_derived(one.facts);
      one.legal = ClassTold::of(rule::tea_facts(one.facts), rule::contact_facts(one.facts));
      one.rules = judge_all(sets, one.facts, today(world));
      pack_.applications.push_back(std::move(one));
    }
    std::sort(pack_.applications.begin(), pack_.applications.end(), [&](const auto& a, const auto& b) {
      return things_.whole(a.application.entry, "at") < things_.whole(b.application.entry, "at");
    });
  }

  void the_rest(const Entry* harvest) {
    if (harvest != nullptr) pack_.harvests.push_back(noted(*harvest));
    if (harvest == nullptr) keep_of({"harvest"}, {"bed"}, pack_.harvests);
    keep_of({"water_test", "compost_test", "count"}, {"water_source", "compost_lot", "of"}, pack_.tests);
    keep_of({"cleaning"}, {"vessel"}, pack_.cleaning);
    photos();
    for (const Entry& garden : things_.all("garden")) pack_.garden = things_.name(&garden);
    for (const Entry& person : things_.all("person")) {
      if (people_.contains(person.thing_number)) pack_.people.push_back(noted(person));
    }
    corrections();
  }

  Answer<Pack> done(Findings findings) {
    for (const auto& why : things_.failures()) findings.refuse(why);
    for (const auto& why : photos_.refusals()) findings.refuse(why);
    auto verified = findings.take(records::verify(things_.store()));
    if (verified) pack_.verified = std::move(*verified);
    return std::move(findings).answer(std::move(pack_));
  }

 private:
  rule::Day day(std::int64_t at) const { return local_day(at, pack_.zone); }

  bool is_asked_for(const Entry& application, const Entry* harvest) {
    const auto at = things_.whole(application, "at");
    if (!at) return false;
    if (harvest == nullptr) return (!ask_.from || day(*at) >= *ask_.from) && (!ask_.to || day(*at) <= *ask_.to);
    const Entry* bed = things_.named(things_.text(application, "bed"));
    const Entry* picked = things_.named(things_.text(*harvest, "bed"));
    return bed != nullptr && bed == picked && *at <= things_.whole(*harvest, "at").value_or(*at);
  }

  /// To the harvest asked for, else to the first one picked from that bed since.
  void days_to_harvest(const Entry& application, const Entry* harvest, rule::Facts& facts) {
    const auto at = things_.whole(application, "at");
    const Entry* bed = things_.named(things_.text(application, "bed"));
    std::optional<std::int64_t> picked_at;
    if (harvest != nullptr) picked_at = things_.whole(*harvest, "at");
    if (harvest == nullptr && bed != nullptr) {
      for (const Entry* one : things_.of("harvest", "bed", *bed)) {
        const auto when = things_.whole(*one, "at");
        if (when && *when >= *at && (!picked_at || *when < *picked_at)) picked_at = when;
      }
    }
    if (picked_at) facts.set("days_to_harvest", 24.0 * static_cast<double>((day(*picked_at) - day(*at)).count()));
  }

  void note(const Entry* thing) {
    if (thing != nullptr) shown_.insert(thing->thing_number);
  }

  PackEntry noted(const Entry& entry) {
    note(&entry);
    PackEntry out{.entry = entry, .name = things_.name(&entry)};
    for (const auto& field : things_.store().kinds().find(entry.kind)->fields) {
      if (field.type != records::Type::reference) continue;
      const Entry* to = things_.named(things_.text(entry, field.name));
      if (to == nullptr) continue;
      out.called[field.name] = things_.name(to);
      if (to->kind == "person") people_.insert(to->thing_number);
    }
    return out;
  }

  /// Entries of these kinds that are about something the pack shows.
  void keep_of(const std::vector<std::string>& kinds, const std::vector<std::string>& fields,
               std::vector<PackEntry>& into) {
    for (const auto& kind : kinds) {
      for (const Entry& entry : things_.all(kind)) {
        for (const auto& field : fields) {
          if (things_.store().kinds().find(kind)->field(field) == nullptr) continue;
          const Entry* about = things_.named(things_.text(entry, field));
          if (about == nullptr || !shown_.contains(about->thing_number)) continue;
          into.push_back(noted(entry));
          break;
        }
      }
    }
  }

  /// Of the brews the pack shows; read brew by brew, since pictures are large.
  void photos() {
    const auto& kind = *things_.store().kinds().find("photo");
    const auto image = *kind.position("image");
    for (const Entry& brew : things_.all("brew")) {
      if (!shown_.contains(brew.thing_number)) continue;
      for (Entry& photo : entries_about(things_.store(), kind, {"brew", brew.id}, photos_)) {
        const auto file = photo_file(std::get<std::string>(photo.values[image]));
        photo.values[image] = records::Value{};
        PackPhoto one{.entry = noted(photo), .file = file};
        if (const Entry* observation = things_.named(things_.text(photo, "observation")))
          one.seen = seen_of([&](const auto& field) { return things_.text(*observation, field); });
        pack_.photos.push_back(std::move(one));
      }
    }
  }

  /// Corrections and withdrawals of anything the pack shows.
  void corrections() {
    for (const auto& kind : things_.store().kinds().all()) {
      const auto history = things_.store().list(kind, {.history = true, .most = 1'000'000});
      if (!history.ok()) continue;
      for (const Entry& entry : history.value()) {
        if (!entry.replaces.empty() && shown_.contains(entry.thing_number))
          pack_.corrections.push_back({.entry = entry, .name = entry.withdraws ? "" : things_.name(&entry)});
      }
    }
  }

  Things things_;
  PackAsk ask_;
  Findings photos_{};
  Pack pack_{};
  std::set<std::int64_t> shown_{}, people_{};
};

}  // namespace

Answer<Pack> gather_pack(records::Store& store, const PackAsk& ask, const std::vector<rule::RuleSet>& sets,
                         const rule::Facts& told, const World& world) {
  Findings findings;
  std::optional<Entry> harvest;
  if (!ask.harvest.empty()) {
    Things things(store);
    for (const Entry& one : things.all("harvest")) {
      const bool is_named = things.text(one, "mark") == ask.harvest || things.named(ask.harvest) == &one;
      if (is_named && !harvest) harvest = one;
    }
    for (const auto& why : things.failures()) findings.refuse(why);
    if (!harvest) findings.refuse({"operations.rule.no_harvest", "harvest", {{"given", ask.harvest}}});
  }
  if (findings.refused()) return std::move(findings).refusal<Pack>();
  Gathering gathering(store, ask);
  ToldFacts beside(told);
  gathering.applications(harvest ? &*harvest : nullptr, sets, beside, world);
  beside.doubt(findings);
  gathering.the_rest(harvest ? &*harvest : nullptr);
  return gathering.done(std::move(findings));
}

}  // namespace barm::operations
