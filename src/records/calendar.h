// Days and hours of the record for a calendar program: RFC 5545.
#pragma once

#include <functional>
#include <string>

#include "records/store.h"

namespace barm::records {

/// Words for an event: what it is called, from its kind and the name of its thing.
using EventWords = std::function<std::string(const Kind& kind, const Field& field, const std::string& name)>;

/// One VCALENDAR with an event for each date or instant that belongs on a calendar: air on, days to use a food by,
/// harvests planned. What was withdrawn is not there; a correction keeps the event's UID and raises its SEQUENCE.
Answer<std::string> calendar_of(Store& store, const EventWords& words, std::int64_t known_at = known_now);

/// A line as RFC 5545 wants it: folded after 75 octets, never inside a letter, ended with CRLF.
std::string folded_line(std::string line);

}  // namespace barm::records
