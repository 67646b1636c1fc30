// The screens, as they were built into the binary.
#pragma once

#include <string_view>
#include <vector>

#include "serve/message.h"

namespace barm::serve {

struct Page {
  std::string_view path{};  // "/index.html"
  std::string_view type{};
  std::string_view content{}, gzip{};  // gzip is empty where it would not be shorter
  std::string_view tag{};              // changes with the content
  bool is_forever = false;             // its name changes with its content
};

/// Every page there is; made when the program is built.
const std::vector<Page>& all_pages();

/// The page at a path ("/" is "/index.html"), or nothing.
const Page* page_at(std::string_view path);

/// A page as a response: not again when the browser has it, and compressed when it can read that.
Response show(const Page& page, const Request& request);

/// The first page where there is none, marked so that it says so. Its files are named by the way up from `path`, so
/// that they are found from any depth, also where the server stands behind a prefix it does not know. Never kept by a
/// browser.
Response show_lost(const Page& first, std::string_view path);

}  // namespace barm::serve
