#include "brew/run.h"

#include <algorithm>
#include <utility>

#include "brew/draws.h"

namespace barm::brew {
namespace {

constexpr int members_per_job = 128;  // enough to keep every lane fed, few enough to share out evenly (judged)

/// What happens on the way, in order: first how air and bag stand at the start of the stretch.
std::vector<Event> events_of(const Members& members, double from_h, double to_h, Switches switches) {
  std::vector<Event> events = members.additions_at;
  for (const Act& act : members.acts) events.push_back({.at_h = act.at_h});
  for (const double at_h : members.room_from_h) events.push_back({.at_h = at_h});
  std::erase_if(events, [&](const Event& event) { return !(event.at_h > from_h && event.at_h <= to_h); });
  events.push_back({.at_h = from_h});
  std::stable_sort(events.begin(), events.end(), [](const Event& a, const Event& b) { return a.at_h < b.at_h; });
  for (Event& event : events) {
    Act now;
    for (const Act& act : members.acts)
      if (act.at_h <= event.at_h) now = act;
    event.air_on = switches.air_is_on && now.air_is_on ? 1.0 : 0.0;
    event.bag_in = switches.bag_is_in && now.bag_is_in ? 1.0 : 0.0;
    const auto changed = std::ranges::upper_bound(members.room_from_h, event.at_h);
    event.shift = static_cast<int>(changed - members.room_from_h.begin()) - 1;
  }
  return events;
}

}  // namespace

void one_after_the_other(int count, const std::function<void(int)>& job) {
  for (int i = 0; i < count; ++i) job(i);
}

Members members_of(const Setup& setup, const Priors& priors, const Unknowns& unknowns, std::vector<double> values) {
  const auto unknown_count = static_cast<std::size_t>(unknowns.count());
  const MemberBuilder builder(setup, priors, unknowns);
  Members members;
  members.acts = setup.acts;
  for (const RoomStep& step : setup.room_steps) {
    members.room_from_h.push_back(step.from_h);
    for (const double by : builder.room_shift(step.temperature_c)) members.room_shifts.push_back(by);
  }
  for (int i = 0; i < unknowns.count(); ++i) members.symbols.push_back(unknowns.at(i).symbol);
  members.count = static_cast<int>(values.size() / unknown_count);
  std::vector<std::size_t> later;  // foods that go in after the start
  for (std::size_t i = 0; i < setup.foods.size(); ++i)
    if (setup.foods[i].at_h > 0.0) later.push_back(i);
  std::stable_sort(later.begin(), later.end(),
                   [&](std::size_t a, std::size_t b) { return setup.foods[a].at_h < setup.foods[b].at_h; });
  for (std::size_t i = 0; i < later.size(); ++i)
    members.additions_at.push_back({.at_h = setup.foods[later[i]].at_h, .addition = static_cast<int>(i)});

  const auto count = static_cast<std::size_t>(members.count);
  members.parameters.reserve(count * tea::parameter_count);
  members.coefficients.reserve(count * tea::coefficients.size());
  members.states.reserve(count * tea::state_count);
  members.cell_pg_cod.reserve(count);
  members.additions.reserve(count * later.size() * tea::state_count);
  for (int m = 0; m < members.count; ++m) {
    const std::span<const double> of_member(values.data() + static_cast<std::size_t>(m) * unknown_count, unknown_count);
    const MemberBuilder::Member member = builder.build(of_member);
    members.parameters.insert(members.parameters.end(), member.parameters.begin(), member.parameters.end());
    members.coefficients.insert(members.coefficients.end(), member.coefficients.begin(), member.coefficients.end());
    members.states.insert(members.states.end(), member.start.begin(), member.start.end());
    members.cell_pg_cod.push_back(member.cell_pg_cod);
    for (const std::size_t food : later) {
      const std::vector<double> added = builder.addition(food, of_member);
      members.additions.insert(members.additions.end(), added.begin(), added.end());
    }
  }
  members.values = std::move(values);
  return members;
}

Members only(const Members& members, std::span<const std::size_t> places) {
  Members some;
  some.count = static_cast<int>(places.size());
  some.symbols = members.symbols;
  some.additions_at = members.additions_at;
  some.acts = members.acts;
  some.room_from_h = members.room_from_h;
  some.room_shifts = members.room_shifts;
  const auto copy = [&](const std::vector<double>& from, std::vector<double>& to) {
    const std::size_t width = from.size() / static_cast<std::size_t>(members.count);
    to.reserve(width * places.size());
    for (const std::size_t m : places)
      to.insert(to.end(), from.begin() + static_cast<std::ptrdiff_t>(m * width),
                from.begin() + static_cast<std::ptrdiff_t>((m + 1) * width));
  };
  copy(members.values, some.values);
  copy(members.parameters, some.parameters);
  copy(members.coefficients, some.coefficients);
  copy(members.states, some.states);
  copy(members.additions, some.additions);
  copy(members.cell_pg_cod, some.cell_pg_cod);
  copy(members.step_h, some.step_h);
  return some;
}

Members draw_members(const Setup& setup, const Priors& priors, const Unknowns& unknowns, int count,
                     std::uint64_t seed) {
  const std::vector<double> points = scrambled_points(count, unknowns.count(), seed);
  const auto width = static_cast<std::size_t>(unknowns.count());
  std::vector<double> values;
  values.reserve(points.size());
  for (std::size_t m = 0; m < static_cast<std::size_t>(count); ++m) {
    const std::vector<double> one = unknowns.values({points.data() + m * width, width});
    values.insert(values.end(), one.begin(), one.end());
  }
  return members_of(setup, priors, unknowns, std::move(values));
}

Stretch run(Members& members, double from_h, double to_h, Switches switches, std::vector<double> output_at_h,
            const Parallel& parallel, const Tolerance& tolerance, const Kernel& kernel) {
  Stretch stretch;
  run_into(stretch, members, from_h, to_h, switches, std::move(output_at_h), parallel, tolerance, kernel);
  return stretch;
}

void run_into(Stretch& stretch, Members& members, double from_h, double to_h, Switches switches,
              std::vector<double> output_at_h, const Parallel& parallel, const Tolerance& tolerance,
              const Kernel& kernel) {
  stretch.at_h = std::move(output_at_h);
  stretch.report = {};
  const auto count = static_cast<std::size_t>(members.count);
  stretch.seen.resize(count * stretch.at_h.size() * tea::observed_count);
  stretch.lowest.resize(count * 2);
  const std::vector<Event> events = events_of(members, from_h, to_h, switches);
  const int jobs = (members.count + members_per_job - 1) / members_per_job;
  std::vector<BatchReport> reports(static_cast<std::size_t>(jobs));
  parallel(jobs, [&](int job) {
    const auto first = static_cast<std::size_t>(job) * members_per_job;
    const std::size_t in_job = std::min<std::size_t>(members_per_job, count - first);
    const std::size_t addition_count = members.additions_at.size();
    const Batch batch{.member_count = static_cast<int>(in_job),
                      .parameters = members.parameters.data() + first * tea::parameter_count,
                      .coefficients = members.coefficients.data() + first * tea::coefficients.size(),
                      .states = members.states.data() + first * tea::state_count,
                      .from_h = from_h,
                      .to_h = to_h,
                      .events = events,
                      .additions = members.additions.data() + first * addition_count * tea::state_count,
                      .addition_count = static_cast<int>(addition_count),
                      .shifts = members.room_from_h.empty() ? nullptr : members.room_shifts.data(),
                      .output_at_h = stretch.at_h,
                      .outputs = stretch.seen.data() + first * stretch.at_h.size() * tea::observed_count,
                      .lowest = stretch.lowest.data() + first * 2,
                      .step_h = members.step_h.empty() ? nullptr : members.step_h.data() + first,
                      .tolerance = tolerance};
    reports[static_cast<std::size_t>(job)] = kernel.solve(batch);
  });
  for (const BatchReport& report : reports) {
    stretch.report.step_count += report.step_count;
    stretch.report.rejected_count += report.rejected_count;
    stretch.report.failed_member_count += report.failed_member_count;
  }
}

}  // namespace barm::brew
