// The engine by itself: the same rows into the same tables, as fast as its own interface puts them there, without
// checks, chain or look-ups. What bulk loading is held against.
#pragma once

#include <map>
#include <memory>
#include <string>
#include <vector>

#include "records/connection.h"
#include "records/entry.h"

namespace barm::bench {

class RawWriter {
 public:
  /// The tables are there already.
  explicit RawWriter(const records::Place& place);
  ~RawWriter();

  /// Works out numbers and references of a batch; not timed.
  void prepare(const std::vector<records::Entry>& entries);
  /// Writes the batch in one transaction.
  void write();

 private:
  struct Engine;
  struct Lite;
  struct Server;
  struct Batch {  // rows of one table
    std::string table{};
    std::vector<std::string> columns{};
    std::vector<records::Row> rows{};
  };
  std::vector<Batch> batches_{};
  std::map<std::string, std::pair<std::int64_t, std::int64_t>> numbers_{};  // of an id: the entry's, and the thing's
  std::int64_t last_ = 0;
  std::unique_ptr<Engine> engine_;
};

}  // namespace barm::bench
