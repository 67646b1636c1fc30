// Runs text cases through the operations. Their language: docs/operations/cases.md
#include <unistd.h>

#include <cmath>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

#include "cli/files.h"
#include "operations/registry.h"
#include "support/temporary_folder.h"

namespace {

using namespace barm;
using operations::Json;

struct Words {  // a line taken apart: words at blanks, "quoted parts" kept whole and without their quotes
  std::vector<std::string> all;
  explicit Words(const std::string& line) {
    bool quoted = false, open = false;
    for (const char c : line) {
      if (c == '"') quoted = !quoted;
      const bool blank = !quoted && (c == ' ' || c == '\t' || c == '\r');
      if (!blank && !open) all.emplace_back();
      open = !blank;
      if (open && c != '"') all.back() += c;
    }
  }
};

class Runner {
 public:
  Runner() : words_(cards::Catalogue::embedded()), world_(cli::real_world(words_)) {}

  void line(const std::string& text, int number) {
    number_ = number;
    const auto words = Words(text).all;
    if (words.empty() || words[0][0] == '#') return;
    if (words[0] == "ask" && words.size() >= 3) return ask(words);
    if (words[0] == "expect" && asked_) return expect(words);
    fail("this line is neither ask nor expect: " + text);
  }

  int finish() const {
    std::printf("%d of %d expectations failed\n", failed_, expected_);
    return failed_ > 0 || expected_ == 0 ? 1 : 0;
  }

 private:
  void fail(const std::string& what) {
    std::printf("line %d: %s\n", number_, what.c_str());
    ++failed_;
  }

  void ask(const std::vector<std::string>& words) {
    asked_ = false;
    operations::Request request;
    for (std::size_t i = 3; i < words.size(); ++i) {
      const auto equals = words[i].find('=');
      if (equals == std::string::npos) return fail("no value given to " + words[i]);
      const auto key = words[i].substr(0, equals), value = words[i].substr(equals + 1);
      if (key == "from") {
        const auto text = world_.read_file(BARM_HOUSE "/" + value);
        const auto plan = operations::read_toml(text.ok() ? *text : std::string());
        if (!text.ok() || !plan.ok()) return fail("cannot read " + value);
        request.document = *plan;
      } else if (!put(request.document, key, value).ok()) {
        return fail("nothing to change at " + key);
      }
    }
    for (const auto& operation : operations::all_operations()) {
      if (operation.noun != words[1] || operation.verb != words[2]) continue;
      // Questions to the record go to one of the file's own.
      bool writes = false;  // asked once only, in English
      for (const auto& input : operation.inputs) {
        writes = writes || input.name == "store";
        if (input.name == "store" && operations::find(request.document.tree, "store") == nullptr)
          request.document.tree["store"] = folder_.file("record.sqlite");
      }
      result_ = operation.ask(request, world_);
      told_ = {all_said(result_), {}};
      request.language = cards::Language::spanish;
      if (!writes) told_.spanish = all_said(operation.ask(request, world_));
      json_ = to_json(result_);
      asked_ = true;
    }
    if (!asked_) fail("no operation " + words[1] + " " + words[2]);
  }

  /// The answer as it is told, and what is said of doubts and refusals.
  static std::string all_said(const operations::Result& result) {
    std::string text = result.text;
    const Json json = to_json(result);
    for (const char* list : {"doubts", "refusals"}) {
      if (!json.contains(list)) continue;
      for (const Json& remark : json[list]) text += remark["text"].get<std::string>() + "\n";
    }
    return text;
  }

  bool said(const char* list, const std::vector<std::string>& words) const {
    if (!json_.contains(list)) return false;
    for (const Json& remark : json_[list]) {
      if (remark["code"] == words[2] && (words.size() < 4 || remark["field"] == words[3])) return true;
    }
    return false;
  }

  void expect(const std::vector<std::string>& words) {
    ++expected_;
    if (words.size() < 3) return fail("what is expected?");
    if (words[1] == "doubt" || words[1] == "refusal") {
      if (!said(words[1] == "doubt" ? "doubts" : "refusals", words))
        fail("no " + words[1] + " " + words[2] + " in " + json_.dump());
      return;
    }
    if (words[1] == "no" && words[2] == "doubt") {
      if (!result_.ok() || !result_.doubts.empty()) fail("a doubt in " + json_.dump());
      return;
    }
    if (words[1] == "says" && words.size() == 4) {
      const auto& told = words[2] == "es" ? told_.spanish : told_.english;
      if (told.find(words[3]) == std::string::npos) fail("not said in " + words[2] + ": " + told);
      return;
    }
    if (words.size() < 4 || words[2] != "=") return fail("expected: field = value");
    const Json* got = operations::find(json_, words[1]);
    if (got == nullptr) return fail("no " + words[1] + " in " + json_.dump());
    if (words.size() == 4) {
      const auto text = got->is_string() ? got->get<std::string>() : got->dump();
      if (text != words[3]) fail(words[1] + ": wanted " + words[3] + ", got " + text);
      return;
    }
    if (words.size() != 6 || words[4] != "+-") return fail("expected: field = value +- tolerance");
    const double wanted = std::stod(words[3]);
    const double tolerance = std::stod(words[5]);
    if (!got->is_number() || !(std::abs(got->get<double>() - wanted) <= tolerance)) {
      fail(words[1] + ": wanted " + words[3] + " +- " + words[5] + ", got " + got->dump());
    }
  }

  cards::Catalogue words_;
  operations::World world_;
  operations::Result result_;
  Json json_;
  test::TemporaryFolder folder_{};
  struct Told {
    std::string english{}, spanish{};
  } told_;
  bool asked_ = false;
  int number_ = 0, expected_ = 0, failed_ = 0;
};

}  // namespace

int main(int count, char** names) {
  Runner runner;
  for (int i = 1; i < count; ++i) {
    std::ifstream in(names[i]);
    if (!in) return std::printf("cannot open %s\n", names[i]), 1;
    int number = 0;
    for (std::string line; std::getline(in, line);) runner.line(line, ++number);
  }
  return runner.finish();
}
