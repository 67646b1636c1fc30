#include "compost/maturity.h"

#include <algorithm>
#include <cmath>

#include "quantity/data_entry.h"

namespace barm::compost {
namespace {

constexpr double usual_test_c = 25.0;
constexpr double h_per_d = 24.0;
constexpr double bacterial_below = 0.3, fungal_above = 1.0;               // judged: of dry mass, fungi over bacteria
constexpr double woody_bacterial_below = 0.25, woody_fungal_above = 0.5;  // judged

struct Bound {
  const char* field;
  double MaturityAsk::*member;
  double least, most;
  Dimension dimension = Dimension::number;
};
const Bound bounds[] = {{"pile_temperature", &MaturityAsk::pile_c, -20.0, 100.0, Dimension::temperature},
                        {"air_temperature", &MaturityAsk::air_c, -40.0, 55.0, Dimension::temperature},
                        {"cn", &MaturityAsk::cn, 1.0, 500.0},
                        {"respiration", &MaturityAsk::respiration_mg_per_g_d, 0.0, 100.0},
                        {"respiration_at", &MaturityAsk::respiration_at_c, 10.0, 60.0, Dimension::temperature},
                        {"uptake", &MaturityAsk::uptake_mg_per_g_h, 0.0, 60.0},
                        {"germination", &MaturityAsk::germination_share, 0.0, 2.0, Dimension::share},
                        {"ammonium", &MaturityAsk::ammonium_mg_per_kg, 0.0, 50'000.0},
                        {"nitrate", &MaturityAsk::nitrate_mg_per_kg, 0.0, 50'000.0},
                        {"age", &MaturityAsk::age_d, 0.0, 20'000.0},
                        {"moisture", &MaturityAsk::moisture_share, 0.0, 0.95, Dimension::share},
                        {"volatile_solids", &MaturityAsk::volatile_share, 0.01, 0.99, Dimension::share},
                        {"bacteria", &MaturityAsk::bacteria_ug_per_g, 0.0, 1e6},
                        {"fungi", &MaturityAsk::fungi_ug_per_g, 0.0, 1e6},
                        {"woody", &MaturityAsk::woody_share, 0.0, 1.0, Dimension::share},
                        {"mass", &MaturityAsk::mass_g, 1e-3, 1e8, Dimension::mass},
                        {"water", &MaturityAsk::water_l, 1e-3, 1e6, Dimension::volume}};

bool refuse_wrong(const MaturityAsk& ask, Findings& findings) {
  bool any = ask.smell != Smell::not_told;
  for (const Bound& bound : bounds) {
    const double given = ask.*bound.member;
    if (std::isnan(given)) continue;
    any = true;
    if (given >= bound.least && given <= bound.most) continue;
    findings.refuse({.code = "compost.maturity.outside",
                     .field = bound.field,
                     .facts = {{"given", Quantity{given, bound.dimension}},
                               {"least", Quantity{bound.least, bound.dimension}},
                               {"most", Quantity{bound.most, bound.dimension}}}});
  }
  constexpr double g_per_l = 1000.0, thickest = 0.5;  // judged: thicker is a paste, as for a plan
  if (ask.water_l > 0.0 && ask.mass_g > thickest * g_per_l * ask.water_l)
    findings.refuse({.code = "compost.maturity.paste",
                     .field = "mass",
                     .facts = {{"given", Quantity{ask.mass_g, Dimension::mass}},
                               {"of", Quantity{ask.water_l, Dimension::volume}}}});
  if (!any) findings.refuse({.code = "compost.maturity.nothing_told", .field = "pile_temperature"});
  if (std::isfinite(ask.pile_c) != std::isfinite(ask.air_c) && !findings.refused())
    findings.refuse({.code = "compost.maturity.one_temperature",
                     .field = std::isfinite(ask.pile_c) ? "air_temperature" : "pile_temperature"});
  return findings.refused();
}

double value_of(const MaturityAsk& ask, const std::string& id) {
  if (id == "heat") return ask.pile_c - ask.air_c;
  if (id == "cn") return ask.cn;
  if (id == "respiration") return ask.respiration_mg_per_g_d;
  if (id == "uptake") return ask.uptake_mg_per_g_h;
  if (id == "germination") return ask.germination_share;
  if (id == "ammonium") return ask.ammonium_mg_per_kg;
  if (id == "ammonium_to_nitrate")
    return ask.nitrate_mg_per_kg > 0.0 ? ask.ammonium_mg_per_kg / ask.nitrate_mg_per_kg : unset;
  expects(id == "age", "a sign of maturity that is known");
  return ask.age_d;
}

bool has_grade(const std::vector<SignTold>& signs, std::initializer_list<const char*> ids) {
  return std::any_of(signs.begin(), signs.end(), [&](const SignTold& sign) {
    return std::any_of(ids.begin(), ids.end(), [&](const char* id) { return sign.id == id; });
  });
}

Worth worth_of(const std::vector<SignTold>& signs, Smell smell) {
  const auto any = [&](Grade grade) {
    return std::any_of(signs.begin(), signs.end(), [&](const SignTold& sign) { return sign.grade == grade; });
  };
  const bool is_foul = smell == Smell::sour || smell == Smell::ammonia || smell == Smell::rotten;
  if (is_foul || any(Grade::raw)) return Worth::not_yet;
  const bool is_stable = has_grade(signs, {"heat", "respiration", "uptake"});
  const bool is_kind_to_plants = has_grade(signs, {"germination", "ammonium", "ammonium_to_nitrate"});
  if (!is_stable || !is_kind_to_plants || smell == Smell::not_told) return Worth::not_known;
  return any(Grade::maturing) ? Worth::with_care : Worth::suitable;
}

void tell_character(const MaturityAsk& ask, MaturityTold& out, Findings& findings) {
  const auto by = [](double value, double low, double high) {
    return value < low ? Character::bacterial : value > high ? Character::fungal : Character::balanced;
  };
  if (ask.fungi_ug_per_g >= 0.0 && ask.bacteria_ug_per_g > 0.0) {
    out.fungi_to_bacteria = ask.fungi_ug_per_g / ask.bacteria_ug_per_g;
    out.character = by(out.fungi_to_bacteria, bacterial_below, fungal_above);
    out.evidence = Evidence::counted;
  } else if (std::isfinite(ask.woody_share)) {
    out.character = by(ask.woody_share, woody_bacterial_below, woody_fungal_above);
    out.evidence = Evidence::made_from;
    findings.doubt({.code = "compost.maturity.character_not_counted", .field = "woody"});
  }
}

/// One sign finished beside another of the same thing raw: most likely a slip, or a pile that is dry or cold.
void tell_contradiction(const std::vector<SignTold>& signs, Findings& findings) {
  const auto grade = [&](const char* id) -> const SignTold* {
    for (const SignTold& sign : signs)
      if (sign.id == id) return &sign;
    return nullptr;
  };
  for (const char* other : {"respiration", "uptake"}) {
    const SignTold *heat = grade("heat"), *breath = grade(other);
    if (heat && breath && heat->grade == Grade::finished && breath->grade == Grade::raw)
      findings.doubt({.code = "compost.maturity.cold_but_active", .field = "pile_temperature"});
  }
}

}  // namespace

bool SignLines::is_confirmed() const {
  return source.find("memory") == std::string::npos;
}

Grade SignLines::grade(double value) const {
  const double sign = raw > finished ? 1.0 : -1.0;
  if (sign * value <= sign * finished) return Grade::finished;
  return sign * value > sign * raw ? Grade::raw : Grade::maturing;
}

std::vector<SignLines> read_maturity(std::string_view toml) {
  const std::pair<std::string_view, std::string_view> units[] = {
      {"heat", "degC"},         {"cn", "1"},           {"respiration", "mg/(g d)"},  {"uptake", "mg/(g h)"},
      {"germination", "share"}, {"ammonium", "mg/kg"}, {"ammonium_to_nitrate", "1"}, {"age", "d"}};
  std::vector<SignLines> all;
  each_data_entry(toml, "sign", "maturity.toml", [&](DataEntry entry, const std::string& id) {
    const auto unit =
        std::find_if(std::begin(units), std::end(units), [&](const auto& each) { return each.first == id; });
    entry.promise(unit != std::end(units), "is not a sign of maturity");
    SignLines lines{id, entry.number("finished", unit->second), entry.number("raw", unit->second)};
    entry.promise(lines.finished != lines.raw, "its two lines are one");
    lines.source = entry.sources();
    all.push_back(std::move(lines));
  });
  return all;
}

double uptake_of_respiration(double respiration_mg_per_g_d, double at_c) {
  constexpr double oxygen_per_carbon = 32.0 / 12.0, tenfold_degrees = 10.0, doubles = 2.0, standard_c = 20.0;  // S92
  return respiration_mg_per_g_d * oxygen_per_carbon / h_per_d *
         std::pow(doubles, (standard_c - at_c) / tenfold_degrees);
}

Answer<MaturityTold> judge_maturity(const MaturityAsk& ask, const std::vector<SignLines>& lines, const Kind& usual) {
  Findings findings;
  if (refuse_wrong(ask, findings)) return std::move(findings).refusal<MaturityTold>();
  MaturityTold out;
  for (const SignLines& each : lines) {
    const double value = value_of(ask, each.id);
    if (std::isnan(value)) continue;
    out.signs.push_back(
        {each.id, value, each.finished, each.raw, each.grade(value), each.raw < each.finished, each.is_confirmed()});
  }
  out.worth = worth_of(out.signs, ask.smell);
  tell_contradiction(out.signs, findings);
  tell_character(ask, out, findings);

  if (std::isfinite(ask.uptake_mg_per_g_h)) {
    out.uptake_mg_per_g_vs_h = ask.uptake_mg_per_g_h;
  } else if (std::isfinite(ask.respiration_mg_per_g_d)) {
    if (std::isnan(ask.respiration_at_c))
      findings.doubt({.code = "compost.maturity.test_temperature_assumed",
                      .field = "respiration_at",
                      .facts = {{"given", Quantity{usual_test_c, Dimension::temperature}}}});
    out.uptake_mg_per_g_vs_h = uptake_of_respiration(
        ask.respiration_mg_per_g_d, std::isnan(ask.respiration_at_c) ? usual_test_c : ask.respiration_at_c);
  }
  out.uptake_over_usual = out.uptake_mg_per_g_vs_h / usual.uptake_mg_per_g_vs_h.middle;
  const double dry = std::isnan(ask.moisture_share) ? usual.dry_matter_share.middle : 1.0 - ask.moisture_share;
  const double volatile_share = std::isnan(ask.volatile_share) ? usual.volatile_share.middle : ask.volatile_share;
  out.load_mg_per_l_h = out.uptake_mg_per_g_vs_h * ask.mass_g * dry * volatile_share / ask.water_l;
  return std::move(findings).answer(std::move(out));
}

Kind with_measured(Kind kind, const LotMeasured& measured) {
  const double usual_ln_error = 0.4;  // judged: data/instruments.toml, one counter against another
  const double lot_factor = 1.5, moisture_error_share = 0.1;
  if (std::isfinite(measured.moisture_share)) {
    const double off = moisture_error_share * measured.moisture_share;
    const double dry = 1.0 - measured.moisture_share;
    kind.dry_matter_share = {dry, std::max(0.01, dry - off), std::min(0.99, dry + off)};
  }
  if (std::isfinite(measured.uptake_mg_per_g_vs_h)) {
    const double uptake = std::max(1e-3, measured.uptake_mg_per_g_vs_h);  // spreads are drawn on a log scale
    kind.uptake_mg_per_g_vs_h = {uptake, uptake / lot_factor, uptake * lot_factor};
  }
  if (std::isfinite(measured.bacteria_per_g)) {
    const double error = std::isfinite(measured.bacteria_ln_error) ? measured.bacteria_ln_error : usual_ln_error;
    // Drawn evenly on the logarithm: sqrt(3) deviations either way have the same variance.
    const double reach = std::exp(std::sqrt(3.0) * std::max(1e-3, error));
    const double cells = std::max(1.0, measured.bacteria_per_g);
    kind.bacteria_per_g = {cells, cells / reach, cells * reach};
  }
  return kind;
}

}  // namespace barm::compost
