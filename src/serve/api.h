// Operations over HTTP: a request body becomes a document, a result a response.
#pragma once

#include <array>
#include <mutex>
#include <string>

#include "operations/operation.h"
#include "serve/message.h"
#include "serve/wire.h"
#include "serve/works.h"

namespace barm::serve {

/// The operation a path stands for; nullptr when there is none that a server offers.
const operations::Operation* operation_at(const std::string& path);

/// Where its answer is worked out.
Lane lane_of(const operations::Operation& operation);

/// Whether a request asks a question to be told as it is worked out. Acts on the record are done or not done.
bool wants_watching(const Request& request);

class Api {
 public:
  /// `store`: where the record is, that every request works on.
  Api(const operations::World& world, std::string store, cards::Language language)
      : world_(world), store_(std::move(store)), language_(language) {}

  /// Answers a path below /api/ that is no stream. Throws only for a fault of ours.
  Response answer(const Request& request, const Watch& watch = {}) const;

 private:
  Response asked(const operations::Operation& operation, const Request& request, const Watch& watch) const;
  const std::string& open_api(cards::Language language) const;  // written out when first asked for
  const operations::World& world_;
  std::string store_;
  cards::Language language_;  // for who asks for none
  struct Described {
    std::once_flag once{};
    std::string text{};
  };
  mutable std::array<Described, 2> described_{};  // English, Spanish
};

/// Numbers with no more digits than an answer deserves: five in a series, ten otherwise.
void shorten(operations::Json& json);

}  // namespace barm::serve
