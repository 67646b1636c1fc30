// What decides a brew, and what is read of it, in words.
#pragma once

#include <string>

#include "brew/forecast.h"
#include "operations/voice.h"

namespace barm::operations {

/// "oxygen", "oxygen_share", "temperature", "bacteria", "protozoa".
std::string measured_word(brew::Measured what);
/// "used", "out_of_line", and so on.
std::string fate_word(brew::Fate fate);
/// An unknown of the ensemble as people would name it.
std::string driver_text(const brew::Driver& driver, const Voice& voice);

}  // namespace barm::operations
