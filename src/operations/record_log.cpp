// barm record log: what the record holds of a brew, readings and counts, as the table a forecast learns from.
#include <fmt/format.h>

#include <cmath>
#include <map>

#include "cards/local_time.h"
#include "operations/record_counts.h"
#include "operations/registry.h"
#include "records/named.h"

namespace barm::operations {
namespace {

struct In {
  std::string brew, file, store = usual_store;
};
struct Out {
  std::int64_t readings_count = 0, counts_count = 0, left_out_count = 0;
  std::string csv{};
};
struct Row {  // of one instant
  double oxygen = unset, temperature = unset;
  SeenCounts seen{};
};

void renew(double& kept, double newer) {
  if (std::isfinite(newer)) kept = newer;
}

std::string csv_of(const std::map<std::int64_t, Row>& rows, const std::string& zone) {
  std::string text =
      "time,oxygen_mg_per_l,temperature_c,bacteria_per_ml,bacteria_error,protozoa_per_ml,protozoa_error\n";
  for (const auto& [at, row] : rows) {
    text += cards::iso_text(at, zone);
    const auto& [bacteria, protozoa] = std::pair(row.seen.bacteria, row.seen.protozoa());
    for (const double value : {row.oxygen, row.temperature, bacteria.per_ml, bacteria.ln_standard_error,
                               protozoa.per_ml, protozoa.ln_standard_error})
      text += std::isfinite(value) ? fmt::format(",{}", value) : ",";
    text += "\n";
  }
  return text;
}

Answer<Out> answer(const In& in, const World& world) {
  Findings findings;
  auto store = findings.take(open_store(in.store, world));
  const auto brew = store ? take_about(findings, records::id_named(*store, {"brew"}, in.brew), "brew") : std::nullopt;
  if (!brew) return std::move(findings).refusal<Out>();
  Out out;
  std::map<std::int64_t, Row> rows;
  const auto& kind = *records::all_kinds().find("reading");
  for (const auto& entry : entries_about(*store, kind, {"brew", *brew}, findings)) {
    const Fields fields(kind, entry);
    const double oxygen = fields.number("oxygen"), temperature = fields.number("temperature");
    if (!std::isfinite(oxygen) && !std::isfinite(temperature)) continue;
    Row& row = rows[*fields.instant("at")];
    renew(row.oxygen, oxygen), renew(row.temperature, temperature);
    ++out.readings_count;
  }
  const auto counted = counts_of_brew(*store, *brew, std::nullopt, findings);
  for (const auto& [at, seen] : counted.seen) {
    if (seen.learns()) rows[at].seen = seen;
  }
  out.counts_count = counted.learned_count, out.left_out_count = counted.left_out_count;
  if (rows.empty() && !findings.refused())
    findings.refuse({.code = "records.log.nothing", .field = "brew", .facts = {{"given", in.brew}}});
  if (out.left_out_count > 0)
    findings.doubt(
        {.code = "records.log.left_out", .field = "brew", .facts = {{"given", std::to_string(out.left_out_count)}}});
  if (findings.refused()) return std::move(findings).refusal<Out>();
  out.csv = csv_of(rows, zone_of(*store));
  const auto written = findings.take(retarget(world.write_file(in.file, out.csv), {{"", "file"}}));
  if (!written) return std::move(findings).refusal<Out>();
  return std::move(findings).answer(std::move(out));
}

}  // namespace

Operation record_log() {
  Inputs<In> inputs;
  inputs.text("brew", at(&In::brew), "May night brew").required().positional();
  inputs.text("file", at(&In::file), "log.csv", Kind::file_written).required().positional();
  store_input(inputs, &In::store);
  Outputs<Out> outputs;
  outputs.whole("readings_count", at(&Out::readings_count))
      .whole("counts_count", at(&Out::counts_count))
      .whole("left_out_count", at(&Out::left_out_count));
  return define<In, Out>({.noun = "record",
                          .verb = "log",
                          .inputs = inputs,
                          .outputs = outputs,
                          .answer = answer,
                          .examples = {{"record log \"May night brew\" log.csv"}}});
}

}  // namespace barm::operations
