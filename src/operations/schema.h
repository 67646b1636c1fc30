// The operations as JSON Schema and as an OpenAPI 3.1 document, for clients that are not people.
#pragma once

#include "operations/operation.h"

namespace barm::operations {

/// Where a server answers an operation: "/api/record/add-bed".
std::string api_path(const Operation& operation);

/// JSON Schema (2020-12) of what an operation is asked in a request: nothing but the described fields is accepted. A
/// file to read is its text, a file to write the name of a download, and the record is the server's own.
Json input_schema(const Operation& operation, const cards::Catalogue& words,
                  cards::Language language = cards::Language::english);
/// JSON Schema of its answer. Remarks are named as in the OpenAPI document: "#/components/schemas/Remark".
Json answer_schema(const Operation& operation, const cards::Catalogue& words,
                   cards::Language language = cards::Language::english);
/// One refusal, doubt, warning, note or caution.
Json remark_schema();
/// OpenAPI 3.1: one POST path an operation that a server offers, and the stream of events.
Json open_api(const std::vector<Operation>& operations, const cards::Catalogue& words,
              cards::Language language = cards::Language::english);

}  // namespace barm::operations
