#include "support/temporary_folder.h"

#include <cstdlib>
#include <filesystem>
#include <stdexcept>
#include <system_error>

namespace barm::test {

TemporaryFolder::TemporaryFolder() {
  // mkdtemp(3) puts six letters of its own in place of the X's.
  std::string form = (std::filesystem::temp_directory_path() / "barm_test.XXXXXX").string();
  if (mkdtemp(form.data()) == nullptr) throw std::runtime_error("no temporary folder");
  path_ = form;
}
TemporaryFolder::~TemporaryFolder() {
  std::error_code none;
  std::filesystem::remove_all(path_, none);
}

}  // namespace barm::test
