#include "records/postgres_server.h"

#include <arpa/inet.h>
#include <sys/socket.h>
#include <unistd.h>

#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <stdexcept>

namespace barm::records {
namespace {

int free_port() {
  const int socket = ::socket(AF_INET, SOCK_STREAM, 0);
  sockaddr_in address{};
  address.sin_family = AF_INET;
  address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
  socklen_t size = sizeof address;
  const bool bound = bind(socket, reinterpret_cast<sockaddr*>(&address), size) == 0 &&
                     getsockname(socket, reinterpret_cast<sockaddr*>(&address), &size) == 0;
  close(socket);
  if (!bound) throw std::runtime_error("no free port");
  return ntohs(address.sin_port);
}

std::string run(const std::string& command) {
  std::string said;
  std::FILE* pipe = popen((command + " 2>&1").c_str(), "r");
  char part[4096];
  while (pipe != nullptr && std::fgets(part, sizeof part, pipe) != nullptr) said += part;
  if (pipe == nullptr || pclose(pipe) != 0) throw std::runtime_error(command + "\n" + said);
  return said;
}

}  // namespace

PostgresServer& PostgresServer::shared() {
  const char* lasting = std::getenv("BARM_TESTS_LASTING");
  static PostgresServer server(lasting != nullptr && std::string(lasting) == "1");
  return server;
}

/// The server refuses to run as root.
std::string PostgresServer::as_owner(const std::string& command) const {
  return (geteuid() == 0 ? "cd / && runuser -u postgres -- " : "") + command;
}

PostgresServer::PostgresServer(bool lasting) : binaries_("/usr/lib/postgresql/15/bin/"), lasting_(lasting) {
  folder_ = run(as_owner("mktemp -d --tmpdir barm_postgres.XXXXXX"));
  folder_.pop_back();
  run(as_owner(binaries_ + "initdb --no-sync -A trust -U tests -E UTF8 --locale=C -D " + folder_ + "/data"));
  port_ = free_port();
  start();
}

void PostgresServer::start() {
  run(as_owner(binaries_ + "pg_ctl -w -D " + folder_ + "/data -l " + folder_ + "/log -o \"-p " + std::to_string(port_) +
               " -c listen_addresses=127.0.0.1 -c unix_socket_directories= -c fsync=" + (lasting_ ? "on" : "off") +
               "\" start >/dev/null"));
}

void PostgresServer::crash() {
  run(as_owner(binaries_ + "pg_ctl -w -D " + folder_ + "/data -m immediate stop"));
  start();
}

PostgresServer::~PostgresServer() {
  try {
    run(as_owner(binaries_ + "pg_ctl -w -D " + folder_ + "/data -m immediate stop"));
  } catch (const std::exception&) {
  }
  std::error_code none;
  std::filesystem::remove_all(folder_, none);
}

std::string PostgresServer::new_database() {
  const std::string name = "store_" + std::to_string(++databases_), port = std::to_string(port_);
  run(binaries_ + "createdb -h 127.0.0.1 -U tests -p " + port + " " + name);
  return "postgresql://tests@127.0.0.1:" + port + "/" + name;
}

}  // namespace barm::records
