// Help and reference, written from the descriptions of the operations.
#pragma once

#include <string>

#include "operations/operation.h"

namespace barm::operations {

/// All nouns with their verbs.
std::string help_all(const std::vector<Operation>& operations, const Voice& voice);
/// The verbs of one noun.
std::string help_noun(const std::vector<Operation>& operations, const std::string& noun, const Voice& voice);
/// One operation: what it is asked, what it answers, examples.
std::string help_operation(const Operation& operation, const Voice& voice);

/// docs/operations/reference.md, whole.
std::string reference_page(const std::vector<Operation>& operations, const cards::Catalogue& words);

/// How a field is named on a command line: "--free-chlorine"; of a positional "UNIT".
std::string option_name(const InputField& field);

}  // namespace barm::operations
