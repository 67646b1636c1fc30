#include "operations/rule_tests_kept.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "operations/record_store.h"
#include "operations/rule_record.h"
#include "records/named.h"

namespace barm::operations {
namespace {

using records::Entry;
using rule::Sample;

const std::vector<std::string> tested_kinds = {"water_source", "compost_lot", "brew"};

/// A count as it was written; none is a sample in which nothing was found by a method that finds `detects`.
Sample sample_of(double count, double detects) {
  return count > 0.0 ? Sample{.count = count} : Sample{.found = false, .detects = detects};
}

class Gathering {
 public:
  explicit Gathering(records::Store& store) : things_(store) { out_.zone = zone_of(store); }

  /// Only what tells of this thing: of a lot the brews made of it too, of a brew what it was mixed of.
  void only(const Entry& thing) {
    about_.emplace({thing.thing_number});
    if (thing.kind == "brew") {
      const Mixed mixed = mixed_into(things_, thing);
      for (const auto* group : {&mixed.composts, &mixed.waters}) {
        for (const Entry* part : *group) {
          if (about_->insert(part->thing_number).second)
            out_.parts.push_back({part->thing_number, part->kind, things_.name(part)});
        }
      }
    }
    if (thing.kind != "compost_lot") return;
    for (const Entry& brew : things_.all("brew")) {
      const Mixed mixed = mixed_into(things_, brew);
      const auto is_it = [&](const Entry* lot) { return lot->thing_number == thing.thing_number; };
      if (std::any_of(mixed.composts.begin(), mixed.composts.end(), is_it)) about_->insert(brew.thing_number);
    }
  }
  void since(const rule::Day& day) { since_ = day; }

  void gather() {
    for (const Entry& test : things_.all("water_test")) water(test);
    for (const Entry& test : things_.all("compost_test")) compost(test);
    for (const Entry& count : things_.all("count")) counted(count);
  }

  Answer<KeptResults> done(Findings findings) {
    for (const auto& why : things_.failures()) findings.refuse(why);
    for (auto& [fact, results] : out_.of)
      std::stable_sort(results.begin(), results.end(), [](const auto& a, const auto& b) { return a.at < b.at; });
    return std::move(findings).answer(std::move(out_));
  }

 private:
  /// What a test is of, when it is asked for; nothing when it was withdrawn.
  const Entry* tested(const Entry& test, const char* field) {
    const Entry* thing = things_.named(things_.text(test, field));
    const auto at = things_.whole(test, "at");
    if (thing == nullptr || !at || (about_ && !about_->contains(thing->thing_number))) return nullptr;
    return since_ && local_day(*at, out_.zone) < *since_ ? nullptr : thing;
  }

  /// `field` names what was tested.
  void keep(const std::string& fact, const Entry& test, const char* field, Sample sample) {
    const Entry& thing = *things_.named(things_.text(test, field));
    out_.of[fact].push_back({.id = test.id,
                             .kind = test.kind,
                             .thing = {thing.thing_number, thing.kind, things_.name(&thing)},
                             .thing_id = things_.text(test, field),
                             .at = *things_.whole(test, "at"),
                             .sample = std::move(sample)});
  }

  void water(const Entry& test) {
    const Entry* source = tested(test, "water_source");
    const auto count = things_.number(test, "e_coli_per_100_ml");
    // judged: without a limit none in 100 mL is told of 100 mL looked at, where a single one would have been found.
    constexpr double one_in_100_ml = 1.0;
    const double detects = things_.number(test, "e_coli_detection_limit_per_100_ml").value_or(one_in_100_ml);
    if (source != nullptr && count) keep("water_e_coli", test, "water_source", sample_of(*count, detects));
  }

  void compost(const Entry& test) {
    const Entry* lot = tested(test, "compost_lot");
    if (lot == nullptr) return;
    // Where the count is of fecal coliforms E. coli are among them: the most they can be.
    if (const auto count = things_.number(test, "e_coli_mpn_per_g"))
      keep("compost_e_coli", test, "compost_lot",
           sample_of(*count, things_.number(test, "e_coli_detection_limit_per_g").value_or(unset)));
    const std::string salmonella = things_.text(test, "salmonella");
    if (salmonella == "found" || salmonella == "not_found")
      keep("salmonella", test, "compost_lot",
           {.found = salmonella == "found",
            .detects = things_.number(test, "salmonella_detection_limit_per_g").value_or(unset)});
  }

  /// A count of a lot, per gram, or of a tea, per 100 mL. A microscope tells none of these from others.
  void counted(const Entry& count) {
    const std::map<std::string, std::string> of_lot = {{"e_coli", "compost_e_coli"},
                                                       {"fecal_coliforms", "fecal_coliforms"},
                                                       {"salmonella", "salmonella"},
                                                       {"listeria", "listeria"}};
    constexpr double per_100_ml = 100.0;
    const Entry* thing = tested(count, "of");
    const std::string organism = things_.text(count, "organism"), result = things_.text(count, "result");
    if (thing == nullptr || things_.text(count, "method") == "microscope") return;
    const bool is_tea = thing->kind == "brew";
    const auto fact = of_lot.find(organism);
    if (is_tea ? organism != "e_coli" : fact == of_lot.end()) return;
    const auto figure = things_.number(count, is_tea ? "density" : "per_g");
    if (!figure && result.empty()) return;
    const double scale = is_tea ? per_100_ml : 1.0;
    const auto limit = things_.number(count, is_tea ? "detection_limit" : "detection_limit_per_g");
    const double detects = limit ? *limit * scale : unset;
    const bool is_counted = figure && *figure > 0.0;
    Sample sample = is_counted          ? Sample{.count = *figure * scale}
                    : result == "found" ? Sample{.found = true}  // there, and not counted how much
                                        : Sample{.found = false, .detects = detects};
    if (is_tea) sample.batch = std::to_string(thing->thing_number);
    keep(is_tea ? "tea_e_coli" : fact->second, count, "of", std::move(sample));
  }

  Things things_;
  KeptResults out_{};
  std::optional<std::set<std::int64_t>> about_{};
  std::optional<rule::Day> since_{};
};

}  // namespace

Answer<KeptResults> kept_results(records::Store& store, const KeptAsk& ask) {
  Findings findings;
  Gathering gathering(store);
  if (ask.since) gathering.since(*ask.since);
  if (!ask.about.empty()) {
    const auto id = take_about(findings, records::id_named(store, tested_kinds, ask.about), "about");
    const auto thing = id ? take_about(findings, store.find(*id), "about") : std::nullopt;
    if (thing && std::find(tested_kinds.begin(), tested_kinds.end(), thing->kind) == tested_kinds.end())
      findings.refuse({"records.entry.names_another_kind",
                       "about",
                       {{"given", ask.about},
                        {"kind", thing->kind},
                        {"allowed", fmt::format("{}", fmt::join(tested_kinds, ", "))}}});
    if (findings.refused()) return std::move(findings).refusal<KeptResults>();
    gathering.only(*thing);
  }
  gathering.gather();
  return gathering.done(std::move(findings));
}

}  // namespace barm::operations
