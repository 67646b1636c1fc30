#include "operations/photo_told.h"

#include <fmt/format.h>

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
  constexpr double bytes_per_kilobyte = 1000.0;
  return voice.say("records.told.photo_file",
                   {{"type", file.type},
                    {"given", fmt::format("{:.1f}", static_cast<double>(file.bytes_count) / bytes_per_kilobyte)},
                    {"hash", file.hash}});
}

std::string seen_text(const std::function<std::string(const std::string&)>& text) {
  std::string all;
  for (const char* field : {"smell", "foam", "look"}) {
    const std::string said = text(field);
    if (!said.empty()) all += fmt::format("{}{} {}", all.empty() ? "" : ", ", field, said);
  }
  return all;
}

}  // namespace barm::operations
