#include "records/id.h"

#include <sodium.h>

#include <algorithm>

#include "quantity/expects.h"

namespace barm::records {

std::string make_id(std::int64_t made_at, const std::array<std::uint8_t, 10>& chance) {
  expects(made_at >= 0 && made_at < (std::int64_t{1} << 48), "the time of an id fits 48 bits");
  std::array<std::uint8_t, 16> bytes{};
  for (std::size_t i = 0; i < 6; ++i) bytes[i] = static_cast<std::uint8_t>(made_at >> (40 - 8 * i));
  std::copy(chance.begin(), chance.end(), bytes.begin() + 6);
  bytes[6] = static_cast<std::uint8_t>(0x70 | (bytes[6] & 0x0F));  // RFC 9562, section 5.7: version 7
  bytes[8] = static_cast<std::uint8_t>(0x80 | (bytes[8] & 0x3F));  // and variant 10
  static constexpr char digits[] = "0123456789abcdef";
  std::string text;
  text.reserve(36);
  for (std::size_t i = 0; i < bytes.size(); ++i) {
    if (i == 4 || i == 6 || i == 8 || i == 10) text += '-';
    text += digits[bytes[i] >> 4];
    text += digits[bytes[i] & 0x0F];
  }
  return text;
}

std::string id_of_content(std::int64_t made_at, std::string_view content) {
  std::array<std::uint8_t, crypto_hash_sha256_BYTES> hash{};
  crypto_hash_sha256(hash.data(), reinterpret_cast<const unsigned char*>(content.data()), content.size());
  std::array<std::uint8_t, 10> chance{};
  std::copy_n(hash.begin(), chance.size(), chance.begin());
  return make_id(made_at, chance);
}

std::int64_t made_at(std::string_view id) {
  expects(is_id(id), "the time of an id that is one");
  std::int64_t at = 0;
  for (const char c : id.substr(0, 13)) {  // eight digits, a dash and four more: 48 bits
    if (c != '-') at = at * 16 + (c <= '9' ? c - '0' : c - 'a' + 10);
  }
  return at;
}

bool is_id(std::string_view text) {
  if (text.size() != 36 || text[14] != '7' || std::string_view("89ab").find(text[19]) == std::string_view::npos)
    return false;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const bool dash = i == 8 || i == 13 || i == 18 || i == 23;
    const bool digit = (text[i] >= '0' && text[i] <= '9') || (text[i] >= 'a' && text[i] <= 'f');
    if (dash ? text[i] != '-' : !digit) return false;
  }
  return true;
}

}  // namespace barm::records
