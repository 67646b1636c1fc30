#include "cards/example_plan.h"

#include <algorithm>
#include <cmath>
#include <string>

#include "data/embedded.h"

namespace barm::test {
namespace {

constexpr std::int64_t start_at = 1'777'687'200'000;  // 2026-05-02T02:00:00Z, Friday 21:00 at UTC-5
constexpr std::int64_t hour_ms = 3'600'000;

// A dip centred on `at_h`, from `high` down to `low`.
double dip(double h, double at_h, double width_h, double high, double low) {
  const double x = (h - at_h) / width_h;
  return high - (high - low) * std::exp(-x * x);
}

brew::Forecast forecast() {
  brew::Forecast f;
  for (double h = 0.0; h <= 36.0; h += 0.5) {
    f.time_h.push_back(h);
    const double full = 9.0 + 0.35 * (1.0 - std::exp(-h / 4.0));
    f.saturation_mg_per_l.push_back(full);
    const double start = 0.95 * full;
    f.oxygen_mg_per_l.p95.push_back(dip(h, 24.0, 9.0, start, 6.3));
    f.oxygen_mg_per_l.p75.push_back(dip(h, 23.0, 8.5, start - 0.1, 4.4));
    f.oxygen_mg_per_l.p50.push_back(dip(h, 22.0, 8.0, start - 0.2, 3.0));
    f.oxygen_mg_per_l.p25.push_back(dip(h, 21.5, 8.5, start - 0.3, 1.4));
    f.oxygen_mg_per_l.p05.push_back(dip(h, 21.0, 9.0, start - 0.4, 0.5));
    const double grown = 1e7 * std::exp(5.3 / (1.0 + std::exp(-(h - 13.0) / 3.0)));
    f.bacteria_per_ml.p05.push_back(grown * 0.4);
    f.bacteria_per_ml.p50.push_back(grown);
    f.bacteria_per_ml.p95.push_back(grown * 2.6);
    f.protozoa_per_ml.p05.push_back(300.0 + 20.0 * h);
    f.protozoa_per_ml.p95.push_back(4000.0 + 600.0 * h);
    f.fungi_ug_per_ml.p05.push_back(0.6);
    f.fungi_ug_per_ml.p95.push_back(19.0);
  }
  f.probability_oxygen_stays_above_6 = 0.09;
  f.probability_oxygen_below_2 = 0.34;
  f.oxygen_minimum_mg_per_l = {0.5, 1.4, 3.0, 4.4, 6.3};
  f.oxygen_minimum_at_h = {17.0, 20.0, 22.0, 23.5, 26.0};
  f.low_hour_h = 22.0;
  f.minutes_to_2_after_air_off = {4.0, 6.0, 9.0, 13.0, 21.0};
  f.ready = {true, 15.5, 20.0, "example.ready.life", "example.ready.oxygen"};
  f.members_count = 256;
  return f;
}

recipe::AmountLine amount(const char* id, const char* english, const char* spanish, const char* kitchen,
                          const char* beside, double error_share) {
  recipe::AmountLine line;
  line.id = id;
  line.english = english;
  line.spanish = spanish;
  line.amount.text = kitchen;
  line.amount.beside = beside;
  line.amount.error_share = error_share;
  return line;
}

Quantity hours(double h) {
  return {h, Dimension::duration};
}

constexpr const char* words = R"toml(
["example.headline"]
kind = "headline"
en = "Likely to go flat about seven on Saturday evening: 34 of 100 brews like this would."
es = "Es probable que se quede sin oxígeno hacia las siete del sábado en la noche: les pasaría a 34 de cada 100 tés como este."
["example.warning.oxygen"]
kind = "warning"
en = "91 of 100 brews like this drop under 6 mg/L, because {food} feeds more life than the air can carry."
es = "91 de cada 100 tés como este bajan de 6 mg/L: {food} alimenta más vida de la que el aire sostiene."
next_en = "Use less of it, or move more air."
next_es = "Eche menos, o mueva más aire."
["example.warning.length"]
kind = "warning"
en = "The ready window closes as the air goes off, so there is no time in hand."
es = "La ventana se cierra justo cuando se corta el aire, así que no queda margen."
["recipe.mend.less_food"]
kind = "mend"
en = "Halve the molasses, from {from} to {to}."
es = "Ponga la mitad de melaza: de {from} a {to}."
["recipe.mend.more_air"]
kind = "mend"
en = "Move more air, from {from} to {to}."
es = "Mueva más aire: de {from} a {to}."
["example.ready.life"]
kind = "note"
en = "It opens once the bacteria have grown a hundredfold."
es = "Se abre cuando las bacterias se han multiplicado por cien."
["example.ready.oxygen"]
kind = "note"
en = "It closes because you planned to stop the air then."
es = "Se cierra porque usted pensaba cortar el aire a esa hora."
["example.step.clear"]
kind = "step"
en = "Stir the vitamin C into the tap water."
es = "Disuelva la vitamina C en el agua de la llave."
["example.step.test_strip"]
kind = "step"
en = "Dip a test strip: no chlorine should show."
es = "Meta una tira reactiva: no debe marcar cloro."
["example.step.fill"]
kind = "step"
en = "Fill the bucket with {volume}, out of the sun."
es = "Llene el balde con {volume}, a la sombra."
["example.step.hang_stone"]
kind = "step"
en = "Hang the stone just clear of the bottom."
es = "Cuelgue la piedra casi al ras del fondo."
["example.step.fish_stands"]
kind = "step"
en = "Stir the fish hydrolysate into a cup of the water and let it stand until {until_clock}."
es = "Revuelva el hidrolizado de pescado en una taza del agua y déjelo reposar hasta {until_clock}."
["example.step.dissolve"]
kind = "step"
en = "Dissolve the molasses in warm water."
es = "Disuelva la melaza en agua tibia."
["example.step.make_paste"]
kind = "step"
en = "Wet the kelp meal to a paste, so that it does not clump."
es = "Humedezca la harina de alga hasta hacer una pasta, para que no se apelmace."
["example.note.indicative"]
kind = "note"
en = "Fungal figures are indicative."
es = "Las cifras de hongos son indicativas."

["example.step.air_on"]
kind = "step"
en = "Start the air and look for a rolling boil of bubbles over the whole surface."
es = "Prenda el aire y vea que burbujee parejo en toda la superficie."
["example.step.bag_in"]
kind = "step"
en = "Hang the compost bag clear of the bottom."
es = "Cuelgue la bolsa de composta sin que toque el fondo."
["example.step.food"]
kind = "step"
en = "Pour the foods in, one after another."
es = "Vaya echando los alimentos, uno tras otro."
["example.step.first_look"]
kind = "step"
en = "Look: foam is welcome, a bag on the bottom is not."
es = "Revise: la espuma está bien; la bolsa en el fondo, no."
["example.step.earliest_look"]
kind = "step"
en = "Smell it: from here on it may be used. Sour or rotten: do not use it."
es = "Huélalo: desde ahora se puede usar. Si huele agrio o podrido, no lo use."
["example.step.reading"]
kind = "step"
en = "Read the oxygen if you have a meter. Under 4 mg/L: use it now."
es = "Mida el oxígeno si tiene medidor. Menos de 4 mg/L: úselo ya."
["example.step.bag_out"]
kind = "step"
en = "Lift the bag out and let it drip."
es = "Saque la bolsa y deje que escurra."
["example.step.use_at_once"]
kind = "step"
en = "Stop the air and use the tea at once: it goes flat within {flat_after}."
es = "Corte el aire y use el té enseguida: se queda sin oxígeno en {flat_after}."
["example.step.clean"]
kind = "step"
en = "Wash bucket, bag, tube and stone before anything dries on them."
es = "Lave el balde, la bolsa, la manguera y la piedra antes de que se les seque nada."
["example.caution.electricity"]
kind = "caution"
en = "Keep the plug dry, and use an outlet that trips on a fault to earth."
es = "Mantenga seco el enchufe y use un tomacorriente con protección de falla a tierra."
["example.caution.pump"]
kind = "caution"
en = "Set the pump above the water line, or water may run back into it."
es = "Ponga la bomba más alta que el agua, o el agua puede devolverse."
["example.caution.manure"]
kind = "caution"
en = "Never brew raw manure."
es = "Nunca prepare té con estiércol crudo."
["example.caution.food_contact"]
kind = "caution"
en = "Keep it off anything eaten raw, unless your local rules and a laboratory test allow it."
es = "Que no toque lo que se come crudo, salvo que las normas de su región y un análisis lo permitan."
["example.caution.mist"]
kind = "caution"
en = "Do not breathe the spray: wear a mask and glasses."
es = "No respire el rocío: póngase mascarilla y lentes."
["example.caution.weak"]
kind = "caution"
en = "People with weak defences should not brew or spray."
es = "Quien esté bajo de defensas no debe preparar ni rociar."
["example.caution.hands"]
kind = "caution"
en = "Wear gloves over cuts, and wash your hands after."
es = "Use guantes si tiene heridas y lávese las manos después."
["example.caution.closed"]
kind = "caution"
en = "Never close a vessel with live tea in it: gas builds up."
es = "No tape nunca un recipiente con té vivo: se llena de gas."
["example.caution.disinfectant"]
kind = "caution"
en = "Never mix cleaning agents with one another."
es = "Nunca mezcle productos de limpieza entre sí."
["example.caution.fish"]
kind = "caution"
en = "Fish products can set off allergies."
es = "Los productos de pescado pueden causar alergias."
["example.caution.lifting"]
kind = "caution"
en = "The full bucket weighs {given}: lift it with somebody."
es = "El balde lleno pesa {given}: levántelo entre dos."
["example.caution.rules"]
kind = "caution"
en = "Local rules and the label come first."
es = "Primero están las normas locales y la etiqueta."
["example.note.evidence"]
kind = "note"
en = "Well measured in clean water; works within minutes."
es = "Bien medido en agua limpia; actúa en minutos."
)toml";

}  // namespace

recipe::BrewPlan example_plan() {
  recipe::BrewPlan plan;
  plan.ask.name = "North row bucket";
  plan.ask.start_at = start_at;
  plan.ask.length_h = 20.0;
  plan.ask.volume_l = 19.0;
  plan.ask.disinfectant = {1.2, 0.0};
  plan.ask.disinfectant_is_known = true;
  plan.verdict = recipe::Verdict::fails;
  plan.headline = {"example.headline", {}, {}};
  plan.warnings = {{"example.warning.oxygen", {}, {{"food", "50 mL of blackstrap molasses"}}},
                   {"example.warning.length", {}, {}}};
  plan.mends = {{"recipe.mend.less_food", {{"from", "50 mL"}, {"to", "25 mL"}}, 0.62, 0.04, true},
                {"recipe.mend.more_air", {{"from", "1300 L/h"}, {"to", "2000 L/h"}}, 0.31, 0.11, false}};
  plan.amounts = {
      amount("water", "water", "agua", "19 L", "19 L", 0.0),
      amount("compost.fungal", "fungal compost, in the bag", "composta fúngica, en la bolsa", "700 g", "700 g", 0.0),
      amount("food.blackstrap_molasses", "blackstrap molasses", "melaza", "3 1/4 tbsp", "48 mL", -0.04),
      amount("food.kelp_meal", "kelp meal", "harina de alga", "4 tsp", "8.2 g", 0.02),
      amount("food.fish_hydrolysate", "fish hydrolysate", "hidrolizado de pescado", "1 tbsp", "15 mL", 0.0)};
  plan.clearing = {
      {water::ClearingMethod::ascorbic_acid, true, 0.06, 0.05, 0.25, unset, {{"example.note.evidence", {}, {}}}},
      {water::ClearingMethod::bubble, true, 0.0, 2.0, 31.0, 1.5, {}},
      {water::ClearingMethod::stand, true, 0.0, 12.0, 70.0, 24.0, {}},
      {water::ClearingMethod::humic_acid, false, 4.0, unset, unset, unset, {}}};
  plan.air = {1300.0, 940.0, 1450.0, 1.14, 9.5, 2.9, 3.1, 3.5};
  plan.kla.kla20_per_h = 28.0;
  plan.uptake_peak_mg_per_l_per_h = 104.0;
  plan.supply_at_6_mg_per_l_per_h = 61.0;
  plan.forecast = forecast();
  const auto step = [&](const char* name, double at_h, std::map<std::string, Remark::Fact> facts = {},
                        double until_h = unset) {
    plan.steps.push_back({std::string("example.step.") + name, at_h, until_h, std::move(facts)});
  };
  step("clear", -1.5, {}, -1.25);
  step("test_strip", -1.25);
  step("fill", -1.0, {{"volume", Quantity{19.0, Dimension::volume}}});
  step("hang_stone", -0.75);
  step("fish_stands", -0.4, {}, -0.1);
  step("dissolve", -0.2);
  step("make_paste", -0.2);
  step("air_on", 0.0);
  step("bag_in", 0.0);
  step("food", 0.0);
  step("first_look", 2.0);
  step("earliest_look", 15.5, {}, 20.0);
  step("reading", 18.0);
  step("bag_out", 20.0);
  step("use_at_once", 20.0, {{"flat_after", hours(4.0 / 60.0)}});
  step("clean", 20.5);
  plan.nights = {{start_at, start_at + 8 * hour_ms}, {start_at + 21 * hour_ms, start_at + 33 * hour_ms}};
  for (const char* name : {"electricity", "pump", "manure", "food_contact", "mist", "weak", "hands", "closed",
                           "disinfectant", "fish", "lifting", "rules"}) {
    plan.cautions.push_back(
        {std::string("example.caution.") + name, {}, {{"given", Quantity{19000.0, Dimension::mass}}}});
  }
  plan.sources = {"S01", "S14", "S15", "S25", "M10", "M12", "memory", "practice", "judged"};
  plan.notes = {{"example.note.indicative", {}, {}}};
  return plan;
}

recipe::BrewPlan crowded_plan() {
  recipe::BrewPlan plan = example_plan();
  plan.ask.name = "The long bed behind the tool shed, second bucket from the left, for the school's open day";
  const recipe::BrewPlan short_plan = plan;
  for (int i = 0; i < 12; ++i)
    plan.amounts.push_back(amount("food.long", "cold-pressed unsulphured something with a long name",
                                  "hidrolizado enzimático de subproductos desodorizados", "1 1/4 cups + 2 1/2 tsp",
                                  "312 mL", i % 2 == 0 ? 0.03 : -0.03));
  for (int i = 0; i < 11; ++i) {
    recipe::Step step = short_plan.steps[static_cast<std::size_t>(i) % short_plan.steps.size()];
    step.at_h = 1.0 + 1.7 * i;
    plan.steps.push_back(step);
  }
  for (int i = 0; i < 2; ++i) plan.cautions.push_back(short_plan.cautions[static_cast<std::size_t>(i)]);
  for (int i = 0; i < 4; ++i) plan.warnings.push_back(short_plan.warnings[static_cast<std::size_t>(i) % 2]);
  plan.mends.push_back(plan.mends.front());
  std::stable_sort(plan.steps.begin(), plan.steps.end(), [](const auto& a, const auto& b) { return a.at_h < b.at_h; });
  return plan;
}

recipe::BrewPlan blank_plan() {
  recipe::BrewPlan plan;
  plan.ask.start_at = start_at;
  plan.ask.length_h = unset;
  plan.ask.volume_l = unset;
  plan.headline = {"example.headline", {}, {}};
  recipe::AmountLine line = amount("water", "water", "agua", "unknown", "", unset);
  plan.amounts = {line};
  plan.steps = {{"example.step.air_on", unset, unset, {}}};
  plan.mends = {{"recipe.mend.less_food", {{"from", hours(unset)}, {"to", "25 mL"}}, unset, unset, false}};
  plan.clearing = {{water::ClearingMethod::stand, true, 0.0, unset, unset, unset, {}}};
  return plan;
}

cards::Catalogue example_catalogue() {
  return cards::Catalogue::read({std::string(data::file("messages/cards.toml")), words});
}

cards::CardOptions example_options(cards::Language language) {
  cards::CardOptions options;
  options.zone = "America/Bogota";
  options.language = language;
  return options;
}

}  // namespace barm::test
