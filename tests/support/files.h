// Files that tests need as they are: pictures.
#pragma once

#include <string>

namespace barm::test {

/// Bytes of the file that tests/support/`name`.txt holds as base64; throws when it is missing or empty.
std::string support_file(const std::string& name);

}  // namespace barm::test
