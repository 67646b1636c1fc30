// Whether an entry holds what its kind asks for.
#pragma once

#include "quantity/answer.h"
#include "records/entry.h"

namespace barm::records {

inline constexpr std::size_t text_most = 4096;                          // letters of a text. judged: a note, not a book
inline constexpr std::size_t json_most = std::size_t{4} * 1024 * 1024;  // of a plan or forecast kept as it was. judged

/// Everything wrong with the entry by itself: its id, what is missing, unknown choices, numbers out of bounds or not
/// finite, text that is not UTF-8 or too long, days that are none, JSON that is none, and a correction without its
/// reason. Fields are named as the kind names them. Whether the entries it refers to are there is the store's to say.
Remarks faults_of(const Kind& kind, const Entry& entry);

/// What of the entry is hardly so: a value above, or a time after, the one it goes up to; two of its references to one
/// thing. For an entry without faults.
Remarks doubts_of(const Kind& kind, const Entry& entry);

}  // namespace barm::records
