#include "support/temporary_folder.h"

#include <cstdlib>
#include <filesystem>
#include <stdexcept>
#include <system_error>

namespace barm::test {

TemporaryFolder::TemporaryFolder() {
  const std::string to_fill(6, 'X');  // mkdtemp(3) puts letters of its own there
  std::string form = (std::filesystem::temp_directory_path() / ("barm_test." + to_fill)).string();
  if (mkdtemp(form.data()) == nullptr) throw std::runtime_error("no temporary folder");
  path_ = form;
}
TemporaryFolder::~TemporaryFolder() {
  std::error_code none;
  std::filesystem::remove_all(path_, none);
}

}  // namespace barm::test
