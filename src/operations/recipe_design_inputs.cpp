// Keys of a design file. Meanings: data/messages/operations_recipe.toml
#include "operations/recipe_design_inputs.h"

#include "operations/air_told.h"
#include "recipe/lines.h"

namespace barm::operations {
namespace {

using recipe::DesignAsk;
namespace lines = recipe::lines;

template <class Member>
auto ask(Member member) {
  return at(&DesignInput::ask, member);
}

void brew(Inputs<DesignInput>& inputs) {
  using recipe::Purpose;
  inputs.text("brew.name", ask(&DesignAsk::name), "Saturday beans");
  inputs.choice("brew.aim", ask(&DesignAsk::purpose),
                Choices<Purpose>{{"bacterial", Purpose::bacterial},
                                 {"fungal", Purpose::fungal},
                                 {"balanced", Purpose::balanced},
                                 {"extract", Purpose::extract}});
  inputs.quantity("brew.tolerance", ask(&DesignAsk::tolerance), Dimension::share, "0.9").least(0.5).most(0.99);
  inputs.quantity("brew.longest", ask(&DesignAsk::longest_h), Dimension::duration, "24 h")
      .least(3.0)
      .most(lines::length_usual_h);
  inputs.whole("brew.members", ask(&DesignAsk::members_count), "256").least(lines::members_least_count).most(4096);
  inputs.whole("brew.seed", ask(&DesignAsk::seed), "1").least(0.0);
}

void garden(Inputs<DesignInput>& inputs) {
  using season::Place;
  const auto customs = [](auto member) { return at(&DesignInput::ask, &DesignAsk::customs, member); };
  const auto place = [](auto member) { return at(&DesignInput::ask, &DesignAsk::place, member); };
  inputs
      .choice("garden.gallon", customs(&Customs::gallon),
              Choices<Gallon>{{"us", Gallon::us}, {"imperial", Gallon::imperial}})
      .early();
  inputs
      .choice("garden.measures", customs(&Customs::measures),
              Choices<Measures>{{"metric", Measures::metric}, {"us", Measures::us}})
      .early();
  inputs.customs(ask(&DesignAsk::customs));
  inputs.zone("garden.zone", at(&DesignInput::zone), "America/Bogota").required();
  inputs.quantity("garden.latitude", place(&Place::latitude_deg), Dimension::angle, "4.7")
      .required()
      .bare("degree")
      .least(-90.0)
      .most(90.0);
  inputs.quantity("garden.longitude", place(&Place::longitude_deg), Dimension::angle, "-74.1")
      .required()
      .bare("degree")
      .least(-180.0)
      .most(180.0);
  inputs.quantity("garden.altitude", ask(&DesignAsk::altitude_m), Dimension::length, "300 m")
      .least(lines::altitude_least_m)
      .most(lines::altitude_most_m);
}

void ground(Inputs<DesignInput>& inputs) {
  using recipe::TreatedBed;
  inputs.quantity("water.volume", ask(&DesignAsk::volume_l), Dimension::volume, "19 L")
      .least(lines::volume_least_l)
      .most(lines::volume_most_l);
  Inputs<TreatedBed> bed;
  bed.text("name", at(&TreatedBed::name), "beans");
  bed.quantity("area", at(&TreatedBed::area_m2), Dimension::area, "120 m2").required().above(0.0);
  inputs.rows("bed", ask(&DesignAsk::beds), bed);
  inputs.quantity("spread.rate", ask(&DesignAsk::rate_l_per_ha), Dimension::coverage, "4 L/100 m2")
      .least(1.0)
      .most(100'000.0);
  inputs.text("crop.group", at(&DesignInput::crop), "legumes");
  inputs.flag("crop.covered_produce", ask(&DesignAsk::crop_is_covered_produce));
}

void clock(Inputs<DesignInput>& inputs) {
  using recipe::UseHours;
  inputs.instant("time.start_from", ask(&DesignAsk::start_from_at), "2026-05-15T18:00:00-05:00").required();
  inputs.instant("time.start_until", at(&DesignInput::start_until_at), "2026-05-15T22:00:00-05:00")
      .marks([](DesignInput& in) { in.has_start_until = true; });
  inputs.instant("time.finish_from", at(&DesignInput::finish_from_at), "2026-05-16T06:00:00-05:00")
      .marks([](DesignInput& in) { in.has_finish_from = true; });
  inputs.instant("time.finish_until", at(&DesignInput::finish_until_at), "2026-05-16T18:00:00-05:00")
      .marks([](DesignInput& in) { in.has_finish_until = true; });
  inputs.choice(
      "time.spread", ask(&DesignAsk::use_hours),
      Choices<UseHours>{{"any", UseHours::any}, {"morning", UseHours::morning}, {"evening", UseHours::evening}});
}

void vessel(Inputs<DesignInput>& inputs) {
  using recipe::OwnedVessel;
  using water::Disinfectant;
  Inputs<OwnedVessel> one;
  one.text("name", at(&OwnedVessel::name), "white bucket");
  one.quantity("capacity", at(&OwnedVessel::capacity_l), Dimension::volume, "22 L").required().above(0.0);
  one.quantity("diameter", at(&OwnedVessel::diameter_m), Dimension::length, "28 cm")
      .required()
      .least(lines::diameter_least_m)
      .most(lines::diameter_most_m);
  inputs.rows("vessel", ask(&DesignAsk::vessels), one).required();
  inputs.quantity("water.temperature", ask(&DesignAsk::water_temperature_c), Dimension::temperature, "20 degC")
      .required()
      .least(lines::water_coldest_c)
      .most(lines::water_warmest_c);
  const auto known = [](DesignInput& in) { in.ask.disinfectant_is_known = true; };
  const auto disinfectant = [](auto member) { return at(&DesignInput::ask, &DesignAsk::disinfectant, member); };
  inputs
      .quantity("water.free_chlorine", disinfectant(&Disinfectant::free_chlorine_mg_per_l), Dimension::concentration,
                "0.5 mg/L")
      .least(0.0)
      .most(lines::disinfectant_most_mg_per_l)
      .marks(known);
  inputs
      .quantity("water.chloramine", disinfectant(&Disinfectant::chloramine_mg_per_l), Dimension::concentration,
                "0 mg/L")
      .least(0.0)
      .most(lines::disinfectant_most_mg_per_l)
      .marks(known);
  room_inputs(inputs, ask(&DesignAsk::room_temperature_c), [](DesignInput& in) -> RoomTold& { return in.room; });
  inputs.quantity("room.humidity", ask(&DesignAsk::room_humidity_share), Dimension::share, "0.5").least(0.0).most(1.0);
}

void supply(Inputs<DesignInput>& inputs) {
  using air::Supply;
  const auto air = [](auto member) { return at(&DesignInput::ask, &DesignAsk::air, member); };
  inputs.quantity("air.rated_flow", air(&Supply::rated_flow_l_per_h), Dimension::flow, "570 L/h")
      .required()
      .least(lines::flow_least_l_per_h)
      .most(lines::flow_most_l_per_h);
  inputs.quantity("air.maximum_pressure", air(&Supply::maximum_pressure_kpa), Dimension::pressure, "20 kPa")
      .least(lines::pump_pressure_least_kpa)
      .most(lines::pump_pressure_most_kpa);
  inputs.choice("air.diffuser", air(&Supply::diffuser), diffusers());
  inputs.quantity("air.tube_length", air(&Supply::tube_length_m), Dimension::length, "1.5 m").least(0.0).most(100.0);
  inputs.quantity("air.tube_bore", at(&DesignInput::tube_bore_m), Dimension::length, "4 mm").least(0.001).most(0.2);
  inputs.quantity("air.ageing", air(&Supply::ageing_share), Dimension::share, "0.9").least(0.1).most(1.0);
  inputs.quantity("air.measured_kla", ask(&DesignAsk::measured_kla20_per_h), Dimension::rate, "12 1/h")
      .least(lines::kla_least_per_h)
      .most(lines::kla_most_per_h);
  inputs.quantity("air.measured_kla_error", ask(&DesignAsk::measured_kla20_error_per_h), Dimension::rate, "0.5 1/h")
      .least(0.0);
}

void shelf(Inputs<DesignInput>& inputs) {
  using recipe::CompostLot;
  using recipe::Price;
  using recipe::ShelfFood;
  const auto lot = [](auto... members) { return at(&LotRow::lot, members...); };
  Inputs<LotRow> compost;
  compost.text("kind", lot(&CompostLot::kind), "bacterial").required();
  compost.quantity("stock", lot(&CompostLot::stock_g), Dimension::mass, "2 kg").required().above(0.0);
  compost.flag("bag", lot(&CompostLot::in_bag));
  compost.flag("animal_origin", at(&LotRow::is_animal_origin)).marks([](LotRow& row) { row.origin_is_told = true; });
  compost.quantity("price", lot(&CompostLot::price, &Price::paid), Dimension::number, "6.50").least(0.0);
  compost.quantity("price_for", at(&LotRow::price_for_g), Dimension::mass, "25 kg").above(0.0);
  inputs.rows("compost", at(&DesignInput::composts), compost).required();
  const auto food_at = [](auto... members) { return at(&FoodRow::food, members...); };
  Inputs<FoodRow> food;
  food.text("name", food_at(&ShelfFood::name), "kelp meal").required();
  food.amount("stock", food_at(&ShelfFood::stock), "1 kg").required().above(0.0);
  food.quantity("price", food_at(&ShelfFood::price, &Price::paid), Dimension::number, "8.90").least(0.0);
  food.amount("price_for", food_at(&ShelfFood::price, &Price::amount), "1 kg").above(0.0);
  inputs.rows("food", at(&DesignInput::foods), food);
}

void cost(Inputs<DesignInput>& inputs) {
  using recipe::Tariffs;
  const auto tariff = [](auto member) { return at(&DesignInput::ask, &DesignAsk::tariffs, member); };
  inputs.text("cost.currency", tariff(&Tariffs::currency), "EUR");
  inputs.quantity("cost.electricity_per_kwh", tariff(&Tariffs::electricity_per_kwh), Dimension::number, "0.30")
      .least(0.0);
  inputs.quantity("cost.pump_power", tariff(&Tariffs::pump_w), Dimension::power, "35 W").least(0.0);
  inputs.quantity("cost.water_per_m3", tariff(&Tariffs::water_per_m3), Dimension::number, "2").least(0.0);
  inputs.quantity("cost.labour", at(&DesignInput::labour_h), Dimension::duration, "45 min").least(0.0);
  inputs.quantity("cost.wage_per_h", tariff(&Tariffs::labour_per_h), Dimension::number, "12").least(0.0);
}

}  // namespace

Inputs<DesignInput> design_inputs() {
  Inputs<DesignInput> inputs;
  brew(inputs);
  garden(inputs);
  ground(inputs);
  clock(inputs);
  vessel(inputs);
  supply(inputs);
  shelf(inputs);
  cost(inputs);
  inputs.text("plan", at(&DesignInput::plan), "saturday.toml", Kind::file_written);
  return inputs;
}

}  // namespace barm::operations
