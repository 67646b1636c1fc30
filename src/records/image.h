// Pictures kept in the record: base64 in a text column, so that lines, archives and tables carry them as they carry
// text. What a picture is follows from its first bytes, never from what somebody calls it.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace barm::records {

inline constexpr std::size_t image_bytes_most = 160'000;  // judged: a picture of 1024 by 768 that shows foam
inline constexpr std::size_t image_text_most = (image_bytes_most + 2) / 3 * 4;

/// Base64 (RFC 4648, section 4) of bytes.
std::string base64_of(std::string_view bytes);
/// The bytes again; nothing when the text is not base64 in its one canonical form.
std::optional<std::string> bytes_of(std::string_view base64);
/// Media type of the picture that these bytes begin (JPEG, PNG or WebP); empty when they are none of these.
std::string image_type(std::string_view bytes);

}  // namespace barm::records
