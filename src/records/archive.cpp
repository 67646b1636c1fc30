#include "records/archive.h"

#include <sodium.h>
#include <zip.h>

#include <cstdio>
#include <filesystem>
#include <memory>
#include <nlohmann/json.hpp>

#include "records/chain.h"
#include "records/check.h"
#include "records/line.h"
#include "records/moment.h"

namespace barm::records {
namespace {

using Json = nlohmann::json;
namespace fs = std::filesystem;

constexpr std::int64_t page = 2000;                 // entries read at a time
constexpr const char* format_name = "barm record";  // of the manifest
constexpr const char* entries_name = "entries.jsonl";
constexpr const char* seals_name = "seals.jsonl";
constexpr const char* manifest_name = "manifest.json";
constexpr std::uint64_t manifest_most = std::uint64_t{64} * 1024;
constexpr std::uint64_t seals_most = 8ull * 1024 * 1024 * 1024;
constexpr std::uint64_t shrink_most = 200;                   // judged: entries shrink about tenfold
constexpr std::uint64_t small = std::uint64_t{1024} * 1024;  // what is smaller may shrink as it likes
constexpr std::size_t line_most = json_most * 2 + 65536;     // a plan and a forecast, and the rest

Remark world_failure(const char* code, const std::string& file, const std::string& reason) {
  return {code, "file", {{"given", file}, {"reason", reason}}};
}
Remark wrong(const char* what, std::map<std::string, Remark::Fact> facts = {}) {
  return {std::string("records.archive.") + what, "from", std::move(facts)};
}

struct Hasher {
  crypto_hash_sha256_state state;
  Hasher() { crypto_hash_sha256_init(&state); }
  void add(std::string_view text) {
    crypto_hash_sha256_update(&state, reinterpret_cast<const unsigned char*>(text.data()), text.size());
  }
  std::string hex() {
    unsigned char hash[crypto_hash_sha256_BYTES];
    crypto_hash_sha256_final(&state, hash);
    char text[2 * sizeof hash + 1];
    return sodium_bin2hex(text, sizeof text, hash, sizeof hash);
  }
};

/// A file of lines on its way into the archive.
class LineFile {
 public:
  explicit LineFile(std::string name) : name_(std::move(name)), file_(std::fopen(name_.c_str(), "wb")) {
    check(file_ != nullptr);
  }
  ~LineFile() {
    if (file_ != nullptr) std::fclose(file_);
    std::error_code none;
    fs::remove(name_, none);
  }
  void add(std::string line) {
    line += '\n';
    hasher_.add(line);
    bytes_ += line.size();
    check(std::fwrite(line.data(), 1, line.size(), file_) == line.size());
  }
  Json close() {
    const bool done = std::fclose(std::exchange(file_, nullptr)) == 0;
    check(done);
    return {{"bytes", bytes_}, {"sha256", hasher_.hex()}};
  }
  const std::string& name() const { return name_; }

 private:
  void check(bool done) const {
    if (!done) throw Failure{world_failure("records.world.not_written", name_, std::strerror(errno))};
  }
  std::string name_;
  std::FILE* file_;
  Hasher hasher_;
  std::uint64_t bytes_ = 0;
};

void pack(const std::string& file, const std::string& manifest, const LineFile& entries, const LineFile& seals) {
  int error = 0;
  zip_t* zip = zip_open(file.c_str(), ZIP_CREATE | ZIP_TRUNCATE, &error);
  if (zip == nullptr) throw Failure{world_failure("records.world.not_written", file, std::strerror(errno))};
  const auto add = [&](const char* name, zip_source_t* source) {
    const auto index = source == nullptr ? -1 : zip_file_add(zip, name, source, ZIP_FL_ENC_UTF_8);
    if (index < 0) {
      const std::string reason = zip_strerror(zip);
      zip_discard(zip);
      throw Failure{world_failure("records.world.not_written", file, reason)};
    }
    zip_file_set_mtime(zip, static_cast<zip_uint64_t>(index), 315532800, 0);  // 1980: the same record is the same bytes
  };
  add(manifest_name, zip_source_buffer(zip, manifest.data(), manifest.size(), 0));
  add(seals_name, zip_source_file(zip, seals.name().c_str(), 0, -1));
  add(entries_name, zip_source_file(zip, entries.name().c_str(), 0, -1));
  if (zip_close(zip) != 0) {
    const std::string reason = zip_strerror(zip);
    zip_discard(zip);
    throw Failure{world_failure("records.world.not_written", file, reason)};
  }
}

Archived write(Store& store, const std::string& file) {
  const std::string part = file + ".part";
  LineFile entries(part + ".entries"), seals(part + ".seals");
  Archived told;
  Json manifest;
  store.connection().read([&] {
    told = {store.count(), store.head()};
    for (std::int64_t first = 1; first <= told.entries_count; first += page) {
      for (const auto& entry : store.read(first, first + page - 1)) {
        if (const Kind* kind = store.kinds().find(entry.kind)) entries.add(line_of(*kind, entry));
      }
    }
    const auto count = store.connection().whole("SELECT max(number) FROM seal");
    for (std::int64_t first = 1; first <= count; first += page) {
      for (const auto& seal : store.seals(first, first + page - 1)) {
        seals.add(
            Json{{"hash", seal.hash}, {"last_entry", seal.last_entry}, {"sealed_at", instant_text(seal.sealed_at)}}
                .dump());
      }
    }
  });
  manifest = {{"format", format_name},
              {"version", store.kinds().version()},
              {"entries", told.entries_count},
              {"head", told.head},
              {"files", {{entries_name, entries.close()}, {seals_name, seals.close()}}}};
  pack(part, manifest.dump(2) + "\n", entries, seals);
  std::error_code error;
  fs::rename(part, file, error);
  if (error) throw Failure{world_failure("records.world.not_written", file, error.message())};
  return told;
}

/// A file inside the archive, read line by line.
class Lines {
 public:
  Lines(zip_t* zip, const char* name) : file_(zip_fopen(zip, name, 0), &zip_fclose) {
    if (!file_) throw Failure{wrong("damaged", {{"given", std::string(name)}})};
  }
  /// Nothing at the end. A line longer than any entry ends it as well, with `too_long`.
  std::optional<std::string> next() {
    for (;;) {
      if (const auto end = buffer_.find('\n', at_); end != std::string::npos) {
        std::string line = buffer_.substr(at_, end - at_);
        at_ = end + 1;
        return line;
      }
      buffer_.erase(0, std::exchange(at_, 0));
      if (buffer_.size() > line_most) return too_long = true, std::nullopt;
      char part[65536];
      const auto count = zip_fread(file_.get(), part, sizeof part);
      if (count < 0) throw Failure{wrong("damaged", {{"given", std::string(zip_file_strerror(file_.get()))}})};
      if (count == 0)
        return buffer_.empty() ? std::nullopt : (too_long = true, std::nullopt);  // no line feed at the end
      buffer_.append(part, static_cast<std::size_t>(count));
      hasher_.add({part, static_cast<std::size_t>(count)});
    }
  }
  std::string hash() { return hasher_.hex(); }
  bool too_long = false;

 private:
  std::unique_ptr<zip_file_t, int (*)(zip_file_t*)> file_;
  Hasher hasher_;
  std::string buffer_;
  std::size_t at_ = 0;
};

class Reader {
 public:
  Reader(const std::string& file, Store& into) : name_(file), store_(into) {
    int error = 0;
    zip_.reset(zip_open(file.c_str(), ZIP_RDONLY | ZIP_CHECKCONS, &error));
    if (zip_) return;
    if (!fs::exists(file)) throw Failure{world_failure("records.world.absent", file, "")};
    throw Failure{wrong("not_an_archive", {{"given", file}})};
  }

  Answer<Archived> read() {
    read_manifest();
    Lines seals(zip_.get(), seals_name), entries(zip_.get(), entries_name);
    std::int64_t last = 0;
    const auto restored = store_.restore([&](Remarks& why) -> std::optional<Sealed> {
      const auto line = seals.next();
      if (!line) {
        end(seals, seals_name, why);
        if (entries.next() || last != told_.entries_count) why.push_back(wrong("counts_differ"));
        end(entries, entries_name, why);
        if (why.empty() && store_.head() != told_.head) why.push_back(wrong("counts_differ"));
        return std::nullopt;
      }
      Sealed sealed{.seal = seal_in(*line)};
      if (sealed.seal.last_entry <= last || sealed.seal.last_entry > told_.entries_count)
        return why.push_back(wrong("counts_differ")), std::nullopt;
      for (; last < sealed.seal.last_entry; ++last) {
        const auto entry_line = entries.next();
        if (!entry_line) return why.push_back(wrong("counts_differ")), std::nullopt;
        auto entry = read_line(*entry_line, store_.kinds());
        if (!entry.ok()) {
          why = entry.refusals();
          for (auto& remark : why) remark.facts.emplace("row", std::to_string(last + 1));
          return std::nullopt;
        }
        sealed.entries.push_back(*entry);
      }
      return sealed;
    });
    if (!restored.ok()) return Answer<Archived>::refused(restored.refusals());
    return told_;
  }

 private:
  /// Sizes and names are looked at before a byte is unpacked.
  zip_stat_t look_at(const char* name) {
    zip_stat_t stat;
    if (zip_stat(zip_.get(), name, 0, &stat) != 0) throw Failure{wrong("file_missing", {{"given", std::string(name)}})};
    if (stat.encryption_method != ZIP_EM_NONE) throw Failure{wrong("encrypted")};
    if (stat.size > small && stat.size / shrink_most > stat.comp_size)
      throw Failure{wrong("shrinks_too_well", {{"given", std::string(name)}})};
    return stat;
  }

  std::string small_file(const char* name, std::uint64_t most) {
    const std::unique_ptr<zip_file_t, int (*)(zip_file_t*)> file(zip_fopen(zip_.get(), name, 0), &zip_fclose);
    std::string text(most, '\0');
    const auto count = file ? zip_fread(file.get(), text.data(), text.size()) : -1;
    if (count < 0) throw Failure{wrong("damaged", {{"given", std::string(name)}})};
    text.resize(static_cast<std::size_t>(count));
    return text;
  }

  void read_manifest() {
    const auto count = zip_get_num_entries(zip_.get(), 0);
    for (zip_int64_t i = 0; i < count; ++i) {
      const char* name = zip_get_name(zip_.get(), static_cast<zip_uint64_t>(i), 0);
      const std::string_view known = name == nullptr ? "" : name;
      if (known != manifest_name && known != entries_name && known != seals_name)
        throw Failure{wrong("other_file", {{"given", std::string(known.substr(0, 60))}})};
    }
    if (count != 3) throw Failure{wrong("other_file", {{"given", std::to_string(count)}})};
    if (look_at(manifest_name).size > manifest_most) throw Failure{wrong("not_an_archive", {{"given", name_}})};
    const std::string text = small_file(manifest_name, manifest_most);
    manifest_ = Json::parse(text, nullptr, false);
    if (!manifest_.is_object() || manifest_.value("format", Json()) != Json(format_name) ||
        !manifest_.value("version", Json()).is_number_integer() ||
        !manifest_.value("entries", Json()).is_number_integer() || !manifest_.value("head", Json()).is_string() ||
        !manifest_.value("files", Json()).is_object())
      throw Failure{wrong("not_an_archive", {{"given", name_}})};
    told_ = {manifest_["entries"].get<std::int64_t>(), manifest_["head"].get<std::string>()};
    if (const auto found = manifest_["version"].get<std::int64_t>(); found > store_.kinds().version()) {
      throw Failure{
          {"records.store.newer",
           "from",
           {{"given", name_}, {"found", std::to_string(found)}, {"most", std::to_string(store_.kinds().version())}}}};
    }
    for (const char* name : {entries_name, seals_name}) {
      const auto& promised = manifest_["files"].value(name, Json());
      const auto stat = look_at(name);
      if (!promised.is_object() || promised.value("bytes", Json()) != Json(stat.size) || stat.size > 100 * seals_most)
        throw Failure{wrong("checksum", {{"given", std::string(name)}})};
    }
  }

  void end(Lines& lines, const char* name, Remarks& why) {
    if (lines.too_long || lines.next()) return why.push_back(wrong("counts_differ"));
    const auto& promised = manifest_["files"][name].value("sha256", Json());
    if (promised != Json(lines.hash())) why.push_back(wrong("checksum", {{"given", std::string(name)}}));
  }

  static Seal seal_in(const std::string& line) {
    const Json json = Json::parse(line, nullptr, false);
    const bool object = json.is_object() && json.value("hash", Json()).is_string() &&
                        json.value("last_entry", Json()).is_number_integer() &&
                        json.value("sealed_at", Json()).is_string();
    const auto at = object ? read_instant_text(json["sealed_at"].get<std::string>()) : std::nullopt;
    if (!at) throw Failure{wrong("damaged", {{"given", std::string(seals_name)}})};
    return {json["last_entry"].get<std::int64_t>(), *at, json["hash"].get<std::string>()};
  }

  std::string name_;
  Store& store_;
  std::unique_ptr<zip_t, void (*)(zip_t*)> zip_{nullptr, &zip_discard};
  Json manifest_;
  Archived told_;
};

}  // namespace

Answer<Archived> write_archive(Store& store, const std::string& file) {
  return or_refusal<Archived>([&]() -> Answer<Archived> {
    if (fs::exists(file)) return Answer<Archived>::refused({{"records.world.taken", "file", {{"given", file}}}});
    return write(store, file);
  });
}

Answer<Archived> read_archive(const std::string& file, Store& into) {
  return or_refusal<Archived>([&] { return Reader(file, into).read(); });
}

}  // namespace barm::records
