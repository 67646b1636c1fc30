// What was asked, as one neutral tree, whichever door it came through: options of a command, a plan file, a request
// body. Values are still as people wrote them: text with units, or plain numbers.
#pragma once

#include <map>
#include <nlohmann/json.hpp>
#include <string>
#include <string_view>
#include <vector>

#include "quantity/answer.h"

namespace barm::operations {

using Json = nlohmann::ordered_json;  // keeps the order of the description, and of the file

struct TextPlace {  // where in a file something stands, both from 1
  int line = 0;
  int column = 0;
};

struct Document {
  Json tree = Json::object();
  std::map<std::string, TextPlace> places;  // by path: "water.volume", "food[2].amount" (rows count from 1)
};

/// Reads a plan file. Native dates become the text they stand for. Refuses text that is not TOML, naming the line.
Answer<Document> read_toml(std::string_view text);
/// Reads a request body. Refuses text that is not JSON, a repeated key, or anything but an object at the top.
Answer<Document> read_json(std::string_view text);

/// Puts a value at a path ("water.volume", "food[2].amount"), making tables on the way, over what stood there. Refuses
/// a row that does not exist and a path that runs through a value.
Answer<bool> put(Document& document, const std::string& path, Json value);

/// The value at a path; nullptr when there is none. Rows count from 1.
const Json* find(const Json& tree, std::string_view path);

}  // namespace barm::operations
