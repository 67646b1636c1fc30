// The only file of this room that knows the TOML library, which is slow to compile.
#include <toml++/toml.h>

#include <sstream>

#include "operations/document.h"

namespace barm::operations {
namespace {

Json value_of(const toml::node& node) {
  if (const auto* text = node.as_string()) return text->get();
  if (const auto* whole = node.as_integer()) return whole->get();
  if (const auto* number = node.as_floating_point()) return number->get();
  if (const auto* flag = node.as_boolean()) return flag->get();
  std::ostringstream date;  // a date, a time or both, as ISO 8601 writes them
  if (const auto* moment = node.as_date_time()) date << moment->get();
  if (const auto* day = node.as_date()) date << day->get();
  if (const auto* time = node.as_time()) date << time->get();
  return date.str();
}

void walk(const toml::node& node, const std::string& path, Json& tree, Document& document) {
  const auto begin = node.source().begin;
  if (!path.empty()) document.places[path] = {static_cast<int>(begin.line), static_cast<int>(begin.column)};
  if (const auto* table = node.as_table()) {
    tree = Json::object();
    for (const auto& [key, child] : *table) {
      const std::string name(key.str());
      const std::string child_path = path.empty() ? name : path + "." + name;
      walk(child, child_path, tree[name], document);
      const auto at = key.source().begin;  // the key rather than the value: that is where a misspelling stands
      if (at.line > 0) document.places[child_path] = {static_cast<int>(at.line), static_cast<int>(at.column)};
    }
  } else if (const auto* rows = node.as_array()) {
    tree = Json::array();
    std::size_t row = 0;
    for (const auto& child : *rows) {
      tree.push_back(nullptr);
      walk(child, path + "[" + std::to_string(++row) + "]", tree.back(), document);
    }
  } else {
    tree = value_of(node);
  }
}

}  // namespace

Answer<Document> read_toml(std::string_view text) {
  try {
    const toml::table file = toml::parse(text);
    Document document;
    walk(file, "", document.tree, document);
    return document;
  } catch (const toml::parse_error& error) {
    return Answer<Document>::refused({{"operations.document.not_toml",
                                       "",
                                       {{"line", std::to_string(error.source().begin.line)},
                                        {"column", std::to_string(error.source().begin.column)},
                                        {"detail", std::string(error.description())}}}});
  }
}

}  // namespace barm::operations
