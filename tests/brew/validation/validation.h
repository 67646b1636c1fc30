// Prediction beside measurement, for every published point that the model was not fitted to. What it says is
// docs/validation.md; a test holds that page to this program.
#pragma once

#include <string>

namespace barm::test {

/// The page, in Markdown.
std::string validation_page();

}  // namespace barm::test
