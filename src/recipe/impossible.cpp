// When nothing on hand works: which line is in the way, and the nearest ask that would do.
#include <algorithm>
#include <array>
#include <cmath>
#include <functional>

#include "recipe/lines.h"
#include "recipe/tryouts.h"

namespace barm::recipe {
namespace {

constexpr int pump_steps_most = 24;  // judged: a pump several thousand times as strong is another question
constexpr std::array water_shares = {0.8, 0.65, 0.5, 0.35, 0.25, 0.15};
constexpr std::array mix_shares = {1.0, 0.6, 0.35};
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

/// What a search finds on another clock.
std::optional<Pick> found_on(Draft& other, const DesignAsk& open, const Tryouts& tryouts, const Want& want,
                             std::optional<Tryouts>& judge,
                             const std::function<bool(const Slot&, const Slot&)>& better) {
  other.ask = open;
  other.timetables = timetables(open);
  if (other.timetables.empty()) return std::nullopt;
  judge.emplace(other, tryouts.help(), 1);
  search(*judge, want, effort_for(other.shelf.size(), Role::best));
  std::optional<Pick> best;
  for (const Pick& pick : judge->ranked(want)) {
    if (!best || better(pick.told().slot, best->told().slot)) best = pick;
  }
  return best;
}

std::int64_t finish_of(const Slot& slot) {
  constexpr double ms_per_h = 3'600'000.0;
  return slot.start_at + std::llround(slot.length_h * ms_per_h);
}

/// How much longer the brew would have to run than it may, or how much later it would have to finish.
void nearest_length(const Tryouts& tryouts, const Want& want, Remarks& all) {
  const DesignAsk& ask = tryouts.draft().ask;
  Draft other = tryouts.draft();
  std::optional<Tryouts> judge;
  if (ask.longest_h < lines::length_usual_h) {
    DesignAsk open = ask;
    open.longest_h = lines::length_usual_h;
    const auto shorter = [](const Slot& a, const Slot& b) { return a.length_h < b.length_h; };
    if (const auto pick = found_on(other, open, tryouts, want, judge, shorter)) {
      const Quantity least{pick->told().slot.length_h, Dimension::duration};
      return all.push_back({"recipe.design.nearest.longest", "brew.longest", {{"least", least}}});
    }
  }
  if (!ask.finish_until_at) return;
  DesignAsk open = ask;
  open.start_until_at = ask.start_until_at.value_or(*ask.finish_until_at);
  open.finish_until_at.reset();  // each length then begins as early as it may
  const auto earlier = [](const Slot& a, const Slot& b) { return finish_of(a) < finish_of(b); };
  const auto pick = found_on(other, open, tryouts, want, judge, earlier);
  if (!pick || finish_of(pick->told().slot) <= *ask.finish_until_at) return;
  constexpr double ms_per_h = 3'600'000.0;
  const double later_h = static_cast<double>(finish_of(pick->told().slot) - *ask.finish_until_at) / ms_per_h;
  all.push_back(
      {"recipe.design.nearest.longer", "time.finish_until", {{"longer", Quantity{later_h, Dimension::duration}}}});
}

void nearest_warmth(const Tryouts& tryouts, const Mix& mix, const Want& want, Remarks& all) {
  const Draft& draft = tryouts.draft();
  for (const double by_c : warmer_by_c) {
    Draft other = draft;
    other.brewing.ask.water_temperature_c += by_c;
    other.brewing.ask.warm_room(by_c);
    if (other.brewing.ask.water_temperature_c > lines::water_warm_c) return;
    std::optional<Slot> slot;
    Mix less = mix;
    for (const double share : mix_shares) {  // warmer water holds and is given less oxygen
      for (std::size_t i = 0; i < mix.amounts.size(); ++i) less.amounts[i] = mix.amounts[i] * share;
      if (!slot) slot = met_at(other, less, want, tryouts.help());
    }
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

namespace {

/// Without the line of oxygen.
Want to_get_ready(const Draft& draft, Role role) {
  Want ready{.role = role, .tolerance = draft.ask.tolerance};
  ready.oxygen_counts = false;
  return ready;
}

}  // namespace

void search_ready(Tryouts& tryouts) {
  const Draft& draft = tryouts.draft();
  const auto effort = [&](Role role) { return effort_for(draft.shelf.size(), role); };
  // By lines of its own, so that another ask that differs in its tolerance alone finds the same.
  constexpr double nine_of_ten = 0.9001, nearly_all = 0.9901;
  search(tryouts, {.role = Role::best, .tolerance = nine_of_ten}, effort(Role::best));
  search(tryouts, {.role = Role::least_risk, .tolerance = nearly_all}, effort(Role::best));
  const Want ready = to_get_ready(draft, Role::least_risk);
  search(tryouts, ready, effort(Role::least_risk));
  // What grows most gets ready first; what risks least need not be near it.
  if (tryouts.ranked(ready).empty()) search(tryouts, to_get_ready(draft, Role::best), effort(Role::best));
}

Remarks impossible(Tryouts& tryouts) {
  const Draft& draft = tryouts.draft();
  const Want ready = to_get_ready(draft, Role::least_risk);
  const auto ranked = tryouts.ranked(ready);
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
  const auto all_tried = tryouts.by_score(ready);
  const auto readiest =
      std::ranges::find_if(all_tried, [](const Pick& pick) { return pick.tried->uses.excess() <= 0.0; });
  if (readiest == all_tried.end()) {
    all.push_back({"recipe.design.nothing_mixes", "compost", {}});
    return all;
  }
  Remark why{"recipe.design.never_ready", "brew.aim", {{"longest", Quantity{longest_h(draft), Dimension::duration}}}};
  all.push_back(std::move(why));
  nearest_length(tryouts, all_lines, all);
  nearest_warmth(tryouts, readiest->tried->mix, all_lines, all);
  return all;
}

}  // namespace barm::recipe
