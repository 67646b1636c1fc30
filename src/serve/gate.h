// Who may ask what: guards a server in a house against pages of other sites that are open in the same browser.
// Why each check is there: docs/serve/http.md
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "quantity/answer.h"
#include "serve/message.h"

namespace barm::serve {

struct Turned {  // away
  int status = 0;
  Remark why{};
};

class Gate {
 public:
  /// Names the server may be called by, beside "localhost" and addresses in figures.
  explicit Gate(std::vector<std::string> names) : names_(std::move(names)) {}

  /// Nothing when the request may pass.
  std::optional<Turned> turned_away(const Request& request) const;

 private:
  bool is_own_name(std::string_view host) const;
  std::vector<std::string> names_;
};

}  // namespace barm::serve
