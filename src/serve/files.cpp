#include "serve/files.h"

#include <zip.h>

#include <algorithm>
#include <cerrno>
#include <cstdlib>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <sstream>

namespace barm::serve {
namespace {

using operations::Document;
using operations::InputField;
using operations::Kind;
namespace fs = std::filesystem;

Remark failed(const std::string& reason) {
  return {"operations.world.file_not_writable", "", {{"given", std::string("download")}, {"reason", reason}}};
}

/// Letters, digits, dots, hyphens and underscores, not beginning with a dot: means the same on every machine.
bool is_plain_name(const std::string& name) {
  const auto plain = [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '.' || c == '-' ||
           c == '_';
  };
  return !name.empty() && name.size() <= 80 && name.front() != '.' && std::all_of(name.begin(), name.end(), plain);
}

std::string content_of(const fs::path& file) {
  std::ifstream in(file, std::ios::binary);
  std::stringstream text;
  text << in.rdbuf();
  return text.str();
}

/// A zip of the files, each under its own name.
Answer<std::string> zipped(const std::vector<fs::path>& files) {
  zip_error_t error;
  zip_error_init(&error);
  zip_source_t* target = zip_source_buffer_create(nullptr, 0, 0, &error);
  zip_t* archive = target == nullptr ? nullptr : zip_open_from_source(target, ZIP_TRUNCATE, &error);
  const auto refuse = [&] { return Answer<std::string>::refused({failed(zip_error_strerror(&error))}); };
  if (archive == nullptr) return refuse();
  zip_source_keep(target);
  for (const auto& file : files) {
    zip_source_t* source = zip_source_file(archive, file.c_str(), 0, -1);
    zip_file_add(archive, file.filename().c_str(), source, ZIP_FL_ENC_UTF_8);
  }
  if (zip_close(archive) != 0) {
    zip_discard(archive);
    zip_source_free(target);
    return refuse();
  }
  zip_stat_t about;
  zip_source_stat(target, &about);
  std::string bytes(about.size, '\0');
  zip_source_open(target);
  zip_source_read(target, bytes.data(), bytes.size());
  zip_source_close(target);
  zip_source_free(target);
  return bytes;
}

}  // namespace

Files::~Files() {
  std::error_code ignored;
  if (!folder_.empty()) fs::remove_all(folder_, ignored);
}

Answer<bool> Files::make_folder() {
  std::error_code error;
  std::string folder = (fs::temp_directory_path(error) / "barm-XXXXXX").string();
  if (error || mkdtemp(folder.data()) == nullptr) return Answer<bool>::refused({failed(std::strerror(errno))});
  folder_ = folder;
  return true;
}

Answer<bool> Files::prepare(const operations::Operation& operation, Document& document) {
  Findings findings;
  for (const InputField& field : operation.inputs) {
    const operations::Json* found = operations::find(document.tree, field.name);
    if (field.kind == Kind::store) {
      if (found != nullptr) findings.refuse({"serve.request.own_store", field.name, {}});
      findings.take(operations::put(document, field.name, store_));
    }
    if (found == nullptr || !found->is_string()) continue;  // what is no text the operation refuses itself
    const std::string given = found->get<std::string>();
    if (given.empty()) continue;  // as if it were not given
    if (field.kind == Kind::file_read) {
      read_[field.name] = given;
      findings.take(operations::put(document, field.name, field.name));
    } else if (field.kind == Kind::file_written) {
      if (!is_plain_name(given)) {
        findings.refuse({"serve.request.not_a_plain_name",
                         field.name,
                         {{"given", given.substr(0, 100)}, {"sample", field.sample}}});
        continue;
      }
      if (folder_.empty() && !findings.take(make_folder())) continue;
      name_ = given;
      findings.take(operations::put(document, field.name, (fs::path(folder_) / given).string()));
    }
  }
  return std::move(findings).answer(true);
}

operations::World Files::world(const operations::World& machine) {
  operations::World world = machine;
  world.read_file = [this](const std::string& name) -> Answer<std::string> {
    const auto at = read_.find(name);
    if (at != read_.end()) return at->second;
    return Answer<std::string>::refused({{"serve.request.no_files", "", {}}});
  };
  world.write_file = [this](const std::string& name, std::string_view content) -> Answer<bool> {
    const fs::path place(name);
    if (folder_.empty() || !name.starts_with(folder_ + "/")) {
      return Answer<bool>::refused({{"serve.request.no_files", "", {}}});
    }
    std::error_code ignored;
    fs::create_directories(place.parent_path(), ignored);
    std::ofstream out(place, std::ios::binary);
    out.write(content.data(), static_cast<std::streamsize>(content.size()));
    out.close();
    if (!out) return Answer<bool>::refused({failed(std::strerror(errno))});
    return true;
  };
  return world;
}

Answer<Download> Files::written() const {
  std::vector<fs::path> files;
  std::error_code error;
  for (fs::recursive_directory_iterator at(folder_, error), end; !error && at != end; at.increment(error)) {
    if (at->is_regular_file()) files.push_back(at->path());
  }
  if (error) return Answer<Download>::refused({failed(error.message())});
  std::sort(files.begin(), files.end());
  if (files.size() == 1) return Download{files.front().filename().string(), content_of(files.front())};
  Findings findings;
  auto bytes = findings.take(zipped(files));
  const std::string name = name_.ends_with(".zip") ? name_ : name_ + ".zip";
  return std::move(findings).answer(Download{name, bytes.value_or("")});
}

std::string Files::without_places(std::string text) const {
  for (const auto& [place, instead] : {std::pair{folder_ + "/", std::string()}, {store_, std::string("record")}}) {
    if (place.size() < 2) continue;
    for (auto at = text.find(place); at != std::string::npos; at = text.find(place, at + instead.size()))
      text.replace(at, place.size(), instead);
  }
  return text;
}

}  // namespace barm::serve
