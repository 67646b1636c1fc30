#include "records/chain.h"

#include <sodium.h>

#include <new>

namespace barm::records {
namespace {

using State = crypto_hash_sha256_state;

State* state_in(unsigned char* place) {
  return std::launder(reinterpret_cast<State*>(place));
}

std::string hex(const unsigned char (&hash)[crypto_hash_sha256_BYTES]) {
  char text[2 * sizeof hash + 1];
  return sodium_bin2hex(text, sizeof text, hash, sizeof hash);
}

void update(State* state, std::string_view text) {
  crypto_hash_sha256_update(state, reinterpret_cast<const unsigned char*>(text.data()), text.size());
}

}  // namespace

std::string chain_start() {
  return std::string(std::size_t{2} * crypto_hash_sha256_BYTES, '0');
}

Sealing::Sealing(std::string_view hash_before) {
  static_assert(sizeof(State) <= sizeof state_ && alignof(State) <= 8);
  crypto_hash_sha256_init(new (state_) State);
  add(hash_before);
}

void Sealing::add(std::string_view line) {
  update(state_in(state_), line);
  update(state_in(state_), "\n");
}

std::string Sealing::hash() {
  unsigned char hash[crypto_hash_sha256_BYTES];
  crypto_hash_sha256_final(state_in(state_), hash);
  return hex(hash);
}

std::string hash_of(std::string_view text) {
  unsigned char hash[crypto_hash_sha256_BYTES];
  crypto_hash_sha256(hash, reinterpret_cast<const unsigned char*>(text.data()), text.size());
  return hex(hash);
}

}  // namespace barm::records
