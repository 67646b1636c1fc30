#include "operations/photo_told.h"

#include <fmt/format.h>

#include <algorithm>

#include "operations/record_words.h"
#include "records/chain.h"
#include "records/image.h"

namespace barm::operations {

PhotoFile photo_file(const std::string& base64) {
  PhotoFile file{.bytes = records::bytes_of(base64).value_or("")};
  file.bytes_count = file.bytes.size();
  file.type = records::image_type(file.bytes);
  file.hash = records::hash_of(file.bytes);
  return file;
}

std::string file_text(const PhotoFile& file, const Voice& voice) {
  constexpr double bytes_per_kilobyte = 1000.0, least_told = 0.1;
  const double kilobytes = std::max(least_told, static_cast<double>(file.bytes_count) / bytes_per_kilobyte);
  return voice.say("records.told.photo_file",
                   {{"type", file.type}, {"given", fmt::format("{:.1f}", kilobytes)}, {"hash", file.hash}});
}

Seen seen_of(const std::function<std::string(const std::string&)>& text) {
  Seen seen;
  for (const char* field : {"smell", "foam", "look"}) {
    if (auto said = text(field); !said.empty()) seen.emplace_back(field, std::move(said));
  }
  return seen;
}

std::string seen_text(const Seen& seen, const Voice& voice) {
  const records::Kind& kind = *records::all_kinds().find("observation");
  std::string all;
  for (const auto& [field, said] : seen)
    append_said(all, field, value_text(*kind.field(field), said, "UTC", voice), voice);
  return all;
}

}  // namespace barm::operations
