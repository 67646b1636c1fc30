#include "operations/document.h"

#include <charconv>
#include <set>

namespace barm::operations {
namespace {

struct Part {  // one part of a path: "food[2]" is the second row of food
  std::string key;
  std::size_t row = 0;  // 0: not a row
};

std::vector<Part> parts_of(std::string_view path) {
  std::vector<Part> parts;
  while (!path.empty()) {
    const auto dot = path.find('.');
    std::string_view word = path.substr(0, dot);
    path = dot == std::string_view::npos ? std::string_view() : path.substr(dot + 1);
    Part part;
    if (const auto open = word.find('['); open != std::string_view::npos && word.ends_with(']')) {
      std::from_chars(word.data() + open + 1, word.data() + word.size() - 1, part.row);
      word = word.substr(0, open);
    }
    part.key = word;
    parts.push_back(std::move(part));
  }
  return parts;
}

/// Builds the tree, and remembers a key met twice in one object, which the JSON library would pass over.
class TreeReader : public nlohmann::json_sax<Json> {
 public:
  bool null() override { return put(nullptr); }
  bool boolean(bool value) override { return put(value); }
  bool number_integer(number_integer_t value) override { return put(value); }
  bool number_unsigned(number_unsigned_t value) override { return put(value); }
  bool number_float(number_float_t value, const string_t&) override { return put(value); }
  bool string(string_t& value) override { return put(value); }
  bool binary(binary_t&) override { return false; }
  bool start_object(std::size_t) override { return open(Json::object()); }
  bool start_array(std::size_t) override { return open(Json::array()); }
  bool end_object() override { return close(); }
  bool end_array() override { return close(); }
  bool key(string_t& name) override {
    key_ = name;
    if (open_.back()->contains(name) && repeated.empty()) repeated = name;
    return true;
  }
  bool parse_error(std::size_t position, const std::string&, const nlohmann::detail::exception&) override {
    error_position = position;
    return false;
  }

  Json tree;
  std::string repeated;
  std::size_t error_position = 0;

 private:
  static constexpr std::size_t depth_most = 32;  // judged: a plan is three deep

  Json* hold(Json value) {
    if (open_.empty()) return &(tree = std::move(value));
    if (open_.back()->is_array()) return &open_.back()->emplace_back(std::move(value));
    return &((*open_.back())[key_] = std::move(value));
  }
  bool put(Json value) { return hold(std::move(value)) != nullptr; }
  bool open(Json value) {
    if (open_.size() >= depth_most) return false;
    open_.push_back(hold(std::move(value)));
    return true;
  }
  bool close() {
    open_.pop_back();
    return true;
  }

  std::vector<Json*> open_;  // stays valid: a holder grows only while nothing inside it is open
  std::string key_;
};

}  // namespace

Answer<Document> read_json(std::string_view text) {
  TreeReader reader;
  const bool whole = Json::sax_parse(text, &reader);
  if (!reader.repeated.empty()) {
    return Answer<Document>::refused({{"operations.document.repeated", reader.repeated, {{"given", reader.repeated}}}});
  }
  if (!whole || !reader.tree.is_object()) {
    const auto at = std::to_string(reader.error_position);
    return Answer<Document>::refused({{"operations.document.not_json", "", {{"position", at}}}});
  }
  return Document{std::move(reader.tree), {}};
}

Answer<bool> put(Document& document, const std::string& path, Json value) {
  Json* at = &document.tree;
  const auto refuse = [&] {
    return Answer<bool>::refused({{"operations.document.no_such_row", path, {{"given", path}}}});
  };
  for (const Part& part : parts_of(path)) {
    if (at->is_null()) *at = Json::object();
    if (!at->is_object()) return refuse();
    at = &(*at)[part.key];
    if (part.row == 0) continue;
    if (!at->is_array() || part.row > at->size()) return refuse();
    at = &(*at)[part.row - 1];
  }
  *at = std::move(value);
  document.places.erase(path);
  return true;
}

const Json* find(const Json& tree, std::string_view path) {
  const Json* at = &tree;
  for (const Part& part : parts_of(path)) {
    if (!at->is_object()) return nullptr;
    const auto found = at->find(part.key);
    if (found == at->end()) return nullptr;
    at = &*found;
    if (part.row == 0) continue;
    if (!at->is_array() || part.row > at->size()) return nullptr;
    at = &(*at)[part.row - 1];
  }
  return at;
}

}  // namespace barm::operations
