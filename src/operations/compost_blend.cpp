// barm compost blend: what a mix of feedstocks is, what would mend it, and the best pile within limits.
#include "compost/blend.h"

#include "compost/feedstock.h"
#include "data/embedded.h"
#include "operations/registry.h"

namespace barm::operations {
namespace {

using compost::Blend;
using compost::BlendAim;
using compost::BlendAsk;
using compost::Material;
using compost::Mix;
using compost::MixLimits;

struct Row {
  std::string name;
  Amount amount{};
  double price_per_kg = 0.0;
  double moisture_share = unset, nitrogen_share = unset, cn = unset, bulk_density_kg_per_m3 = unset;
};
struct In {
  std::vector<Row> rows;
  BlendAsk ask;
  double mass_g = unset;
};
struct Part {
  std::string name;  // as the grower wrote it
  Material material;
  double given_kg = unset, used_kg = unset;
};
struct Out {
  Mix given;
  Remarks off, additions;
  Mix plan;
  std::vector<Part> parts;
  double water_kg = 0.0;
};

const compost::Feedstocks& known() {
  static const auto all = compost::Feedstocks::read(data::file("feedstocks.toml"));
  return all;
}

Material material_of(const compost::Feedstock& of) {
  return {.name = of.english,
          .spanish = of.spanish,
          .moisture_share = of.moisture_share.value,
          .nitrogen_share = of.nitrogen_share.value,
          .cn = of.cn.value,
          .bulk_density_kg_per_m3 = of.bulk_density_kg_per_m3.value,
          .is_animal_origin = of.is_animal_origin};
}

bool is_whole(const Material& of) {
  return std::isfinite(of.moisture_share + of.nitrogen_share + of.cn + of.bulk_density_kg_per_m3);
}

/// The row as a material: the table's figures, with the row's own over them.
std::optional<compost::OnHand> on_hand(const Row& row, const std::string& field, Findings& findings) {
  const auto found = findings.take(retarget(known().find(row.name), {{"name", field + ".name"}}));
  if (!found) return std::nullopt;
  compost::OnHand each{material_of(**found), unset};
  const auto own = [](double given, double& figure) { figure = std::isfinite(given) ? given : figure; };
  own(row.moisture_share, each.material.moisture_share);
  own(row.nitrogen_share, each.material.nitrogen_share);
  own(row.cn, each.material.cn);
  own(row.bulk_density_kg_per_m3, each.material.bulk_density_kg_per_m3);
  each.material.price_per_kg = row.price_per_kg;
  const auto needs = [&](double figure, const char* key) {
    if (std::isfinite(figure)) return;
    Remark needed{"compost.blend.figure_needed", field + "." + key, {}};
    name_in_both(each.material, "given", needed);
    findings.refuse(std::move(needed));
  };
  needs(each.material.moisture_share, "moisture");
  needs(each.material.nitrogen_share, "nitrogen");
  needs(each.material.cn, "cn");
  needs(each.material.bulk_density_kg_per_m3, "bulk_density");
  const Quantity measured = row.amount.measured;
  each.mass_kg = measured.dimension == Dimension::mass ? measured.value / 1000.0
                                                       : measured.value / 1000.0 * each.material.bulk_density_kg_per_m3;
  const auto& spread = (*found)->nitrogen_share;
  if (!std::isfinite(row.nitrogen_share) && spread.high > 1.5 * spread.low) {
    Remark disagree{
        "compost.blend.handbooks_disagree",
        field + ".nitrogen",
        {{"low", Quantity{spread.low, Dimension::share}}, {"high", Quantity{spread.high, Dimension::share}}}};
    name_in_both(each.material, "given", disagree);
    findings.doubt(std::move(disagree));
  }
  return each;
}

/// Single additions that would bring C:N or moisture of what is given back to the middle of its limits.
Remarks additions(const std::vector<Material>& materials, const std::vector<double>& mass_kg, const Mix& given,
                  const MixLimits& limits) {
  Remarks all;
  const auto say = [&](const Material& of, double kg, const char* code) {
    if (!std::isfinite(kg) || !(kg > 0.0)) return;
    Remark remark{code, "", {{"amount", Quantity{kg * 1000.0, Dimension::mass}}}};
    name_in_both(of, "material", remark);
    all.push_back(std::move(remark));
  };
  if (given.cn < limits.cn_least || given.cn > limits.cn_most) {
    const double aim = 0.5 * (limits.cn_least + limits.cn_most);
    for (const Material& of : materials) {
      say(of, compost::mass_for_cn_kg(materials, mass_kg, of, aim), "compost.blend.add_for_cn");
    }
  }
  const double wet = 0.5 * (limits.moisture_least_share + limits.moisture_most_share);
  if (given.moisture_share < limits.moisture_least_share) {
    const Material water = compost::water();
    say(water, compost::mass_for_moisture_kg(materials, mass_kg, water, wet), "compost.blend.add_water");
  } else if (given.moisture_share > limits.moisture_most_share) {
    for (const Material& of : materials) {
      say(of, compost::mass_for_moisture_kg(materials, mass_kg, of, wet), "compost.blend.add_for_moisture");
    }
  }
  return all;
}

Remarks unknown_names(const In& in, const World&) {
  Findings findings;
  for (std::size_t i = 0; i < in.rows.size(); ++i) {
    if (in.rows[i].name.empty()) continue;
    findings.take(retarget(known().find(in.rows[i].name), {{"name", "feedstock[" + std::to_string(i + 1) + "].name"}}));
  }
  return findings.refusals();
}

Answer<Out> answer(const In& in, const World&) {
  Findings findings;
  BlendAsk ask = in.ask;
  ask.mass_kg = in.mass_g / 1000.0;
  std::vector<Material> materials, others;
  std::vector<double> mass_kg;
  bool any_animal = false;
  for (std::size_t i = 0; i < in.rows.size(); ++i) {
    if (auto each = on_hand(in.rows[i], "feedstock[" + std::to_string(i + 1) + "]", findings)) {
      materials.push_back(each->material);
      mass_kg.push_back(each->mass_kg);
      any_animal = any_animal || each->material.is_animal_origin;
      ask.on_hand.push_back(std::move(*each));
    }
  }
  if (findings.refused()) return std::move(findings).refusal<Out>();
  for (const auto& each : known().all()) {
    if (Material of = material_of(each); is_whole(of)) others.push_back(std::move(of));
  }
  Out out;
  out.given = compost::mix_of(materials, mass_kg);
  out.off = compost::off_limits(out.given, ask.limits);
  out.additions = additions(materials, mass_kg, out.given, ask.limits);
  const auto best = findings.take(compost::blend(ask, others));
  if (!best) return std::move(findings).refusal<Out>();
  out.plan = best->mix;
  out.water_kg = best->water_kg;
  for (std::size_t i = 0; i < materials.size(); ++i)
    out.parts.push_back({in.rows[i].name, materials[i], mass_kg[i], best->mass_kg[i]});
  if (any_animal) findings.doubt({"compost.blend.animal_origin", "feedstock", {}});
  return std::move(findings).answer(std::move(out));
}

std::string tell_mix(const char* code, const Mix& mix, const Voice& voice) {
  return voice.say(code, {{"mass", Quantity{mix.mass_kg * 1000.0, Dimension::mass}},
                          {"cn", Quantity{mix.cn, Dimension::number}},
                          {"moisture", Quantity{mix.moisture_share, Dimension::share}},
                          {"density", Quantity{mix.bulk_density_kg_per_m3, Dimension::density}},
                          {"air", Quantity{mix.free_air_share, Dimension::share}}}) +
         "\n";
}

std::string tell(const Out& out, const Voice& voice) {
  std::string text = tell_mix("compost.blend.told.plan", out.plan, voice);
  const auto line = [&](const std::string& name, double kg) {
    if (kg > 1e-6) text += "  " + write({kg * 1000.0, Dimension::mass}, voice.customs) + " " + name + "\n";
  };
  const bool is_spanish = voice.language == cards::Language::spanish;
  for (const auto& part : out.parts) line(is_spanish ? part.material.spanish : part.material.name, part.used_kg);
  line(voice.say("compost.blend.told.water"), out.water_kg);
  text += tell_mix("compost.blend.told.given", out.given, voice);
  for (const auto& remark : out.off) text += "  " + voice.say(remark) + "\n";
  for (const auto& remark : out.additions) text += "  " + voice.say(remark) + "\n";
  return text + voice.say("compost.blend.caution") + "\n";
}

Outputs<Mix> mix_outputs() {
  Outputs<Mix> outputs;
  outputs.number("mass_kg", at(&Mix::mass_kg), "kg")
      .number("volume_m3", at(&Mix::volume_m3), "m3")
      .number("cn", at(&Mix::cn), "")
      .number("moisture_share", at(&Mix::moisture_share), Dimension::share)
      .number("bulk_density_kg_per_m3", at(&Mix::bulk_density_kg_per_m3), Dimension::density)
      .number("free_air_share", at(&Mix::free_air_share), Dimension::share)
      .number("free_air_settled_share", at(&Mix::free_air_settled_share), Dimension::share)
      .number("cost", at(&Mix::cost), "");
  return outputs;
}

void limit_inputs(Inputs<In>& inputs) {
  const auto limit = [&](const char* name, auto member, Dimension dimension, const char* sample, double most) {
    inputs.quantity(name, at(&In::ask, &BlendAsk::limits, member), dimension, sample).least(0.0).most(most);
  };
  limit("limits.cn_least", &MixLimits::cn_least, Dimension::number, "25", 1000.0);
  limit("limits.cn_most", &MixLimits::cn_most, Dimension::number, "40", 1000.0);
  limit("limits.moisture_least", &MixLimits::moisture_least_share, Dimension::share, "50 %", 1.0);
  limit("limits.moisture_most", &MixLimits::moisture_most_share, Dimension::share, "60 %", 1.0);
  limit("limits.bulk_density_most", &MixLimits::bulk_density_most_kg_per_m3, Dimension::density, "650 kg/m3", 2000.0);
  limit("limits.free_air_least", &MixLimits::free_air_least_share, Dimension::share, "35 %", 0.95);
}

}  // namespace

Operation compost_blend() {
  Inputs<In> inputs;
  inputs.choice("pile.aim", at(&In::ask, &BlendAsk::aim),
                Choices<BlendAim>{{"most_use", BlendAim::most_use}, {"least_cost", BlendAim::least_cost}});
  inputs.quantity("pile.mass", at(&In::mass_g), Dimension::mass, "500 kg").above(0.0);
  limit_inputs(inputs);
  Inputs<Row> row;
  row.text("name", at(&Row::name), "straw").required();
  row.amount("amount", at(&Row::amount), "200 kg").required().above(0.0);
  row.quantity("price_per_kg", at(&Row::price_per_kg), Dimension::number, "0.1").least(0.0);
  row.quantity("moisture", at(&Row::moisture_share), Dimension::share, "40 %").least(0.0).most(1.0);
  row.quantity("nitrogen", at(&Row::nitrogen_share), Dimension::share, "1.5 %").least(0.0).most(0.2);
  row.quantity("cn", at(&Row::cn), Dimension::number, "30").above(0.0).most(2000.0);
  row.quantity("bulk_density", at(&Row::bulk_density_kg_per_m3), Dimension::density, "300 kg/m3")
      .above(0.0)
      .most(2000.0);
  inputs.rows("feedstock", at(&In::rows), row).required();
  Outputs<Part> parts;
  parts.text("name", at(&Part::name))
      .number("given_kg", at(&Part::given_kg), "kg")
      .number("used_kg", at(&Part::used_kg), "kg");
  Outputs<Out> outputs;
  outputs.object("plan", at(&Out::plan), mix_outputs())
      .list("parts", at(&Out::parts), parts)
      .number("water_kg", at(&Out::water_kg), "kg")
      .object("given", at(&Out::given), mix_outputs())
      .remarks("off", at(&Out::off))
      .remarks("additions", at(&Out::additions));
  return define<In, Out>({.noun = "compost",
                          .verb = "blend",
                          .inputs = inputs,
                          .outputs = outputs,
                          .answer = answer,
                          .look_up = unknown_names,
                          .tell = tell,
                          .examples = {{"compost blend examples/elder_lane_pile.toml"}},
                          .takes_document = true});
}

}  // namespace barm::operations
