// Ids made where an entry is made, so that a phone may send the same entry twice: UUID version 7 of RFC 9562.
#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <string_view>

namespace barm::records {

/// 48 bits of time and 74 of chance, in the usual 36 letters. `made_at` in ms UTC, not before 1970.
std::string make_id(std::int64_t made_at, const std::array<std::uint8_t, 10>& chance);

/// An id whose chance is drawn from `content`: the same content makes the same id, so that a file read twice is kept
/// once.
std::string id_of_content(std::int64_t made_at, std::string_view content);

/// When an id was made [ms UTC]. The id is one.
std::int64_t made_at(std::string_view id);

/// Whether the text is a UUID of version 7 in small letters.
bool is_id(std::string_view text);

}  // namespace barm::records
