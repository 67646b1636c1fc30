#include "records/image.h"

#include <sodium.h>

namespace barm::records {

std::string base64_of(std::string_view bytes) {
  constexpr int plain = sodium_base64_VARIANT_ORIGINAL;
  std::string text(sodium_base64_ENCODED_LEN(bytes.size(), plain), '\0');
  sodium_bin2base64(text.data(), text.size(), reinterpret_cast<const unsigned char*>(bytes.data()), bytes.size(),
                    plain);
  text.pop_back();  // its NUL
  return text;
}

std::optional<std::string> bytes_of(std::string_view base64) {
  std::string bytes(base64.size(), '\0');
  std::size_t size = 0;
  const char* end = nullptr;
  if (sodium_base642bin(reinterpret_cast<unsigned char*>(bytes.data()), bytes.size(), base64.data(), base64.size(),
                        nullptr, &size, &end, sodium_base64_VARIANT_ORIGINAL) != 0 ||
      end != base64.data() + base64.size())
    return std::nullopt;
  bytes.resize(size);
  return bytes;
}

std::string image_type(std::string_view bytes) {
  using namespace std::string_view_literals;
  if (bytes.starts_with("\xFF\xD8\xFF"sv)) return "image/jpeg";         // ITU-T T.81, B.1.1.3: SOI, a marker
  if (bytes.starts_with("\x89PNG\r\n\x1A\n"sv)) return "image/png";     // W3C PNG, 5.2
  const bool riff = bytes.starts_with("RIFF"sv) && bytes.size() >= 12;  // RFC 9649, 2.4
  return riff && bytes.substr(8, 4) == "WEBP"sv ? "image/webp" : std::string();
}

}  // namespace barm::records
