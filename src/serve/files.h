// Files in a request: none of the machine's. A file to read is its own text, one to write is a download, and the record
// is the server's.
#pragma once

#include <map>
#include <string>

#include "operations/operation.h"

namespace barm::serve {

struct Download {
  std::string name{}, content{};
};

/// Puts what a request tells in place of files before an operation is asked, and collects what it wrote afterwards.
/// Files that an operation must write by its own hand go through a folder that only this object knows and removes.
class Files {
 public:
  explicit Files(std::string store) : store_(std::move(store)) {}
  ~Files();
  Files(const Files&) = delete;
  Files& operator=(const Files&) = delete;

  /// Rewrites the document. Refuses a record that is named, text that is no file's, and a name for a download that is
  /// more than a plain name.
  Answer<bool> prepare(const operations::Operation& operation, operations::Document& document);
  /// The world as an operation may see it in a request.
  operations::World world(const operations::World& machine);
  /// Whether a download was asked for.
  bool downloads() const { return !name_.empty(); }
  /// What was written: one file, or an archive of several. Refuses when the device failed.
  Answer<Download> written() const;
  /// A text without the places of this machine in it.
  std::string without_places(std::string text) const;

 private:
  Answer<bool> make_folder();

  std::string store_, folder_, name_;
  std::map<std::string, std::string> read_;
};

}  // namespace barm::serve
