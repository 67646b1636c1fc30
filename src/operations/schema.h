// The operations as JSON Schema and as an OpenAPI 3.1 document, for clients that are not people.
#pragma once

#include "operations/operation.h"

namespace barm::operations {

/// JSON Schema (2020-12) of what an operation is asked: nothing but the described fields is accepted.
Json input_schema(const Operation& operation, const cards::Catalogue& words);
/// JSON Schema of its answer.
Json answer_schema(const Operation& operation, const cards::Catalogue& words);
/// OpenAPI 3.1: one POST path an operation, /api/<noun>/<verb>.
Json open_api(const std::vector<Operation>& operations, const cards::Catalogue& words);

}  // namespace barm::operations
