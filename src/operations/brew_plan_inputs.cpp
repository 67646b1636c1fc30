// Keys of a plan file. Meanings: data/messages/operations.toml; lines a plan is held to: recipe/lines.h
#include "operations/brew_plan_inputs.h"

#include "operations/air_told.h"
#include "recipe/lines.h"

namespace barm::operations {
namespace {

using recipe::Aim;
using recipe::PlanAsk;
using recipe::PlannedCompost;
using recipe::PlannedFood;
using recipe::Price;
namespace lines = recipe::lines;

void brew(Inputs<PlanInput>& inputs) {
  const Choices<Aim> aims = {{"bacterial", Aim::bacterial}, {"fungal", Aim::fungal}, {"balanced", Aim::balanced}};
  inputs.text("brew.name", at(&PlanInput::ask, &PlanAsk::name), "Friday bucket");
  inputs.instant("brew.start", at(&PlanInput::ask, &PlanAsk::start_at), "2026-05-02T18:00:00-05:00").required();
  inputs.choice("brew.aim", at(&PlanInput::ask, &PlanAsk::aim), aims);
  inputs.quantity("brew.length", at(&PlanInput::ask, &PlanAsk::length_h), Dimension::duration, "20 h")
      .least(lines::length_least_h)
      .most(lines::length_most_h);
  inputs.whole("brew.members", at(&PlanInput::ask, &PlanAsk::members_count), "256")
      .least(lines::members_least_count)
      .most(lines::members_most_count);
  inputs.whole("brew.seed", at(&PlanInput::ask, &PlanAsk::seed), "1").least(0.0);
}

void garden(Inputs<PlanInput>& inputs) {
  using season::Place;
  inputs
      .choice("garden.gallon", at(&PlanInput::ask, &PlanAsk::customs, &Customs::gallon),
              Choices<Gallon>{{"us", Gallon::us}, {"imperial", Gallon::imperial}})
      .early();
  inputs
      .choice("garden.measures", at(&PlanInput::ask, &PlanAsk::customs, &Customs::measures),
              Choices<Measures>{{"metric", Measures::metric}, {"us", Measures::us}})
      .early();
  inputs.customs(at(&PlanInput::ask, &PlanAsk::customs));
  inputs.zone("garden.zone", at(&PlanInput::zone), "America/Bogota").required();
  inputs
      .quantity("garden.latitude", at(&PlanInput::ask, &PlanAsk::place, &Place::latitude_deg), Dimension::angle, "4.7")
      .required()
      .bare("degree")
      .least(-90.0)
      .most(90.0);
  inputs
      .quantity("garden.longitude", at(&PlanInput::ask, &PlanAsk::place, &Place::longitude_deg), Dimension::angle,
                "-74.1")
      .required()
      .bare("degree")
      .least(-180.0)
      .most(180.0);
  inputs.quantity("garden.altitude", at(&PlanInput::ask, &PlanAsk::altitude_m), Dimension::length, "300 m")
      .least(lines::altitude_least_m)
      .most(lines::altitude_most_m);
}

void water(Inputs<PlanInput>& inputs) {
  using water::Disinfectant;
  const auto known = [](PlanInput& in) { in.ask.disinfectant_is_known = true; };
  inputs.quantity("water.volume", at(&PlanInput::ask, &PlanAsk::volume_l), Dimension::volume, "19 L")
      .required()
      .least(lines::volume_least_l)
      .most(lines::volume_most_l);
  inputs
      .quantity("water.temperature", at(&PlanInput::ask, &PlanAsk::water_temperature_c), Dimension::temperature,
                "20 degC")
      .required()
      .least(lines::water_coldest_c)
      .most(lines::water_warmest_c);
  inputs
      .quantity("water.free_chlorine",
                at(&PlanInput::ask, &PlanAsk::disinfectant, &Disinfectant::free_chlorine_mg_per_l),
                Dimension::concentration, "0.5 mg/L")
      .least(0.0)
      .most(lines::disinfectant_most_mg_per_l)
      .marks(known);
  inputs
      .quantity("water.chloramine", at(&PlanInput::ask, &PlanAsk::disinfectant, &Disinfectant::chloramine_mg_per_l),
                Dimension::concentration, "0 mg/L")
      .least(0.0)
      .most(lines::disinfectant_most_mg_per_l)
      .marks(known);
  inputs.quantity("vessel.diameter", at(&PlanInput::ask, &PlanAsk::vessel_diameter_m), Dimension::length, "28 cm")
      .required()
      .least(lines::diameter_least_m)
      .most(lines::diameter_most_m);
}

void supply(Inputs<PlanInput>& inputs) {
  using air::Supply;
  inputs
      .quantity("air.rated_flow", at(&PlanInput::ask, &PlanAsk::air, &Supply::rated_flow_l_per_h), Dimension::flow,
                "570 L/h")
      .required()
      .least(lines::flow_least_l_per_h)
      .most(lines::flow_most_l_per_h);
  inputs
      .quantity("air.maximum_pressure", at(&PlanInput::ask, &PlanAsk::air, &Supply::maximum_pressure_kpa),
                Dimension::pressure, "20 kPa")
      .least(lines::pump_pressure_least_kpa)
      .most(lines::pump_pressure_most_kpa);
  inputs.choice("air.diffuser", at(&PlanInput::ask, &PlanAsk::air, &Supply::diffuser), diffusers());
  inputs
      .quantity("air.tube_length", at(&PlanInput::ask, &PlanAsk::air, &Supply::tube_length_m), Dimension::length,
                "1.5 m")
      .least(0.0)
      .most(100.0);
  inputs.quantity("air.tube_bore", at(&PlanInput::tube_bore_m), Dimension::length, "4 mm").least(0.001).most(0.2);
  inputs.quantity("air.ageing", at(&PlanInput::ask, &PlanAsk::air, &Supply::ageing_share), Dimension::share, "0.9")
      .least(0.1)
      .most(1.0);
  inputs.quantity("air.measured_kla", at(&PlanInput::ask, &PlanAsk::measured_kla20_per_h), Dimension::rate, "12 1/h")
      .least(lines::kla_least_per_h)
      .most(lines::kla_most_per_h);
  inputs
      .quantity("air.measured_kla_error", at(&PlanInput::ask, &PlanAsk::measured_kla20_error_per_h), Dimension::rate,
                "0.5 1/h")
      .least(0.0);
}

void rest(Inputs<PlanInput>& inputs) {
  room_inputs(inputs, at(&PlanInput::ask, &PlanAsk::room_temperature_c),
              [](PlanInput& in) -> RoomTold& { return in.room; });
  inputs.quantity("room.humidity", at(&PlanInput::ask, &PlanAsk::room_humidity_share), Dimension::share, "0.5")
      .least(0.0)
      .most(1.0);
  using compost::LotMeasured;
  Inputs<PlannedCompost> compost;
  compost.text("kind", at(&PlannedCompost::kind), "bacterial").required();
  compost.quantity("mass", at(&PlannedCompost::mass_g), Dimension::mass, "700 g").required().above(0.0);
  compost.flag("bag", at(&PlannedCompost::in_bag));
  compost.quantity("moisture", at(&PlannedCompost::measured, &LotMeasured::moisture_share), Dimension::share, "55 %")
      .least(0.0)
      .most(lines::compost_wettest_share);
  compost
      .quantity("uptake", at(&PlannedCompost::measured, &LotMeasured::uptake_mg_per_g_vs_h), Dimension::number, "0.4")
      .least(0.0)
      .most(lines::compost_uptake_most_mg_per_g_h);
  compost.quantity("bacteria", at(&PlannedCompost::measured, &LotMeasured::bacteria_per_g), Dimension::number, "4e9")
      .least(1.0)
      .most(lines::compost_bacteria_most_per_g);
  compost
      .quantity("bacteria_error", at(&PlannedCompost::measured, &LotMeasured::bacteria_ln_error), Dimension::number,
                "0.2")
      .least(0.0)
      .most(lines::compost_bacteria_error_most);
  compost.quantity("price", at(&PlannedCompost::price, &Price::paid), Dimension::number, "6.50").least(0.0);
  compost
      .quantity("price_for", at(&PlannedCompost::price, &Price::amount, &Amount::measured, &Quantity::value),
                Dimension::mass, "25 kg")
      .above(0.0);
  inputs.rows("compost", at(&PlanInput::ask, &PlanAsk::composts), compost).required();
  Inputs<PlannedFood> food;
  food.text("name", at(&PlannedFood::name), "kelp meal").required();
  food.amount("amount", at(&PlannedFood::amount), "4 tsp").required().above(0.0);
  food.quantity("price", at(&PlannedFood::price, &Price::paid), Dimension::number, "8.90").least(0.0);
  food.amount("price_for", at(&PlannedFood::price, &Price::amount), "1 kg").above(0.0);
  inputs.rows("food", at(&PlanInput::ask, &PlanAsk::foods), food);
  inputs.text("rule.sets", at(&PlanInput::rules, &RuleChoice::rules), "us_produce");
  fact_inputs(
      inputs, "rule.",
      {"animal_origin", "process", "water_source", "water_e_coli", "recontaminated", "contact_during", "contact_after"},
      [](PlanInput& in) -> RuleFacts& { return in.facts; });
}

void cost(Inputs<PlanInput>& inputs) {
  using recipe::Tariffs;
  const auto tariff = [](auto member) { return at(&PlanInput::tariffs, member); };
  inputs.text("cost.currency", tariff(&Tariffs::currency), "EUR");
  inputs.quantity("cost.electricity_per_kwh", tariff(&Tariffs::electricity_per_kwh), Dimension::number, "0.30")
      .least(0.0);
  inputs.quantity("cost.pump_power", tariff(&Tariffs::pump_w), Dimension::power, "35 W").least(0.0);
  inputs.quantity("cost.water_per_m3", tariff(&Tariffs::water_per_m3), Dimension::number, "2").least(0.0);
  inputs.quantity("cost.labour", at(&PlanInput::labour_h), Dimension::duration, "45 min").least(0.0);
  inputs.quantity("cost.wage_per_h", tariff(&Tariffs::labour_per_h), Dimension::number, "12").least(0.0);
  inputs.quantity("spread.rate", at(&PlanInput::rate_l_per_ha), Dimension::coverage, "4 L/100 m2")
      .least(1.0)
      .most(100'000.0);
}

}  // namespace

recipe::PlanAsk ask_of(const PlanInput& in, Findings& findings) {
  PlanAsk ask = in.ask;
  ask.air.tube_bore_mm = in.tube_bore_m * mm_per_m;
  ask.room_day = read_room_day(in.room, ask.room_temperature_c, in.zone, ask.start_at, findings);
  return ask;
}

Inputs<PlanInput> brew_inputs() {
  Inputs<PlanInput> inputs;
  brew(inputs);
  garden(inputs);
  water(inputs);
  supply(inputs);
  rest(inputs);
  cost(inputs);
  return inputs;
}

Inputs<PlanInput> forecast_inputs() {
  Inputs<PlanInput> inputs = brew_inputs();
  inputs.text("readings", at(&PlanInput::readings), "readings.csv", Kind::file_read);
  return inputs;
}

Inputs<PlanInput> plan_inputs() {
  Inputs<PlanInput> inputs = forecast_inputs();
  inputs.text("card", at(&PlanInput::card), "card.pdf", Kind::file_written);
  return inputs;
}

}  // namespace barm::operations
