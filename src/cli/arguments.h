// Words of a command line taken apart. Knows options and their names, nothing of what they mean.
#pragma once

#include <cstdint>
#include <map>
#include <string>
#include <vector>

#include "operations/operation.h"

namespace barm::cli {

/// What any command takes, wherever it stands on the line.
struct Common {
  bool json = false;
  bool help = false;
  bool version = false;
  bool reference = false;
  bool open_api = false;
  cards::Language language = cards::Language::english;
  Customs customs;
  std::vector<std::string> rest;  // everything else, in order
};

/// Takes the common options out. What is wrong with them is added to `findings`; language and JSON hold all the same.
Common read_common(const std::vector<std::string>& words, Findings& findings);

/// The words of one operation.
struct Given {
  std::map<std::string, std::string> fields;  // by path: "water.volume", "food[2].amount"
  std::string document;                       // name of the file to work from; empty when none
};
Given read_fields(const operations::Operation& operation, const std::vector<std::string>& words, Findings& findings);

/// The words of `barm serve`.
struct ServeWords {
  std::string address = "127.0.0.1";
  std::uint16_t port = 8787;
  std::string store{};               // empty: the usual file
  std::vector<std::string> names{};  // it may be called by
  std::string sample{};              // file of a sample garden
};
ServeWords read_serve(const std::vector<std::string>& words, Findings& findings);

}  // namespace barm::cli
