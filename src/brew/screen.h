// Readings looked over before anything is learned from them.
#pragma once

#include <vector>

#include "brew/hearing.h"
#include "brew/log.h"

namespace barm::brew {

/// Most oxygen that is believed of a reading, as a share of saturation; bubbled water holds a few per cent more at
/// most.
inline constexpr double fullest_share = 1.3;

/// The readings of a log in order of time, each with its fate: before the start, there already, or of no water there is
/// (doubts name the likely unit). Runs of oxygen or temperature readings within a few minutes of each other become one,
/// their middle, unless the air was stopped or started among them, where a few seconds matter.
std::vector<Heard> screen(const BrewLog& log, const Setup& setup, Findings& findings);

/// Marks readings of a meter that stood still while the brew must have moved: five or more alike over an hour or more,
/// where three of four members of the ensemble move by more than three times the meter's noise.
void mark_stuck(std::vector<Heard>& heard, const Hearing& hearing, int member_count, const std::vector<double>& shown,
                Findings& findings);

}  // namespace barm::brew
