// A PostgreSQL server of the tests' own: in a temporary folder, on loopback, gone when the tests end.
#pragma once

#include <string>

namespace barm::records {

class PostgresServer {
 public:
  /// The one all tests share; started when first asked for. Throws when the server cannot be started. It does not wait
  /// for the disk, to be quick, unless the environment says BARM_TESTS_LASTING=1.
  static PostgresServer& shared();
  /// `lasting`: what is acknowledged has reached the disk, as a server in use has it.
  explicit PostgresServer(bool lasting);
  ~PostgresServer();

  /// An empty database of its own: how to reach it.
  std::string new_database();
  /// Ends the server at once, as a crash does, and starts it again.
  void crash();
  void start();

 private:
  std::string as_owner(const std::string& command) const;
  std::string folder_, binaries_;
  bool lasting_ = false;
  int port_ = 0, databases_ = 0;
};

}  // namespace barm::records
