// What is told of a photo beside its entry: the picture's file, and what was seen when it was taken.
#pragma once

#include <functional>
#include <string>
#include <utility>
#include <vector>

#include "operations/voice.h"

namespace barm::operations {

struct PhotoFile {
  std::string type{};   // media type, "image/jpeg"
  std::string bytes{};  // of the file; may be let go once told
  std::size_t bytes_count = 0;
  std::string hash{};  // SHA-256, 64 hexadecimal digits
};
/// Of a picture as the record keeps it.
PhotoFile photo_file(const std::string& base64);
/// "JPEG, 48.2 kB, SHA-256 0f3a…"
std::string file_text(const PhotoFile& file, const Voice& voice);

/// What was seen and smelt, by field: smell and foam as choices, then what people wrote of the look.
using Seen = std::vector<std::pair<std::string, std::string>>;
/// What an observation says, whose fields `text` gives by their names.
Seen seen_of(const std::function<std::string(const std::string&)>& text);
/// "smell: earthy; foam: thin"
std::string seen_text(const Seen& seen, const Voice& voice);

}  // namespace barm::operations
