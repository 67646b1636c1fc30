// A folder of a test's own, gone with the test.
#pragma once

#include <string>

namespace barm::test {

class TemporaryFolder {
 public:
  /// Throws when none can be made: a test without its folder must not go on in another.
  TemporaryFolder();
  ~TemporaryFolder();
  TemporaryFolder(const TemporaryFolder&) = delete;
  TemporaryFolder& operator=(const TemporaryFolder&) = delete;

  std::string file(const std::string& name) const { return path_ + "/" + name; }
  const std::string& path() const { return path_; }

 private:
  std::string path_;
};

}  // namespace barm::test
