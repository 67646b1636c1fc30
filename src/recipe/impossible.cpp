// When nothing on hand works: which line is in the way, and the nearest ask that would do.
#include <algorithm>
#include <array>
#include <cmath>

#include "recipe/lines.h"
#include "recipe/tryouts.h"

namespace barm::recipe {
namespace {

constexpr int pump_steps_most = 24;  // judged: a pump several thousand times as strong is another question
constexpr std::array water_shares = {0.8, 0.65, 0.5, 0.35, 0.25, 0.15};
constexpr std::array warmer_by_c = {2.0, 4.0, 6.0, 8.0, 10.0, 14.0};

/// The same draft with a pump so many times as strong; nothing when that cannot be.
std::optional<Draft> with_pump(const Draft& draft, double factor) {
  Draft other = draft;
  const auto aeration = aerate(other.brewing, factor);
  if (!aeration.ok() || aeration->air.vvm > lines::air_most_vvm) return std::nullopt;
  other.aeration = *aeration;
  return other;
}

/// 1.5, 2, 3, 4, 6, 8 and so on: pumps are sold in steps as wide.
double pump_factor(int step) {
  return std::ldexp(step % 2 == 0 ? 1.5 : 2.0, step / 2);
}

/// The mix for less water in the same vessel, per litre as it was.
std::optional<Draft> with_water(const Draft& draft, double share, Mix& mix) {
  Draft other = draft;
  other.brewing.ask.volume_l *= share;
  const auto aeration = aerate(other.brewing);
  if (!aeration.ok() || aeration->air.vvm > lines::air_most_vvm) return std::nullopt;
  other.aeration = *aeration;
  for (double& amount : mix.amounts) amount *= share;
  return other;
}

/// When the mix would brew and keep every line; nothing when it never does.
std::optional<Slot> met_at(const Draft& draft, const Mix& mix, const Want& want, const DesignHelp& help) {
  const Tried tried = try_out(draft, mix, help.parallel);
  Tryouts judge(draft, help, 1);
  const auto pick = judge.best_length(tried, want);
  if (!pick || judge.missing(*pick, want) > 0.0) return std::nullopt;
  return pick->told().slot;
}

void nearest_air(const Tryouts& tryouts, const Mix& mix, const Want& want, Remarks& all) {
  const Draft& draft = tryouts.draft();
  for (int step = 0; step < pump_steps_most; ++step) {
    const double factor = pump_factor(step);
    const auto other = with_pump(draft, factor);
    if (!other || !met_at(*other, mix, want, tryouts.help())) continue;
    all.push_back({"recipe.design.nearest.pump",
                   "air.rated_flow",
                   {{"least", Quantity{draft.ask.air.rated_flow_l_per_h * factor, Dimension::flow}}}});
    break;
  }
  for (const double share : water_shares) {
    Mix less = mix;
    const auto other = with_water(draft, share, less);
    if (!other || !met_at(*other, less, want, tryouts.help())) continue;
    all.push_back({"recipe.design.nearest.volume",
                   "water.volume",
                   {{"most", Quantity{draft.brewing.ask.volume_l * share, Dimension::volume}}}});
    break;
  }
}

double longest_h(const Draft& draft) {
  double longest = 0.0;
  for (const Timetable& table : draft.timetables) longest = std::max(longest, table.slots.back().length_h);
  return longest;
}

/// How much longer the brew would have to run than the clock lets it.
void nearest_length(const Tryouts& tryouts, const Want& want, Remarks& all) {
  Draft other = tryouts.draft();
  const double longest_now_h = longest_h(other);
  DesignAsk open = other.ask;
  open.start_until_at = open.start_from_at;
  open.finish_from_at.reset();
  open.finish_until_at.reset();
  open.use_hours = UseHours::any;
  open.longest_h = lines::length_usual_h;
  other.timetables = timetables(open);
  const DesignHelp quiet{
      .parallel = tryouts.help().parallel, .progress = {}, .should_stop = tryouts.help().should_stop};
  Tryouts judge(other, quiet, 1);
  search(judge, want, effort_for(other.shelf.size(), Role::best));
  double shortest = lines::length_usual_h + 1.0;
  for (const Pick& pick : judge.ranked(want)) shortest = std::min(shortest, pick.told().slot.length_h);
  if (shortest > lines::length_usual_h || shortest <= longest_now_h) return;
  all.push_back({"recipe.design.nearest.longer",
                 "time.finish_until",
                 {{"longer", Quantity{shortest - longest_now_h, Dimension::duration}}}});
}

void nearest_warmth(const Tryouts& tryouts, const Mix& mix, const Want& want, Remarks& all) {
  const Draft& draft = tryouts.draft();
  for (const double by_c : warmer_by_c) {
    Draft other = draft;
    other.brewing.ask.water_temperature_c += by_c;
    other.brewing.ask.warm_room(by_c);
    if (other.brewing.ask.water_temperature_c > lines::water_warm_c) return;
    const auto slot = met_at(other, mix, want, tryouts.help());
    if (!slot) continue;
    const PlanAsk ask = plan_ask(other, mix, *slot);
    all.push_back({ask.room_day.is_told() ? "recipe.design.nearest.warmer_swinging" : "recipe.design.nearest.warmer",
                   "water.temperature",
                   {{"least", Quantity{ask.water_temperature_c, Dimension::temperature}},
                    {"room", Quantity{ask.room_meanwhile_c(), Dimension::temperature}}}});
    return;
  }
}

}  // namespace

Remarks impossible(Tryouts& tryouts) {
  const Draft& draft = tryouts.draft();
  const Effort effort = effort_for(draft.shelf.size(), Role::least_risk);
  // Without the line of oxygen: does anything get ready at all?
  Want ready{.role = Role::least_risk, .tolerance = draft.ask.tolerance};
  ready.oxygen_counts = false;
  search(tryouts, ready, effort);
  auto ranked = tryouts.ranked(ready);
  if (ranked.empty()) {  // what grows most gets ready first; what risks least need not be near it
    Want most = ready;
    most.role = Role::best;
    search(tryouts, most, effort);
    ranked = tryouts.ranked(ready);
  }
  const Want all_lines{.role = Role::best, .tolerance = draft.ask.tolerance};
  Remarks all;
  if (tryouts.is_stopped()) return {{"recipe.design.stopped", "", {}}};
  if (!ranked.empty()) {  // the highest odds among those that get ready
    const auto most = std::max_element(ranked.begin(), ranked.end(), [](const Pick& a, const Pick& b) {
      return a.told().stays_above_6 < b.told().stays_above_6;
    });
    const Outcome& told = most->told();
    all.push_back({"recipe.design.air_too_weak",
                   "air.rated_flow",
                   {{"of_100", of_100(told.stays_above_6)}, {"wanted", of_100(draft.ask.tolerance)}}});
    nearest_air(tryouts, most->tried->mix, all_lines, all);
    constexpr double tolerance_least = 0.5;
    if (told.stays_above_6 >= tolerance_least && told.below_2 <= lines::below_2_most)
      all.push_back({"recipe.design.nearest.tolerance",
                     "brew.tolerance",
                     {{"most", Quantity{std::floor(told.stays_above_6 * 100.0) / 100.0, Dimension::share}}}});
    return all;
  }
  const auto readiest = tryouts.nearest(ready);
  if (!readiest || tryouts.of(readiest->tried->mix).uses.excess() > 0.0) {
    all.push_back({"recipe.design.nothing_mixes", "compost", {}});
    return all;
  }
  Remark why{"recipe.design.never_ready", "brew.aim", {{"longest", Quantity{longest_h(draft), Dimension::duration}}}};
  all.push_back(std::move(why));
  nearest_length(tryouts, all_lines, all);
  Want warm = all_lines;
  warm.oxygen_counts = false;
  nearest_warmth(tryouts, readiest->tried->mix, warm, all);
  return all;
}

}  // namespace barm::recipe
