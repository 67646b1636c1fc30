// barm record readings: the log of a meter, whose columns are named by the person who has it before them.
#include <fmt/format.h>

#include <algorithm>

#include "cards/local_time.h"
#include "operations/csv_table.h"
#include "operations/instant.h"
#include "operations/record_store.h"
#include "operations/registry.h"
#include "records/id.h"
#include "records/line.h"
#include "records/named.h"

namespace barm::operations {
namespace {

struct In {
  std::string brew, file, time, oxygen, temperature, ph, conductivity, zone, by, id, store = usual_store;
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

/// Units as the names of columns tell them, and the unit they mean.
constexpr std::pair<std::string_view, std::string_view> told_units[] = {
    {"%", "%"},      {"°F", "degF"},   {"(F)", "degF"}, {"degF", "degF"}, {"°C", "degC"},
    {"(C)", "degC"}, {"degC", "degC"}, {"uS", "uS/cm"}, {"µS", "uS/cm"},  {"μS", "uS/cm"},
    {"mS", "mS/cm"}, {"mg/L", "mg/L"}, {"ppm", "mg/L"}, {"mV", "mV"},     {"mg/l", "mg/L"}};

/// The scale that a name ends with as a word or letter of its own: "temperature_f", "Temp F", "TempF". Empty: none.
std::string_view scale_at_end(std::string_view name) {
  if (name.size() < 2) return {};
  const char last = name.back(), before = name[name.size() - 2];
  const bool stands_apart = before == ' ' || before == '_' || before == '-' || before == '.';
  const bool is_capital = before >= 'a' && before <= 'z';  // and so begins a word
  if (last == 'F' ? stands_apart || is_capital : last == 'f' && stands_apart) return "degF";
  if (last == 'C' ? stands_apart || is_capital : last == 'c' && stands_apart) return "degC";
  return {};
}

constexpr double brew_hottest_c = 45.0;  // judged: no brew is kept warmer; as for a plan

class Log {
 public:
  Log(const In& in, const std::string& brew_id, const std::string& text, Findings& findings)
      : in_(in),
        brew_id_(brew_id),
        findings_(findings),
        table_(text, {.field = "file", .sample = "Time,DO (mg/L),Temp"}, findings),
        kind_(*records::all_kinds().find("reading")) {}

  std::vector<records::Entry> read() {
    std::vector<records::Entry> entries;
    if (findings_.refused() || !find_columns()) return entries;
    while (table_.next()) {
      if (auto entry = reading()) entries.push_back(std::move(*entry));
    }
    doubt_hot(entries);
    if (entries.empty() && !findings_.refused()) findings_.refuse({"records.csv.empty", "file", {}});
    return entries;
  }

 private:
  bool find_columns() {
    time_ = {.input = "time", .field = "at"};
    place(time_, in_.time);
    const Column all[] = {{"oxygen", "oxygen", "mg/L"},
                          {"temperature", "temperature", in_.temperature_unit},
                          {"ph", "ph", ""},
                          {"conductivity", "conductivity", in_.conductivity_unit}};
    const std::string* called[] = {&in_.oxygen, &in_.temperature, &in_.ph, &in_.conductivity};
    for (std::size_t i = 0; i < std::size(all); ++i) {
      if (called[i]->empty()) continue;
      columns_.push_back(all[i]);
      place(columns_.back(), *called[i]);
      check_unit(columns_.back(), *called[i]);
    }
    if (columns_.empty()) findings_.refuse({"records.readings.no_column", "oxygen", {}});
    return !findings_.refused();
  }

  void place(Column& column, const std::string& name) {
    const auto& names = table_.columns();
    if (std::find(names.begin(), names.end(), name) != names.end()) {
      column.at = table_.column_if_any(name).value_or(0);  // refuses one that is there twice
      return;
    }
    std::map<std::string, Remark::Fact> facts{{"given", name},
                                              {"allowed", fmt::format("{}", fmt::join(names, ", ")).substr(0, 300)}};
    if (const auto near = likely(name, names); !near.empty()) facts.emplace("suggestion", near);
    findings_.refuse({"records.readings.column_missing", column.input, std::move(facts)});
  }

  /// A column whose name tells another unit than the one it is to be read in.
  void check_unit(const Column& column, const std::string& name) {
    std::string_view told;
    for (const auto& [written, unit] : told_units) {
      if (told.empty() && name.find(written) != std::string::npos && unit != column.unit) told = unit;
    }
    if (told.empty() && column.field == "temperature") told = scale_at_end(name);
    if (told.empty() || told == column.unit) return;
    findings_.refuse({"records.readings.other_unit",
                      column.input,
                      {{"given", name},
                       {"found", std::string(told)},
                       {"allowed", column.unit.empty() ? std::string("pH") : column.unit}}});
  }

  /// A meter set to the other scale tells it in no column's name.
  void doubt_hot(const std::vector<records::Entry>& entries) {
    const auto at = *kind_.position("temperature");
    double highest = brew_hottest_c;
    for (const auto& entry : entries) {
      if (const auto* value = std::get_if<double>(&entry.values[at])) highest = std::max(highest, *value);
    }
    if (highest > brew_hottest_c)
      findings_.doubt({"records.readings.hot", "temperature", {{"given", Quantity{highest, Dimension::temperature}}}});
  }

  std::optional<records::Entry> reading() {
    records::Entry entry{.kind = kind_.name, .recorded_by = in_.by};
    entry.values.resize(kind_.fields.size());
    entry.values[*kind_.position("brew")] = brew_id_;
    const auto at = instant(std::string(table_.text(time_.at)));
    if (!at) return std::nullopt;
    entry.values[*kind_.position("at")] = *at;
    bool any = false;
    for (const auto& column : columns_) {
      if (table_.text(column.at).empty()) continue;  // a gap stays a gap
      const auto value = number(column);
      if (!value) return std::nullopt;
      entry.values[*kind_.position(column.field)] = *value;
      any = true;
    }
    if (!any) return std::nullopt;
    entry.id = id_of(entry, *at);
    return entry;
  }

  /// Made of the content, so that a file read twice is kept once; with an id for the whole log, of that and the line,
  /// so that the log sent again with other content is refused.
  std::string id_of(const records::Entry& entry, std::int64_t at) const {
    if (in_.id.empty()) return records::id_of_content(at, records::line_of(kind_, entry));
    return records::id_of_content(records::made_at(in_.id), fmt::format("{} {}", in_.id, table_.line()));
  }

  std::optional<double> number(const Column& column) {
    const auto read = table_.number(column.at);
    if (!read) return std::nullopt;
    const auto& field = *kind_.field(column.field);
    const auto value =
        read_quantity(fmt::format("{}{}{}", *read, column.unit.empty() ? "" : " ", column.unit), field.dimension);
    if (!value.ok() || (field.lowest && *value < *field.lowest) || (field.highest && *value > *field.highest)) {
      CsvTable::Facts facts;
      if (field.lowest) facts.emplace("low", Quantity{*field.lowest, field.dimension});
      if (field.highest) facts.emplace("high", Quantity{*field.highest, field.dimension});
      table_.refuse("records.readings.out_of_bounds", column.at, std::move(facts));
      return std::nullopt;
    }
    return *value;
  }

  /// Seconds from the beginning, an instant with its distance from UTC, or the clock of the zone.
  std::optional<std::int64_t> instant(const std::string& text) {
    if (in_.begun_at && is_plain_number(text))
      return *in_.begun_at + static_cast<std::int64_t>(std::stod(text) * 1000.0);
    if (const auto at = read_instant(text); at.ok()) return at->at_ms;
    const auto clock = read_instant(text + "Z");
    if (clock.ok() && !in_.zone.empty()) return of_clock(clock->at_ms, text);
    table_.refuse(clock.ok() ? "records.readings.no_zone" : "records.readings.not_a_time", time_.at);
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
    table_.refuse("records.readings.hour_skipped", time_.at);
    return std::nullopt;
  }

  const In& in_;
  std::string brew_id_;
  Findings& findings_;
  CsvTable table_;
  const records::Kind& kind_;
  Column time_{};
  std::vector<Column> columns_;
  bool doubted_ = false;
};

Answer<Out> answer(const In& in, const World& world) {
  Findings findings;
  const auto text = findings.take(retarget(world.read_file(in.file), {{"", "file"}}));
  auto store = findings.take(open_store(in.store, world));
  const auto brew = store ? take_about(findings, records::id_named(*store, {"brew"}, in.brew), "brew") : std::nullopt;
  if (!text || !brew) return std::move(findings).refusal<Out>();
  if (!in.id.empty() && !records::is_id(in.id))
    findings.refuse({"records.entry.bad_id", "id", {{"given", in.id.substr(0, 60)}}});
  if (findings.refused()) return std::move(findings).refusal<Out>();
  const auto entries = Log(in, *brew, *text, findings).read();
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
  inputs.text("id", at(&In::id), "019f2a4e-7c00-7123-8abc-0123456789ab");
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
