// Members of an ensemble and their way through time.
#pragma once

#include <functional>
#include <span>
#include <string>
#include <vector>

#include "brew/batch.h"
#include "brew/kernels.h"
#include "brew/large_pages.h"
#include "brew/member.h"
#include "brew/tea.h"

namespace barm::brew {

/// Does job 0 to count - 1, in any order and on any thread. The core has no threads of its own; who calls it may lend
/// some.
using Parallel = std::function<void(int count, const std::function<void(int)>& job)>;
void one_after_the_other(int count, const std::function<void(int)>& job);

/// Members side by side, ready for the solver.
struct Members {
  int count = 0;
  std::vector<double> values;                            // [member][unknown]
  std::vector<std::string> symbols;                      // of the unknowns
  std::vector<double> parameters, coefficients, states;  // as in Batch; `states` moves with the run
  std::vector<double> additions;                         // [member][later food][state]
  std::vector<Event> additions_at;                       // foods that go in after the start, in order
  std::vector<Act> acts;                                 // as in Setup
  std::vector<double> room_from_h;                       // when the room changes, in order
  std::vector<double> room_shifts;                       // [change][tea::System::shifted]: from the members' own
  std::vector<double> cell_pg_cod;
  std::vector<double> step_h;  // [member] to go on with where the last run stopped; empty: each run starts small
};

/// Draws `count` members of a setup, the same for the same seed.
Members draw_members(const Setup& setup, const Priors& priors, const Unknowns& unknowns, int count, std::uint64_t seed);

/// Members of given unknowns, [member][unknown].
Members members_of(const Setup& setup, const Priors& priors, const Unknowns& unknowns, std::vector<double> values);

/// Some of the members, where they stand.
Members only(const Members& members, std::span<const std::size_t> places);

/// What a stretch of the run left behind.
struct Stretch {
  std::vector<double> at_h;
  std::vector<double, LargePages<double>> seen;  // [member][at][tea::observed_count]
  std::vector<double> lowest;                    // [member][2]: lowest oxygen and its hour
  BatchReport report;
  double of(int member, std::size_t at, tea::Observed what) const {
    return seen[(static_cast<std::size_t>(member) * at_h.size() + at) * tea::observed_count +
                static_cast<std::size_t>(what)];
  }
};

/// Whether the air may run and the compost may hang in, for a whole stretch; acts of the setup can only take away.
struct Switches {
  bool air_is_on = true;
  bool bag_is_in = true;
};

/// Takes the members from one hour to another. The answer does not depend on `parallel`.
Stretch run(Members& members, double from_h, double to_h, Switches switches, std::vector<double> output_at_h,
            const Parallel& parallel = one_after_the_other, const Tolerance& tolerance = {},
            const Kernel& kernel = fastest_kernel());

/// The same into a stretch of before, whose memory is used again: to ask for new memory each time costs a tenth of a
/// large run.
void run_into(Stretch& stretch, Members& members, double from_h, double to_h, Switches switches,
              std::vector<double> output_at_h, const Parallel& parallel = one_after_the_other,
              const Tolerance& tolerance = {}, const Kernel& kernel = fastest_kernel());

}  // namespace barm::brew
