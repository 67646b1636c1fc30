#include "operations/record_counts.h"

#include <cmath>
#include <functional>

namespace barm::operations {
namespace {

constexpr double normal_95 = 1.959963984540054;

/// The counts of a thing up to an instant, the oldest first.
void for_each_count(records::Store& store, const std::string& of, std::optional<std::int64_t> until, Findings& findings,
                    const std::function<void(const Fields&)>& visit) {
  const auto& kind = *records::all_kinds().find("count");
  for (const auto& entry : entries_about(store, kind, {"of", of}, findings)) {
    const Fields fields(kind, entry);
    if (!until || fields.instant("at").value_or(0) <= *until) visit(fields);
  }
}

/// Where a count of its kind stands among those of one slide; nothing for others.
count::Estimate* place_of(SeenCounts& seen, const std::string& organism) {
  if (organism == "bacteria") return &seen.bacteria;
  if (organism == "flagellates") return &seen.flagellates;
  if (organism == "amoebae") return &seen.amoebae;
  return organism == "ciliates" ? &seen.ciliates : nullptr;
}

/// Looked for and not found is none, as far as one slide tells.
double density_of(const Fields& fields) {
  const double density = fields.number("density");
  return std::isnan(density) && fields.text("result") == "not_found" ? 0.0 : density;
}

void see_germs(const Fields& fields, BrewCounts& counts) {
  const std::string organism = fields.text("organism");
  const double density = fields.number("density");
  const bool is_found = density > 0.0 || fields.text("result") == "found";
  if (organism == "salmonella" || organism == "listeria") counts.germ_found = counts.germ_found || is_found;
  if (organism == "e_coli" && density > 0.0) counts.e_coli_per_ml = std::fmax(counts.e_coli_per_ml, density);
}

}  // namespace

count::Estimate SeenCounts::protozoa() const {
  if (std::isnan(flagellates.per_ml)) return amoebae;
  if (std::isnan(amoebae.per_ml)) return flagellates;
  const double both = flagellates.per_ml + amoebae.per_ml;
  const auto error = [](const count::Estimate& of) { return of.per_ml > 0.0 ? of.per_ml * of.ln_standard_error : 0.0; };
  return {both, both > 0.0 ? std::hypot(error(flagellates), error(amoebae)) / both : unset};
}

bool SeenCounts::learns() const {
  return std::isfinite(bacteria.per_ml) || std::isfinite(protozoa().per_ml);
}

double ln_error_of(double low_95, double high_95) {
  return low_95 > 0.0 && high_95 > low_95 ? std::log(high_95 / low_95) / (2.0 * normal_95) : unset;
}

BrewCounts counts_of_brew(records::Store& store, const std::string& brew_id, std::optional<std::int64_t> until,
                          Findings& findings) {
  BrewCounts counts;
  for_each_count(store, brew_id, until, findings, [&](const Fields& fields) {
    see_germs(fields, counts);
    const std::string organism = fields.text("organism");
    const double density = density_of(fields);
    SeenCounts none;
    if (fields.text("method") != "microscope" || place_of(none, organism) == nullptr || std::isnan(density)) {
      ++counts.left_out_count;
      return;
    }
    *place_of(counts.seen[*fields.instant("at")], organism) = {
        density, ln_error_of(fields.number("density_low"), fields.number("density_high"))};
    ++(organism == "ciliates" ? counts.left_out_count : counts.learned_count);
  });
  return counts;
}

LotCounts counts_of_lot(records::Store& store, const std::string& lot_id, std::optional<std::int64_t> until,
                        Findings& findings) {
  LotCounts counts;
  for_each_count(store, lot_id, until, findings, [&](const Fields& fields) {
    ++counts.counts_count;
    const double per_g = fields.number("per_g");
    if (fields.text("organism") != "bacteria" || !(per_g > 0.0)) return;
    if (fields.text("method") != "microscope") {
      ++counts.grown_count;
      return;
    }
    counts.bacteria_per_g = per_g;
    counts.bacteria_ln_error = ln_error_of(fields.number("density_low"), fields.number("density_high"));
  });
  return counts;
}

}  // namespace barm::operations
