#include "cli/files.h"

#include <cerrno>
#include <chrono>
#include <cstdlib>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <memory>
#include <random>

#include "cli/threads.h"
#include "count/tables.h"
#include "recipe/plan.h"

namespace barm::cli {
namespace {

constexpr std::size_t bytes_most = std::size_t{64} * 1024 * 1024;  // judged: more is no plan and no log of a brew

using File = std::unique_ptr<std::FILE, int (*)(std::FILE*)>;

/// The usual reasons have words of ours in both languages; the rest are told as the system tells them.
Remark failure(const char* otherwise, const std::string& name, int error) {
  const char* code = error == ENOENT   ? "operations.world.file_absent"
                     : error == EACCES ? "operations.world.file_forbidden"
                     : error == EISDIR ? "operations.world.file_is_folder"
                     : error == ENOSPC ? "operations.world.disk_full"
                                       : otherwise;
  Remark remark{code, "", {{"given", name}}};
  if (code == otherwise) remark.facts.emplace("reason", std::string(std::strerror(error)));
  return remark;
}

Answer<std::string> read_file(const std::string& name) {
  const auto refuse = [&](int error) {
    return Answer<std::string>::refused({failure("operations.world.file_not_readable", name, error)});
  };
  if (std::error_code none; std::filesystem::is_directory(name, none)) return refuse(EISDIR);
  const File file(std::fopen(name.c_str(), "rb"), &std::fclose);
  if (!file) return refuse(errno);
  std::string text;
  char part[65536];
  while (const std::size_t count = std::fread(part, 1, sizeof part, file.get())) {
    text.append(part, count);
    if (text.size() > bytes_most) {
      return Answer<std::string>::refused(
          {{"operations.world.file_too_big", "", {{"given", name}, {"most", "64 MB"}}}});
    }
  }
  if (std::ferror(file.get()) != 0) return refuse(errno);
  return text;
}

/// Which of our papers a PDF is, "barm card" say; empty: none of ours, or one that somebody wrote on since, which a
/// reader keeps behind the first end.
std::string_view paper_of(std::string_view pdf) {
  constexpr std::string_view form = "%PDF-", creator = "/Creator (barm ", end = "%%EOF";
  const auto from = pdf.find(creator);
  if (!pdf.starts_with(form) || from == pdf.npos || pdf.find(end) != pdf.rfind(end)) return {};
  return pdf.substr(from, pdf.find(')', from) - from);
}

/// What is there already stays, but for a paper of the same sort printed before and a file that would say the same.
bool may_write(const std::string& name, std::string_view content) {
  std::error_code none;
  if (!std::filesystem::exists(name, none)) return true;
  if (!std::filesystem::is_regular_file(name, none)) return false;
  const auto there = read_file(name);
  const auto paper = paper_of(content);
  return there.ok() && (*there == content || (!paper.empty() && paper_of(*there) == paper));
}

/// Written beside and then put in place, so that a full disk leaves what was there before.
Answer<bool> write_file(const std::string& name, std::string_view content) {
  if (std::error_code none; std::filesystem::is_directory(name, none))
    return Answer<bool>::refused({failure("operations.world.file_not_writable", name, EISDIR)});
  if (!may_write(name, content)) return Answer<bool>::refused({{"records.world.taken", "", {{"given", name}}}});
  const std::string beside = name + ".part";
  const auto refuse = [&](int error) {
    std::remove(beside.c_str());
    return Answer<bool>::refused({failure("operations.world.file_not_writable", name, error)});
  };
  std::FILE* file = std::fopen(beside.c_str(), "wb");
  if (file == nullptr && errno == ENOENT) {  // the folder tables go into is made, but no path to it
    std::error_code ignored;
    std::filesystem::create_directory(std::filesystem::path(name).parent_path(), ignored);
    file = std::fopen(beside.c_str(), "wb");
  }
  if (file == nullptr) return refuse(errno);
  const bool written = std::fwrite(content.data(), 1, content.size(), file) == content.size();
  const int error = errno;
  if (std::fclose(file) != 0 || !written) return refuse(written ? errno : error);
  if (std::rename(beside.c_str(), name.c_str()) != 0) return refuse(errno);
  return true;
}

}  // namespace

operations::World real_world(const cards::Catalogue& words) {
  operations::World world{.words = &words, .read_file = read_file, .may_write = may_write, .write_file = write_file};
  world.now = [] {
    using std::chrono::milliseconds;
    const auto since = std::chrono::system_clock::now().time_since_epoch();
    return static_cast<std::int64_t>(std::chrono::duration_cast<milliseconds>(since).count());
  };
  world.chance = [] {
    std::random_device device;  // the kernel's own on every system we build for
    std::array<std::uint8_t, 10> chance{};
    for (auto& byte : chance) byte = static_cast<std::uint8_t>(device());
    return chance;
  };
  if (const char* folder = std::getenv("BARM_BACKUP_FOLDER")) world.backup_folder = folder;
  world.parallel = on_all_cores;
  return world;
}

}  // namespace barm::cli
