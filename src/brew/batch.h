// What a batch of brews is handed to the solver as, and how hard the solver should try. The solver itself:
// batch_solver.h
#pragma once

#include <cstdint>
#include <span>

namespace barm::brew {

/// Something that happens to every member at the same hour: switches change, food may fall in, the surroundings move.
struct Event {
  double at_h = 0.0;
  double air_on = 1.0;  // 1 on, 0 off, from here on
  double bag_in = 1.0;  // 1 in, 0 pulled, from here on
  int addition = -1;    // which of the member's additions falls in; -1: none
  int shift = -1;       // which of the shifts holds from here on; -1: the parameters as they are
};

struct Tolerance {
  double relative = 1e-5;
  double absolute_scale = 1.0;  // multiplies every state's own absolute tolerance
  double first_step_h = 1e-3;
  double largest_step_h = 0.75;  // longer ones pass the error test, but the dense output between them does not
  int most_steps = 20000;        // per member and stretch; beyond it the member is given up and counted
};

/// Plain arrays, member after member, so that a kernel made for any instruction set can read them.
struct Batch {
  int member_count = 0;
  const double* parameters = nullptr;    // [member][System::parameter_count]
  const double* coefficients = nullptr;  // [member][coefficient count]
  double* states = nullptr;              // [member][state_count]: start, then what is reached at `to_h`
  double from_h = 0.0;
  double to_h = 0.0;
  std::span<const Event> events = {};  // in order; those at or before from_h only set the switches
  const double* additions = nullptr;   // [member][addition_count][state_count]
  int addition_count = 0;
  const double* shifts = nullptr;            // [shift][System::shifted]: added to those parameters of every member
  std::span<const double> output_at_h = {};  // in order, within from_h to to_h
  double* outputs = nullptr;                 // [member][output][System::observed_count]; may be null
  double* lowest = nullptr;  // [member][2]: lowest of System::watched at any step and its hour; may be null
  double* step_h = nullptr;  // [member]: step to begin with, then the one to go on with; 0: first_step_h; may be null
  Tolerance tolerance = {};
};

struct BatchReport {
  std::int64_t step_count = 0;  // accepted, all members
  std::int64_t rejected_count = 0;
  std::int64_t failed_member_count = 0;  // step too small or too many: outputs from there on are not a number
};

}  // namespace barm::brew
