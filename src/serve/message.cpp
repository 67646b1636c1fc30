#include "serve/message.h"

#include <algorithm>

namespace barm::serve {
namespace {

int hex_digit(char c) {
  if (c >= '0' && c <= '9') return c - '0';
  if (c >= 'a' && c <= 'f') return c - 'a' + 10;
  if (c >= 'A' && c <= 'F') return c - 'A' + 10;
  return -1;
}

}  // namespace

std::string_view Request::header(std::string_view name) const {
  const auto at = std::find_if(headers.begin(), headers.end(), [&](const auto& one) { return one.first == name; });
  return at == headers.end() ? std::string_view() : std::string_view(at->second);
}

std::size_t Request::count(std::string_view name) const {
  return static_cast<std::size_t>(
      std::count_if(headers.begin(), headers.end(), [&](const auto& one) { return one.first == name; }));
}

std::string Request::parameter(std::string_view name) const {
  std::string_view rest = query;
  while (!rest.empty()) {
    const auto part = rest.substr(0, rest.find('&'));
    rest.remove_prefix(std::min(rest.size(), part.size() + 1));
    const auto equals = part.find('=');
    std::string key, value;
    if (!decode(part.substr(0, equals), true, key) || key != name) continue;
    if (equals == std::string_view::npos || !decode(part.substr(equals + 1), true, value)) return {};
    return value;
  }
  return {};
}

bool decode(std::string_view encoded, bool plus_is_blank, std::string& text) {
  text.clear();
  for (std::size_t i = 0; i < encoded.size(); ++i) {
    char c = encoded[i];
    if (c == '%') {
      if (i + 2 >= encoded.size()) return false;
      const int high = hex_digit(encoded[i + 1]), low = hex_digit(encoded[i + 2]);
      if (high < 0 || low < 0) return false;
      c = static_cast<char>(high * 16 + low);
      i += 2;
    } else if (c == '+' && plus_is_blank) {
      c = ' ';
    }
    if (c == '\0') return false;
    text += c;
  }
  return true;
}

}  // namespace barm::serve
