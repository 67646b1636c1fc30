// A promise between two parts of the program. Breaking one is our fault, never the user's.
#pragma once

#include <stdexcept>

namespace barm {

/// Thrown when a promise is broken; caught only at the edges (cli, serve), where it becomes exit status 1.
class BrokenPromise : public std::logic_error {
 public:
  using std::logic_error::logic_error;
};

/// Holds a promise to its word. `what` says what should have been true.
inline void expects(bool holds, const char* what) {
  if (!holds) throw BrokenPromise(what);
}

}  // namespace barm
