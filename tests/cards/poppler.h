// Reads a PDF with poppler's programs, a reader nobody here wrote.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

namespace barm::test {

/// What `program` (pdfinfo, pdftotext ...) prints about a PDF; `arguments` with "FILE" standing for its path. Throws
/// when the program fails.
std::string poppler(const std::string& program, const std::string& arguments, const std::vector<std::uint8_t>& pdf);

/// Text with every run of white space made one space.
std::string one_line(const std::string& text);

}  // namespace barm::test
