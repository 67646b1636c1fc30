#include "brew/validation/validation.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>
#include <numbers>
#include <stdexcept>
#include <utility>
#include <vector>

#include "air/transfer.h"
#include "brew/brews.h"
#include "brew/cells.h"
#include "brew/draws.h"
#include "brew/validation/brews_of_papers.h"
#include "rule/contaminant.h"
#include "support/published.h"
#include "water/oxygen.h"

namespace barm::test {
namespace {

using brew::Setup;
namespace tea = brew::tea;

enum class Verdict { inside, outside, agrees, disagrees, none };

struct Line {
  std::string dataset, what, measured, predicted, note;
  Verdict verdict = Verdict::none;
};

const char* said(Verdict verdict) {
  switch (verdict) {
    case Verdict::inside:
      return "inside";
    case Verdict::outside:
      return "**outside**";
    case Verdict::agrees:
      return "agrees";
    case Verdict::disagrees:
      return "**disagrees**";
    case Verdict::none:
      break;
  }
  return "not compared";
}

std::vector<Row> rows_of(const std::string& dataset) {
  std::vector<Row> found;
  for (const Row& row : published("validation_points.csv"))
    if (row.text("dataset_id") == dataset) found.push_back(row);
  return found;
}
/// The one row of a dataset whose variable begins with these words.
Row row_of(const std::string& dataset, const std::string& variable) {
  for (const Row& row : rows_of(dataset))
    if (row.text("variable").starts_with(variable)) return row;
  throw std::runtime_error(dataset + " has no row for " + variable);
}

std::string told(const Predicted& band, int digits) {
  return fmt::format("{:.{}f} ({:.{}f} to {:.{}f})", band.middle, digits, band.low, digits, band.high, digits);
}
Line number_line(const std::string& dataset, std::string what, double measured, int digits, const Predicted& band,
                 std::string note) {
  return {.dataset = dataset,
          .what = std::move(what),
          .measured = fmt::format("{:.{}f}", measured, digits),
          .predicted = told(band, digits),
          .note = std::move(note),
          .verdict = measured >= band.low && measured <= band.high ? Verdict::inside : Verdict::outside};
}
/// A measured range: inside when it meets the band.
Line range_line(const std::string& dataset, std::string what, double low, double high, int digits,
                const Predicted& band, std::string note) {
  return {.dataset = dataset,
          .what = std::move(what),
          .measured = fmt::format("{:.{}f} to {:.{}f}", low, digits, high, digits),
          .predicted = told(band, digits),
          .note = std::move(note),
          .verdict = high >= band.low && low <= band.high ? Verdict::inside : Verdict::outside};
}
/// A direction: agreed with when it holds in more than half of the members.
Line direction_line(const std::string& dataset, std::string what, double share, std::string note = "") {
  return {.dataset = dataset,
          .what = std::move(what),
          .measured = "yes",
          .predicted = fmt::format("in {:.0f} of 100 members", 100.0 * share),
          .note = std::move(note),
          .verdict = share > 0.5 ? Verdict::agrees : Verdict::disagrees};
}
Line not_compared(const std::string& dataset, std::string what, std::string measured, std::string note) {
  return {.dataset = dataset,
          .what = std::move(what),
          .measured = std::move(measured),
          .predicted = "",
          .note = std::move(note)};
}

std::vector<double> logs10(std::vector<double> values) {
  for (double& value : values) value = std::log10(value);
  return values;
}

/// Too little to change anything: a brew "without" a food holds this much of it, so that its members are drawn as those
/// of the brew with it, and each is compared with its own twin.
constexpr double none_g = 1e-6;

/// A well aired bucket of 20 L with the compost and foods of a paper [g/L], at the temperature.
Setup brew_of(double compost_g_per_l, const std::vector<std::pair<const char*, double>>& foods_g_per_l,
              double temperature_c, const char* compost = "mixed") {
  Setup setup = bucket();
  setup.volume_l = 20.0;
  setup.water_temperature_c = setup.room_temperature_c = temperature_c;
  setup.length_h = 48.0;
  setup.composts = {{.kind = **composts().find(compost), .mass_g = compost_g_per_l * 20.0}};
  setup.foods.clear();
  for (const auto& [name, g_per_l] : foods_g_per_l) setup.foods.push_back(dose(name, g_per_l * 20.0));
  return setup;
}

constexpr const char* unprinted = "hours and temperature are not printed: 18 to 48 h at 18, 23 and 28 degC, pooled";

/// Values of a brew pooled over the temperatures and hours that a paper does not print.
std::vector<double> pooled(
    const std::function<std::vector<std::vector<double>>(double temperature_c, std::vector<double> at_h)>& of) {
  std::vector<double> all;
  for (const double temperature_c : {18.0, 23.0, 28.0})
    for (const auto& at : of(temperature_c, {18.0, 24.0, 36.0, 48.0})) all.insert(all.end(), at.begin(), at.end());
  return all;
}

void add_counts(std::vector<Line>& lines) {
  // Molasses 0.5 % by volume at 1.4 g/mL; fish and kelp hydrolysate 1 %, taken as half fish, half liquid kelp.
  const std::vector<std::pair<const char*, double>> foods = {
      {"blackstrap molasses", 7.0}, {"fish hydrolysate", 5.5}, {"liquid kelp", 5.5}};
  const std::vector<double> culturable = brew::scrambled_points(member_count, 1, 77);
  const Predicted plates = band_of(logs10(pooled([&](double temperature_c, std::vector<double> at_h) {
    auto values = PaperBrew(brew_of(100.0, foods, temperature_c)).bacteria_per_ml(std::move(at_h));
    for (auto& at : values)
      for (std::size_t m = 0; m < at.size(); ++m) at[m] *= priors().of("cult").at(culturable[m]);
    return values;
  })));
  for (const Row& row : rows_of("jbb2012_ace")) {
    const std::string batch = row.text("condition").substr(9, row.text("condition").find(';') - 9);
    if (row.text("variable") == "bacteria")
      lines.push_back(number_line("jbb2012_ace", "bacteria on plates, log10 CFU/mL, " + batch, row.number("value"), 2,
                                  plates,
                                  std::string(unprinted) + "; share that grows on plates drawn from its prior"));
    else
      lines.push_back(not_compared("jbb2012_ace", "fungi on plates, log10 CFU/mL, " + batch, row.text("value"),
                                   "the model tells dry mass of fungi, which no count on plates gives"));
  }
  const Row fold = row_of("naidu2010", "total bacteria");
  lines.push_back(
      range_line("naidu2010", "bacteria with humic acid and yeast, times without", fold.number("low"),
                 fold.number("high"), 1, band_of(pooled([&](double temperature_c, std::vector<double> at_h) {
                   auto with = PaperBrew(brew_of(100.0, {{"humic acid", 4.0}, {"baker's yeast", 7.0}}, temperature_c))
                                   .bacteria_per_ml(at_h);
                   const auto without =
                       PaperBrew(brew_of(100.0, {{"humic acid", none_g}, {"baker's yeast", none_g}}, temperature_c))
                           .bacteria_per_ml(at_h);
                   for (std::size_t i = 0; i < with.size(); ++i)
                     for (std::size_t m = 0; m < with[i].size(); ++m) with[i][m] /= without[i][m];
                   return with;
                 })),
                 std::string(unprinted) + "; 4 and 7 g/100 g of compost, compost 100 g/L"));
  for (const Row& row : rows_of("naidu2010"))
    if (!row.empty("time_h"))
      lines.push_back(not_compared("naidu2010", row.text("variable") + " after six months of storage, CFU/mL",
                                   fmt::format("{:.2g}", row.number("value")), "the model looks no further than 96 h"));
}

void add_ratios(std::vector<Line>& lines) {
  for (const Row& row : rows_of("scheuerell2004"))
    lines.push_back(not_compared(
        "scheuerell2004", row.text("variable"), row.text("value"),
        "a threshold for an effect on plants, which the model does not tell; the shares that grow on plates or "
        "stain as active were set from this paper"));
}

void add_practice(std::vector<Line>& lines) {
  const auto holds = [](double temperature_c) {
    return water::saturation_mg_per_l({.temperature_c = temperature_c}).value();
  };
  const Row tap = row_of("list_do", "DO fresh tap"), aired = row_of("list_do", "DO aerated"),
            first = row_of("list_do", "DO after compost"), sag = row_of("list_do", "DO during"),
            off = row_of("list_do", "DO after air");
  lines.push_back(
      not_compared("list_do", "oxygen of tap water, mg/L", tap.text("value"), "what a tap gives is not modelled"));
  lines.push_back(range_line("list_do", "oxygen of cool water after an hour of air, mg/L", 10.0, aired.number("high"),
                             1, {holds(16.0), holds(13.0), holds(10.0)},
                             "\"up to 10.5\"; water of 10 to 16 degC taken as cool"));
  const Setup setup = [] {
    Setup cool = bucket();
    cool.water_temperature_c = cool.room_temperature_c = 17.0;
    cool.length_h = 36.0;
    return cool;
  }();
  const PaperBrew brew(setup);
  lines.push_back(range_line("list_do", "oxygen at the first readings after compost and foods, mg/L",
                             first.number("low"), first.number("high"), 1, band_of(brew.seen(tea::oxygen, {2.0})[0]),
                             "the usual bucket in a room of 17 degC, at 2 h"));
  lines.push_back(range_line("list_do", "oxygen at the sag, mg/L", sag.number("low"), sag.number("high"), 1,
                             band_of(brew.lowest_oxygen_mg_per_l(36.0)), "lowest within 36 h"));
  brew::Members stopped = brew.start();
  brew::run(stopped, 0.0, 24.0, {}, {}, brew::one_after_the_other, {}, brew::kernels().back());
  const brew::Stretch still = brew::run(stopped, 24.0, 26.0, {.air_is_on = false, .bag_is_in = false}, {26.0},
                                        brew::one_after_the_other, {}, brew::kernels().back());
  int flat = 0;
  for (int m = 0; m < stopped.count; ++m) flat += still.of(m, 0, tea::oxygen) < 0.5 ? 1 : 0;
  lines.push_back(direction_line(
      "list_do", "oxygen goes to none after the pump is unplugged", flat / static_cast<double>(stopped.count),
      fmt::format("\"in most cases\" ({} mg/L); under 0.5 mg/L two hours after a day's brew", off.text("value"))));
}

void add_air(std::vector<Line>& lines) {
  // A tank of 1.5 m3 when filled to 1.8 m, bubbled through open holes; the same tank filled to less.
  const auto kla = [](double flow_l_per_h, double depth_m) {
    constexpr double area_m2 = 1.5 / 1.8;
    air::Delivered delivered;
    delivered.flow_l_per_h = flow_l_per_h;
    return air::estimate_kla(
               delivered,
               {.volume_l = 1000.0 * area_m2 * depth_m, .diameter_m = std::sqrt(4.0 * area_m2 / std::numbers::pi)},
               air::Diffuser::open_tube)
        .value()
        .kla20_per_h;
  };
  lines.push_back(direction_line("kla_tank_2003", "KLa rises with the flow of air",
                                 kla(8340.0, 1.2) > kla(3040.0, 1.2) ? 1.0 : 0.0, "3.04 to 8.34 m3/h"));
  lines.push_back(direction_line(
      "kla_tank_2003", "KLa rises with temperature",
      air::kla_at_temperature_per_h(10.0, 34.7) > air::kla_at_temperature_per_h(10.0, 17.7) ? 1.0 : 0.0));
  lines.push_back(direction_line("kla_tank_2003", "KLa falls with depth",
                                 kla(5000.0, 0.6) > kla(5000.0, 1.8) ? 1.0 : 0.0,
                                 "the same tank filled to 0.6 and to 1.8 m"));
}

void add_growth(std::vector<Line>& lines) {
  // log10 per hour times ln 10 is the specific rate; the prior tells the rate at 20 degC.
  std::vector<double> rates;
  const std::vector<double> points = brew::scrambled_points(member_count, 1, 78);
  const rule::Strain model{.t_min_c = 6.0, .t_opt_c = 40.5, .t_max_c = 46.0, .mu_opt_per_h = 1.0};  // of the model
  const auto cardinal = [&](double t) { return rule::growth_rate_per_h(model, t); };
  const double warmth = cardinal(37.0) / cardinal(20.0);
  for (const double u : points) rates.push_back(priors().of("mu_E").at(u) * warmth / std::log(10.0));
  lines.push_back(number_line(
      "ecoli_37C", "growth of E. coli at 37 degC, log10 per h", row_of("ecoli_37C", "growth rate").number("value"), 2,
      band_of(rates),
      "broth of pH 5, more acid than a tea; brakes of the tea left out. The prior, at 20 degC, names this paper too"));
}

void add_directions(std::vector<Line>& lines) {
  // 15 L, 485 g of yard compost and 285 g of castings, 30 mL each of humic acid, kelp and fish, 20 degC.
  const auto lanthier = [](bool humic, bool kelp, bool fish, bool castings) {
    Setup setup = bucket();
    setup.volume_l = 15.0;
    setup.length_h = 48.0;
    setup.composts = {{.kind = **composts().find("mixed"), .mass_g = 485.0}};
    setup.composts.push_back({.kind = **composts().find("worm"), .mass_g = castings ? 285.0 : none_g});
    setup.foods = {dose("humic acid", humic ? 33.0 : none_g), dose("liquid kelp", kelp ? 33.0 : none_g),
                   dose("fish hydrolysate", fish ? 33.0 : none_g)};
    return PaperBrew(setup);
  };
  const auto at_22h = [](const PaperBrew& brew, tea::Observed what) { return brew.seen(what, {22.0})[0]; };
  const PaperBrew all = lanthier(true, true, true, true);
  const auto protozoa = all.seen(tea::flagellates, {22.0, 48.0});
  lines.push_back(direction_line("lanthier2013", "a longer brew has more protozoa",
                                 share_that_rises(protozoa[0], protozoa[1]), "22 against 48 h"));
  lines.push_back(
      direction_line("lanthier2013", "humic acid: more fungi",
                     share_that_rises(at_22h(lanthier(false, true, true, true), tea::fungi), at_22h(all, tea::fungi))));
  lines.push_back(direction_line(
      "lanthier2013", "kelp: more protozoa",
      share_that_rises(at_22h(lanthier(true, false, true, true), tea::flagellates), at_22h(all, tea::flagellates))));
  lines.push_back(
      direction_line("lanthier2013", "fish: more fungi",
                     share_that_rises(at_22h(lanthier(true, true, false, true), tea::fungi), at_22h(all, tea::fungi))));
  lines.push_back(
      direction_line("lanthier2013", "castings: more fungi",
                     share_that_rises(at_22h(lanthier(true, true, true, false), tea::fungi), at_22h(all, tea::fungi))));
  lines.push_back(not_compared("lanthier2013", "protein fed to the compost beforehand: more protozoa", "yes",
                               "feeding a compost before it is brewed is not modelled"));

  const PaperBrew plain(brew_of(50.0, {}, 20.0));
  const auto bacteria = plain.bacteria_per_ml({1.0, 24.0});
  lines.push_back(direction_line("kim2015", "bacteria stand above the start",
                                 share_that_rises(bacteria[0], bacteria[1]), "compost 50 g/L, no food, 20 degC, 24 h"));
  const auto x_b = plain.seen(tea::bacteria, {24.0})[0], x_f = plain.seen(tea::fungi, {24.0})[0];
  lines.push_back(
      direction_line("kim2015", "most of the life is bacteria", share_that_rises(x_f, x_b), "by mass, at 24 h"));
  lines.push_back(not_compared("kim2015", "pH and conductivity creep up", "yes", "neither is modelled over time"));

  // Oil cake at 1:100, taken as soybean meal 10 g/L; compost 1:50.
  const PaperBrew cake(brew_of(20.0, {{"soybean meal", 10.0}}, 20.0)),
      bare(brew_of(20.0, {{"soybean meal", none_g}}, 20.0));
  lines.push_back(direction_line("jang2015", "oil cake: more bacteria",
                                 share_that_rises(bare.bacteria_per_ml({24.0})[0], cake.bacteria_per_ml({24.0})[0]),
                                 "24 h"));
  lines.push_back(
      direction_line("jang2015", "oil cake: more nitrogen in the water",
                     share_that_rises(bare.seen(tea::nitrogen, {24.0})[0], cake.seen(tea::nitrogen, {24.0})[0]),
                     "mineral nitrogen at 24 h"));
  lines.push_back(range_line("jang2015", "hours of air that a brew needs", 24.0, 48.0, 0,
                             band_of(cake.bacteria_peak_h()), "hour of most bacteria, looked for until 96 h"));

  const PaperBrew worm(brew_of(50.0, {{"blackstrap molasses", none_g}}, 20.0, "worm")),
      fed(brew_of(50.0, {{"blackstrap molasses", 3.0}}, 20.0, "worm"));
  const auto rising = worm.bacteria_per_ml({1.0, 24.0});
  lines.push_back(direction_line("fritz2012", "counts rise while it brews", share_that_rises(rising[0], rising[1]),
                                 "worm compost 50 g/L, 24 h"));
  lines.push_back(direction_line("fritz2012", "counts rise with food",
                                 share_that_rises(rising[1], fed.bacteria_per_ml({24.0})[0]), "molasses 3 g/L"));
  lines.push_back(not_compared("fritz2012", "no effect on yield in the field", "yes",
                               "what a tea does for a crop is not modelled, and never promised"));
}

void add_analogues(std::vector<Line>& lines) {
  const PaperBrew fed(bucket());
  lines.push_back(number_line(
      "airoff_sbr_A", "oxygen drawn in the first minute after the air stopped, mg/(L h)",
      row_of("airoff_sbr_A", "OUR").number("value"), 1, band_of(fed.seen(tea::uptake, {20.0})[0]),
      "an analogue: the measured liquid is aerobic sludge, the predicted one the usual fed bucket at 20 h"));

  // Beaker of 1 L, 9.3 cm deep, 36 L/h of air. The room is not printed; a time constant does not depend on it much.
  Setup beaker = bucket();
  beaker.volume_l = 1.0;
  beaker.diameter_m = std::sqrt(4.0 * 1e-3 / (std::numbers::pi * 0.093));
  beaker.water_temperature_c = 22.17;
  beaker.room_temperature_c = 19.5;
  beaker.air_flow_l_per_h = 36.0;
  beaker.composts = {{.kind = **composts().find("mixed"), .mass_g = 0.01}};
  beaker.foods.clear();
  const auto cooling = PaperBrew(beaker).seen(tea::temperature, {0.0, 1.75, 3.5});
  std::vector<double> constants_h;
  for (std::size_t m = 0; m < cooling[0].size(); ++m)
    constants_h.push_back(1.75 / std::log((cooling[0][m] - cooling[1][m]) / (cooling[1][m] - cooling[2][m])));
  lines.push_back(number_line("cooling_sbr_A", "time constant of a cooling beaker, h",
                              row_of("cooling_sbr_A", "time constant").number("value"), 2, band_of(constants_h),
                              "1 L, smaller than any brew the model is meant for; room taken as 19.5 degC"));
  lines.push_back(not_compared("cooling_sbr_A", "water lost, cm/h", row_of("cooling_sbr_A", "depth loss").text("value"),
                               "water lost by evaporation cools the brew in the model but does not lessen it"));
}

std::string table(const std::vector<Line>& lines) {
  std::map<std::string, std::pair<std::string, std::string>> of_dataset;  // source, evidence
  for (const Row& row : published("validation_points.csv"))
    of_dataset[row.text("dataset_id")] = {row.text("source"), row.text("evidence")};
  std::string text =
      "| source | what | measured | predicted: middle (5 to 95 %) | verdict | read as | how compared "
      "|\n|---|---|---|---|---|---|---|\n";
  for (const Line& line : lines) {
    const auto& [source, evidence] = of_dataset.at(line.dataset);
    text += fmt::format("| {} | {} | {} | {} | {} | {} | {} |\n", source, line.what, line.measured, line.predicted,
                        said(line.verdict), evidence, line.note);
  }
  return text;
}

/// Datasets the priors were built on, or that belong to another room, with what became of them.
std::string others() {
  const std::vector<std::pair<const char*, const char*>> why = {
      {"duffy2004", "the growth of E. coli in tea was fitted to it"},
      {"list_milestones", "the lags were set from it"},
      {"sour_lasaridi2001", "the uptake of the compost in the bag was built on it"},
      {"kla_jar_2019", "the power law of small vessels was fitted to it"},
      {"kla_jar_2018_bad", "a failed test, kept to see it refused: tests/air"},
      {"alpha_surfactant", "the prior of alpha was built on it"},
      {"tetrahymena1968", "the growth of ciliates was set from it"},
      {"taylor1977", "the half-saturation of grazers was set from it"},
      {"flagellate1983", "the growth of flagellates was set from it"}};
  std::string text = "| source | rows | why it is no check |\n|---|---|---|\n";
  for (const auto& [dataset, reason] : why) {
    const auto rows = rows_of(dataset);
    text += fmt::format("| {} | {} | {} |\n", rows.at(0).text("source"), rows.size(), reason);
  }
  return text;
}

}  // namespace

std::string validation_page() {
  std::vector<Line> lines;
  add_counts(lines);
  add_ratios(lines);
  add_practice(lines);
  add_air(lines);
  add_growth(lines);
  add_directions(lines);
  add_analogues(lines);
  const auto count = [&](Verdict verdict) {
    return std::count_if(lines.begin(), lines.end(), [&](const Line& line) { return line.verdict == verdict; });
  };
  const auto numbers = count(Verdict::inside) + count(Verdict::outside),
             directions = count(Verdict::agrees) + count(Verdict::disagrees);
  return fmt::format(
      "# Prediction beside measurement\n\n"
      "Does the forecast tell what others measured? This page is printed by a program "
      "(`build/release/tests/brew/validation_report`), and a "
      "test fails when the two part. Nothing in the model was tuned to these rows; a miss is shown as a miss. Rows: "
      "[validation_points.csv](../tests/published/validation_points.csv); sources: [sources.md](sources.md).\n\n"
      "**At a glance:** of {} published numbers, {} lie within the 5 to 95 % band; of {} published directions, the "
      "model shares {}. {} more "
      "rows cannot be compared, with the reason. This is thin: most papers print no temperature, hours or recipe, so "
      "bands are wide, and no "
      "series of oxygen over time of a fed tea with its whole recipe was found. Agreement here makes the model "
      "plausible, not proved; "
      "your own readings say more.\n\n"
      "\"Read as\" says how far the source itself was seen. Members: {}, drawn from the priors.\n\n{}\n"
      "## Rows that the model was built on\n\nThey are no check, and are left out above.\n\n{}\n"
      "The traces of re-aeration tests and the fall of oxygen in sludge are checks of the re-aeration analyser, in "
      "tests/air.\n",
      numbers, count(Verdict::inside), directions, count(Verdict::agrees), count(Verdict::none), member_count,
      table(lines), others());
}

}  // namespace barm::test
