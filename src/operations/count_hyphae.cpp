// barm count hyphae: length and dry mass of fungal threads, and fungi to bacteria, from fields under the microscope.
#include "count/hyphae.h"

#include "count/biomass.h"
#include "count/tables.h"
#include "operations/count_told.h"
#include "operations/registry.h"
#include "operations/shipped.h"

namespace barm::operations {
namespace {

using count::Band;
using count::Biomass;
using count::BiomassTold;
using count::Field;
using count::Hyphae;
using count::HyphaeCount;
using count::HyphaeInterval;

struct In {
  Hyphae hyphae;
  std::string chamber;
  std::vector<double> diameter_m;
  double bacteria_per_ml = unset, bacteria_low_per_ml = unset, bacteria_high_per_ml = unset;
  double cell_width_m = unset, cell_length_m = unset;
  std::string factors = "density_and_dry_matter";
};
struct Out {
  HyphaeCount length;
  BiomassTold mass;
};

const Choices<HyphaeInterval>& intervals() {
  static const Choices<HyphaeInterval> all = {{"none", HyphaeInterval::none},
                                              {"poisson_exact", HyphaeInterval::poisson_exact},
                                              {"ln_normal", HyphaeInterval::ln_normal},
                                              {"ln_student", HyphaeInterval::ln_student}};
  return all;
}

constexpr double um_per_m = 1e6;
constexpr double normal_95 = 1.959963984540054;

/// The count of bacteria with the error its limits tell; refuses limits that do not stand around it.
count::Counted bacteria(const In& in, Findings& findings) {
  count::Counted counted{.value = in.bacteria_per_ml};
  const bool has_low = std::isfinite(in.bacteria_low_per_ml), has_high = std::isfinite(in.bacteria_high_per_ml);
  if (!std::isfinite(in.bacteria_per_ml)) {
    if (has_low || has_high) findings.refuse({.code = "count.biomass.limits_alone", .field = "bacteria"});
    return counted;
  }
  if (!has_low && !has_high) {
    findings.doubt({.code = "count.biomass.bacteria_without_limits", .field = "bacteria_low"});
    return counted;
  }
  if (!(in.bacteria_low_per_ml > 0.0 && in.bacteria_low_per_ml <= in.bacteria_per_ml &&
        in.bacteria_per_ml <= in.bacteria_high_per_ml)) {
    findings.refuse({.code = "count.biomass.limits_not_around",
                     .field = has_low ? "bacteria_low" : "bacteria_high",
                     .facts = {{"given", Quantity{in.bacteria_per_ml, Dimension::cell_density}}}});
    return counted;
  }
  counted.ln_standard_error = std::log(in.bacteria_high_per_ml / in.bacteria_low_per_ml) / (2.0 * normal_95);
  return counted;
}

Answer<Out> answer(const In& in, const World&) {
  Findings findings;
  const auto factors = findings.take(shipped_count_tables().biomass_factors(in.factors));
  Hyphae hyphae = in.hyphae;
  if (!in.chamber.empty()) {
    const auto chamber = findings.take(shipped_count_tables().chamber(in.chamber));
    if (chamber) {
      hyphae.field.square_volume_ml = (*chamber)->square_volume_ml;
      hyphae.field.square_side_m = (*chamber)->square_side_m;
    }
  }
  const count::Counted counted = bacteria(in, findings);
  if (findings.refused()) return std::move(findings).refusal<Out>();
  const auto length = findings.take(count::count_hyphae(hyphae));
  if (!length) return std::move(findings).refusal<Out>();
  const bool none_seen = length->m_per_ml == 0.0;
  Biomass biomass{.hyphae_m_per_ml = {length->m_per_ml, length->ln_standard_error, length->degrees_of_freedom,
                                      none_seen ? length->high_95 : unset},
                  .bacteria_per_ml = counted,
                  .cell_width_um = in.cell_width_m * um_per_m,
                  .cell_length_um = in.cell_length_m * um_per_m};
  for (const double each : in.diameter_m) biomass.diameter_um.push_back(each * um_per_m);
  const auto mass = findings.take(count::biomass_of(biomass, **factors, shipped_count_tables().cells()));
  if (!mass) return std::move(findings).refusal<Out>();
  return std::move(findings).answer(Out{*length, *mass});
}

std::string tell(const Out& out, const Voice& voice) {
  const auto with_band = [](double middle, double low, double high) {
    std::map<std::string, Remark::Fact> facts{{"estimate", two_digits(middle)}};
    if (std::isfinite(low) && low > 0.0) facts.emplace("low", two_digits(low));
    if (std::isfinite(high)) facts.emplace("high", two_digits(high));
    return facts;
  };
  const auto line = [&](const char* code, const Band& band) {
    if (!std::isfinite(band.middle)) return std::string();
    auto facts = with_band(band.middle, band.low_95, band.high_95);
    if (out.length.interval_method == HyphaeInterval::poisson_exact)
      facts.emplace("method", voice.say("operations.count.poisson_exact"));
    return voice.say(code, std::move(facts)) + "\n";
  };
  const bool none_seen = out.length.m_per_ml == 0.0;
  std::string text = line(none_seen ? "operations.count.hyphae.length_below" : "operations.count.hyphae.length",
                          {out.length.m_per_ml, out.length.low_95, out.length.high_95});
  text += line(none_seen ? "operations.count.hyphae.fungi_below" : "operations.count.hyphae.fungi",
               out.mass.fungi_ug_per_ml);
  text += line("operations.count.hyphae.bacteria", out.mass.bacteria_ug_per_ml);
  text += line(none_seen ? "operations.count.hyphae.ratio_below" : "operations.count.hyphae.ratio",
               out.mass.fungi_to_bacteria);
  if (std::isfinite(out.mass.conversion_share))
    text += voice.say(out.mass.conversion_share < 0.1 ? "operations.count.hyphae.count_more"
                                                      : "operations.count.hyphae.conversion",
                      {{"share", Quantity{std::round(100.0 * out.mass.conversion_share), Dimension::number}}}) +
            "\n";
  return text;
}

void put(Outputs<Out>& outputs, const std::string& name, const std::string& unit, Band BiomassTold::*band) {
  outputs.number(name, at(&Out::mass, band, &Band::middle), unit.c_str())
      .number(name + "_low_95", at(&Out::mass, band, &Band::low_95), unit.c_str())
      .number(name + "_high_95", at(&Out::mass, band, &Band::high_95), unit.c_str());
}

}  // namespace

Operation count_hyphae() {
  Inputs<In> inputs;
  inputs.wholes("intersections", at(&In::hyphae, &Hyphae::intersections), "4,7,2,5").least(0);
  inputs.list("lengths", at(&In::hyphae, &Hyphae::length_m), Dimension::length, "120 um,0 um,310 um").least(0.0);
  inputs.quantity("grid", at(&In::hyphae, &Hyphae::grid_m), Dimension::length, "50 um").above(0.0);
  inputs.quantity("line", at(&In::hyphae, &Hyphae::line_m), Dimension::length, "2 mm").above(0.0);
  inputs.quantity("field_area", at(&In::hyphae, &Hyphae::field, &Field::field_area_m2), Dimension::area, "0.159 mm2")
      .above(0.0);
  inputs
      .quantity("field_diameter", at(&In::hyphae, &Hyphae::field, &Field::field_diameter_m), Dimension::length,
                "0.45 mm")
      .above(0.0);
  inputs.quantity("covered_area", at(&In::hyphae, &Hyphae::field, &Field::covered_area_m2), Dimension::area, "324 mm2")
      .above(0.0);
  inputs.quantity("volume", at(&In::hyphae, &Hyphae::field, &Field::volume_l), Dimension::volume, "10 uL").above(0.0);
  inputs.text("chamber", at(&In::chamber), "neubauer_corner");
  inputs.quantity("dilution_factor", at(&In::hyphae, &Hyphae::dilution_factor), Dimension::number, "10").least(1.0);
  inputs.list("diameters", at(&In::diameter_m), Dimension::length, "2.5 um,3 um,2 um").above(0.0);
  inputs.quantity("bacteria", at(&In::bacteria_per_ml), Dimension::cell_density, "2e9 1/mL").above(0.0);
  inputs.quantity("bacteria_low", at(&In::bacteria_low_per_ml), Dimension::cell_density, "1.6e9 1/mL").above(0.0);
  inputs.quantity("bacteria_high", at(&In::bacteria_high_per_ml), Dimension::cell_density, "2.5e9 1/mL").above(0.0);
  inputs.quantity("cell_width", at(&In::cell_width_m), Dimension::length, "0.6 um").above(0.0);
  inputs.quantity("cell_length", at(&In::cell_length_m), Dimension::length, "1.2 um").above(0.0);
  inputs.text("factors", at(&In::factors), "density_and_dry_matter");
  inputs.alternatives({"intersections", "lengths"});
  inputs.alternatives({"grid", "line"});
  inputs.alternatives({"field_area", "field_diameter", "chamber"});
  inputs.alternatives({"covered_area", "chamber"});  // a chamber tells both
  inputs.alternatives({"volume", "chamber"});
  Outputs<Out> outputs;
  outputs.number("length_m_per_ml", at(&Out::length, &HyphaeCount::m_per_ml), "m/mL")
      .number("length_m_per_ml_low_95", at(&Out::length, &HyphaeCount::low_95), "m/mL")
      .number("length_m_per_ml_high_95", at(&Out::length, &HyphaeCount::high_95), "m/mL")
      .choice("interval_method", at(&Out::length, &HyphaeCount::interval_method), intervals())
      .number("ln_standard_error", at(&Out::length, &HyphaeCount::ln_standard_error), "")
      .whole("fields_count", at(&Out::length, &HyphaeCount::fields_count))
      .whole("intersections_count", at(&Out::length, &HyphaeCount::intersections_count));
  put(outputs, "fungi_ug_per_ml", "ug/mL", &BiomassTold::fungi_ug_per_ml);
  put(outputs, "bacteria_ug_per_ml", "ug/mL", &BiomassTold::bacteria_ug_per_ml);
  put(outputs, "fungi_to_bacteria", "", &BiomassTold::fungi_to_bacteria);
  put(outputs, "fungi_to_bacteria_carbon", "", &BiomassTold::fungi_to_bacteria_carbon);
  outputs.number("mean_diameter_um", at(&Out::mass, &BiomassTold::mean_diameter_um), "um")
      .number("conversion_share", at(&Out::mass, &BiomassTold::conversion_share), Dimension::share);
  return define<In, Out>(
      {.noun = "count",
       .verb = "hyphae",
       .inputs = inputs,
       .outputs = outputs,
       .answer = answer,
       .tell = tell,
       .examples = {{"count hyphae --intersections 4,7,2,5,3,6 --grid \"50 um\" --field-diameter \"0.45 mm\" "
                     "--covered-area \"324 mm2\" --volume \"10 uL\" --dilution-factor 5 --diameters "
                     "\"2.5 um,3 um,2 um,2.5 um\" --bacteria \"2e9 1/mL\" --bacteria-low \"1.6e9 1/mL\" "
                     "--bacteria-high \"2.5e9 1/mL\""}}});
}

}  // namespace barm::operations
