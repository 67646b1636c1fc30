// GET /api/events: news of the record as server-sent events (WHATWG HTML, section 9.2). Frames: docs/serve/events.md
#pragma once

#include <memory>
#include <string>

#include "operations/voice.h"
#include "serve/journal.h"
#include "serve/message.h"

namespace barm::serve {

/// Whether what a listener missed has to be read from the record, because the journal no longer holds it.
bool reads_record(const Request& request, const Journal& journal);

/// Opens a stream of what comes after the number in Last-Event-ID or `?after=`, else from now on. `?kind=` and
/// `?about=` narrow it.
Response listen_to(const Request& request, const Journal& journal, const std::string& store,
                   const operations::World& world, const operations::Voice& voice);

}  // namespace barm::serve
