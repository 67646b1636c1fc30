// barm record readings: the log of a meter, whose columns are named by the person who has it before them.
#include <fmt/format.h>

#include <algorithm>

#include "cards/local_time.h"
#include "operations/instant.h"
#include "operations/record_store.h"
#include "operations/registry.h"
#include "records/csv.h"
#include "records/id.h"
#include "records/line.h"
#include "records/named.h"

namespace barm::operations {
namespace {

constexpr std::size_t told_most = 10;
constexpr std::size_t columns_most = 200;  // judged: loggers save a few dozen

struct In {
  std::string brew, file, time, oxygen, temperature, ph, conductivity, zone, by, store = usual_store;
  std::string temperature_unit = "degC", conductivity_unit = "mS/cm";
  std::optional<std::int64_t> begun_at{};
};
struct Out {
  std::int64_t kept_count = 0, was_there_count = 0;
};

/// A column of the log, and the field it goes to.
struct Column {
  std::string input{}, field{}, unit{};
  std::size_t at = 0;
};

class Log {
 public:
  Log(const In& in, const std::string& brew_id, Findings& findings)
      : in_(in), brew_id_(brew_id), findings_(findings), kind_(*records::all_kinds().find("reading")) {}

  std::vector<records::Entry> read(const std::string& text) {
    const auto first = std::string_view(text).substr(0, text.find('\n'));
    separator_ = first.find(';') != std::string_view::npos    ? ';'
                 : first.find('\t') != std::string_view::npos ? '\t'
                                                              : ',';
    const auto rows = findings_.take(records::cells_of_csv(text, columns_most, separator_));
    std::vector<records::Entry> entries;
    if (!rows || rows->empty() || !find_columns(rows->front())) return entries;
    for (line_ = 2; line_ <= rows->size() && findings_.refusals().size() < told_most; ++line_) {
      if (auto entry = reading((*rows)[line_ - 1])) entries.push_back(std::move(*entry));
    }
    if (entries.empty() && !findings_.refused()) findings_.refuse({"records.csv.empty", "file", {}});
    return entries;
  }

 private:
  void refuse(const char* code, std::map<std::string, Remark::Fact> facts) {
    facts.emplace("row", std::to_string(line_));
    findings_.refuse({code, "file", std::move(facts)});
  }

  bool find_columns(const std::vector<std::string>& names) {
    time_ = {.input = "time", .field = "at"};
    place(time_, in_.time, names);
    const Column all[] = {{"oxygen", "oxygen", "mg/L"},
                          {"temperature", "temperature", in_.temperature_unit},
                          {"ph", "ph", ""},
                          {"conductivity", "conductivity", in_.conductivity_unit}};
    const std::string* called[] = {&in_.oxygen, &in_.temperature, &in_.ph, &in_.conductivity};
    for (std::size_t i = 0; i < std::size(all); ++i) {
      if (called[i]->empty()) continue;
      columns_.push_back(all[i]);
      place(columns_.back(), *called[i], names);
    }
    if (columns_.empty()) findings_.refuse({"records.readings.no_column", "oxygen", {}});
    return !findings_.refused();
  }

  void place(Column& column, const std::string& name, const std::vector<std::string>& names) {
    const auto at = std::find(names.begin(), names.end(), name);
    column.at = static_cast<std::size_t>(at - names.begin());
    if (at != names.end()) return;
    std::map<std::string, Remark::Fact> facts{{"given", name},
                                              {"allowed", fmt::format("{}", fmt::join(names, ", ")).substr(0, 300)}};
    if (const auto near = likely(name, names); !near.empty()) facts.emplace("suggestion", near);
    findings_.refuse({"records.readings.column_missing", column.input, std::move(facts)});
  }

  std::optional<records::Entry> reading(const std::vector<std::string>& cells) {
    records::Entry entry{.kind = kind_.name, .recorded_by = in_.by};
    entry.values.resize(kind_.fields.size());
    entry.values[*kind_.position("brew")] = brew_id_;
    const auto at = time_.at < cells.size() ? instant(cells[time_.at]) : std::nullopt;
    if (!at) return std::nullopt;
    entry.values[*kind_.position("at")] = *at;
    bool any = false;
    for (const auto& column : columns_) {
      if (column.at >= cells.size() || cells[column.at].empty()) continue;  // a gap stays a gap
      const auto value = number(column, cells[column.at]);
      if (!value) return std::nullopt;
      entry.values[*kind_.position(column.field)] = *value;
      any = true;
    }
    if (!any) return std::nullopt;
    entry.id = records::id_of_content(*at, records::line_of(kind_, entry));
    return entry;
  }

  std::optional<double> number(const Column& column, std::string text) {
    if (separator_ != ',') std::replace(text.begin(), text.end(), ',', '.');  // a decimal comma
    const auto dimension = kind_.field(column.field)->dimension;
    const auto value = is_plain_number(text)
                           ? read_quantity(text + (column.unit.empty() ? "" : " " + column.unit), dimension)
                           : read_quantity("", dimension);
    if (value.ok()) return *value;
    refuse("records.readings.not_a_number", {{"given", text.substr(0, 40)}, {"column", column.input}});
    return std::nullopt;
  }

  /// Seconds from the beginning, an instant with its distance from UTC, or the clock of the zone.
  std::optional<std::int64_t> instant(const std::string& text) {
    if (in_.begun_at && is_plain_number(text))
      return *in_.begun_at + static_cast<std::int64_t>(std::stod(text) * 1000.0);
    if (const auto at = read_instant(text); at.ok()) return at->at_ms;
    const auto clock = read_instant(text + "Z");
    if (clock.ok() && !in_.zone.empty()) return of_clock(clock->at_ms, text);
    refuse(clock.ok() ? "records.readings.no_zone" : "records.readings.not_a_time", {{"given", text.substr(0, 40)}});
    return std::nullopt;
  }

  /// On the night the clocks go back an hour comes twice: the earlier is taken, and doubted.
  std::optional<std::int64_t> of_clock(std::int64_t clock, const std::string& text) {
    constexpr std::int64_t minute = 60'000, day = 1440 * minute;
    const auto earlier = clock - cards::offset_minutes(clock - day, in_.zone) * minute;
    const auto later = clock - cards::offset_minutes(clock + day, in_.zone) * minute;
    const auto shows = [&](std::int64_t at) { return at + cards::offset_minutes(at, in_.zone) * minute == clock; };
    const auto first = std::min(earlier, later), second = std::max(earlier, later);
    if (first != second && shows(first) && shows(second) && !std::exchange(doubted_, true))
      findings_.doubt({"records.readings.hour_twice", "file", {{"given", text.substr(0, 40)}}});
    if (shows(first)) return first;
    if (shows(second)) return second;
    refuse("records.readings.hour_skipped", {{"given", text.substr(0, 40)}});
    return std::nullopt;
  }

  const In& in_;
  std::string brew_id_;
  Findings& findings_;
  const records::Kind& kind_;
  Column time_{};
  std::vector<Column> columns_;
  char separator_ = ',';
  bool doubted_ = false;
  std::size_t line_ = 1;
};

Answer<Out> answer(const In& in, const World& world) {
  Findings findings;
  const auto text = findings.take(retarget(world.read_file(in.file), {{"", "file"}}));
  auto store = findings.take(open_store(in.store, world));
  const auto brew = store ? take_about(findings, records::id_named(*store, {"brew"}, in.brew), "brew") : std::nullopt;
  if (!text || !brew) return std::move(findings).refusal<Out>();
  const auto entries = Log(in, *brew, findings).read(*text);
  if (findings.refused()) return std::move(findings).refusal<Out>();
  const auto kept = findings.take(store->add_all(entries, world.now()));
  Out out;
  for (const auto& one : kept.value_or(std::vector<records::Kept>{}))
    ++(one.was_there ? out.was_there_count : out.kept_count);
  return std::move(findings).answer(out);
}

std::string tell(const Out& out, const Voice& voice) {
  return voice.say("records.told.imported",
                   {{"given", std::to_string(out.kept_count)}, {"there", std::to_string(out.was_there_count)}}) +
         "\n";
}

}  // namespace

Operation record_readings() {
  Inputs<In> inputs;
  inputs.text("brew", at(&In::brew), "May night brew").required().positional();
  inputs.text("file", at(&In::file), "meter.csv", Kind::file_read).required().positional();
  inputs.text("time", at(&In::time), "Time").required();
  inputs.text("oxygen", at(&In::oxygen), "DO (mg/L)");
  inputs.text("temperature", at(&In::temperature), "Temp");
  inputs.choice("temperature_unit", at(&In::temperature_unit),
                Choices<std::string>{{"degC", "degC"}, {"degF", "degF"}});
  inputs.text("ph", at(&In::ph), "pH");
  inputs.text("conductivity", at(&In::conductivity), "EC");
  inputs.choice("conductivity_unit", at(&In::conductivity_unit),
                Choices<std::string>{{"mS/cm", "mS/cm"}, {"uS/cm", "uS/cm"}});
  inputs.zone("zone", at(&In::zone), "America/Bogota");
  inputs.instant("begun_at", at(&In::begun_at), "2026-05-02T18:00:00-05:00");
  inputs.text("by", at(&In::by), "Ana");
  store_input(inputs, &In::store);
  Outputs<Out> outputs;
  outputs.whole("kept_count", at(&Out::kept_count)).whole("was_there_count", at(&Out::was_there_count));
  return define<In, Out>(
      {.noun = "record",
       .verb = "readings",
       .inputs = inputs,
       .outputs = outputs,
       .answer = answer,
       .tell = tell,
       .examples = {
           {"record readings \"May night brew\" meter.csv --time Time --oxygen \"DO (mg/L)\" --zone America/Bogota"}}});
}

}  // namespace barm::operations
