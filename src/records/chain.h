// The chain of hashes: each seal covers the entries of one writing and the seal before it, so that nobody changes,
// removes or slips in an entry without every later seal telling it.
#pragma once

#include <string>
#include <string_view>

namespace barm::records {

/// The hash a store begins with, before its first entry.
std::string chain_start();

/// One seal in the making.
class Sealing {
 public:
  explicit Sealing(std::string_view hash_before);
  void add(std::string_view line);
  /// SHA-256 of the hash before, a line feed, and each line with its line feed; 64 hexadecimal digits.
  std::string hash();

 private:
  alignas(8) unsigned char state_[128];
};

/// SHA-256 of a text, in the same form.
std::string hash_of(std::string_view text);

}  // namespace barm::records
