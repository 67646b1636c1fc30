// Operations over HTTP: a request body becomes a document, a result a response.
#pragma once

#include <mutex>
#include <string>

#include "operations/operation.h"
#include "serve/message.h"
#include "serve/wire.h"

namespace barm::serve {

/// The operation a path stands for; nullptr when there is none that a server offers.
const operations::Operation* operation_at(const std::string& path);

/// Where its answer is worked out.
Lane lane_of(const operations::Operation& operation);

class Api {
 public:
  /// `store`: where the record is, that every request works on.
  Api(const operations::World& world, std::string store, cards::Language language)
      : world_(world), store_(std::move(store)), language_(language) {}

  /// Answers a path below /api/ that is no stream. Throws only for a fault of ours.
  Response answer(const Request& request) const;

 private:
  Response asked(const operations::Operation& operation, const Request& request) const;
  const std::string& open_api() const;  // written out when first asked for
  const operations::World& world_;
  std::string store_;
  cards::Language language_;  // for who asks for none
  mutable std::once_flag described_{};
  mutable std::string open_api_{};
};

/// Numbers with no more digits than an answer deserves: five in a series, ten otherwise.
void shorten(operations::Json& json);

}  // namespace barm::serve
