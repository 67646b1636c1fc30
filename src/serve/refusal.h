// Refusals of the server itself, in the shape that operations give theirs.
#pragma once

#include "operations/voice.h"
#include "operations/operation.h"
#include "serve/message.h"

namespace barm::serve {

/// Language of the words: the one of ours that Accept-Language likes best, else the server's own.
cards::Language language_of(const Request& request, cards::Language otherwise);

/// {"refusals": [...]} with a status; as a page of plain text for who asked for no JSON.
Response refused(int status, const Remark& why, const operations::Voice& voice);

/// A JSON body, compact.
Response json(int status, const operations::Json& body);

}  // namespace barm::serve
