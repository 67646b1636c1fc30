// barm compost judge: whether a compost is finished and suitable for a tea, and what the tea may touch.
#include "compost/maturity.h"
#include "data/embedded.h"
#include "operations/count_told.h"
#include "operations/registry.h"
#include "operations/shipped.h"

namespace barm::operations {
namespace {

using compost::Character;
using compost::Evidence;
using compost::Grade;
using compost::MaturityAsk;
using compost::MaturityTold;
using compost::SignTold;
using compost::Smell;
using compost::Worth;

// Words of the rules' own facts.
enum class Animal : std::uint8_t { not_known, yes, no };
enum class Process : std::uint8_t { not_known, none, composted, validated };

struct In {
  MaturityAsk ask;
  double age_h = unset;
  Animal animal = Animal::not_known;
  Process process = Process::not_known;
};
struct Out {
  MaturityTold told;
  Animal animal;
  Process process;
  Smell smell;
};

const Choices<Worth> worths = {{"suitable", Worth::suitable},
                               {"with_care", Worth::with_care},
                               {"not_yet", Worth::not_yet},
                               {"not_known", Worth::not_known}};
const Choices<Grade> grades = {{"finished", Grade::finished}, {"maturing", Grade::maturing}, {"raw", Grade::raw}};
const Choices<Character> characters = {{"bacterial", Character::bacterial},
                                       {"balanced", Character::balanced},
                                       {"fungal", Character::fungal},
                                       {"not_known", Character::not_known}};
const Choices<Evidence> evidences = {
    {"none", Evidence::none}, {"made_from", Evidence::made_from}, {"counted", Evidence::counted}};
const Choices<Smell> smells = {{"not_told", Smell::not_told}, {"earthy", Smell::earthy}, {"none", Smell::none},
                               {"sweet", Smell::sweet},       {"sour", Smell::sour},     {"ammonia", Smell::ammonia},
                               {"rotten", Smell::rotten}};

template <class E>
std::string word_of(const Choices<E>& choices, E value) {
  for (const auto& [word, each] : choices)
    if (each == value) return word;
  throw BrokenPromise("a value outside its choices");
}

Answer<Out> answer(const In& in, const World&) {
  static const auto lines = compost::read_maturity(data::file("maturity.toml"));
  Findings findings;
  MaturityAsk ask = in.ask;
  ask.age_d = in.age_h / 24.0;
  auto told = findings.take(compost::judge_maturity(ask, lines, *shipped_knowledge().composts.find("mixed").value()));
  if (!told) return std::move(findings).refusal<Out>();
  return std::move(findings).answer(Out{std::move(*told), in.animal, in.process, in.ask.smell});
}

Remark headline(const Out& out) {
  return {"compost.maturity.headline." + word_of(worths, out.told.worth), "", {}};
}

/// Facts for the rules, with their clauses; the rules themselves decide with the water, the foods and the bed.
Remark touch(const Out& out) {
  const char* what = "not_known";
  if (out.animal == Animal::no) what = "not_animal";
  if (out.animal == Animal::yes && out.process == Process::none) what = "untreated";
  if (out.animal == Animal::yes && out.process == Process::composted) what = "composted";
  if (out.animal == Animal::yes && out.process == Process::validated) what = "validated";
  return {std::string("compost.maturity.touch.") + what, "", {}};
}

Remarks cautions(const Out&) {
  return {{"compost.maturity.caution.no_germs", "", {}}, {"compost.maturity.caution.dust", "", {}}};
}

std::string tell(const Out& out, const Voice& voice) {
  const auto digits = [](double value) { return write({value, Dimension::number}, {}, 3); };
  std::string text = voice.say(headline(out)) + "\n";
  for (const SignTold& sign : out.told.signs)
    text += "  " +
            voice.say("compost.maturity.sign." + sign.id,
                      {{"given", digits(sign.value)},
                       {"finished", digits(sign.finished)},
                       {"raw", digits(sign.raw)},
                       {"grade", voice.say("compost.maturity.grade." + word_of(grades, sign.grade))}}) +
            (sign.is_confirmed ? "" : " " + voice.say("compost.maturity.unconfirmed")) + "\n";
  if (out.smell == Smell::sour || out.smell == Smell::ammonia || out.smell == Smell::rotten)
    text += "  " + voice.say("compost.maturity.smell." + word_of(smells, out.smell)) + "\n";
  if (std::isfinite(out.told.uptake_mg_per_g_vs_h)) {
    std::map<std::string, Remark::Fact> facts{{"given", two_digits(out.told.uptake_mg_per_g_vs_h)},
                                              {"times", two_digits(out.told.uptake_over_usual)}};
    if (std::isfinite(out.told.load_mg_per_l_h)) facts.emplace("load", two_digits(out.told.load_mg_per_l_h));
    text += voice.say("compost.maturity.load", facts) + "\n";
  }
  if (out.told.character != Character::not_known)
    text += voice.say("compost.maturity.character." + word_of(characters, out.told.character),
                      {{"evidence", voice.say("compost.maturity.evidence." + word_of(evidences, out.told.evidence))}}) +
            "\n";
  text += voice.say(touch(out)) + "\n";
  for (const Remark& caution : cautions(out)) text += voice.say(caution) + "\n";
  return text;
}

Inputs<In> described() {
  Inputs<In> inputs;
  const auto number = [&](const char* name, double MaturityAsk::*member, const char* sample, double most) {
    inputs.quantity(name, at(&In::ask, member), Dimension::number, sample).least(0.0).most(most);
  };
  inputs.quantity("pile_temperature", at(&In::ask, &MaturityAsk::pile_c), Dimension::temperature, "26 degC");
  inputs.quantity("air_temperature", at(&In::ask, &MaturityAsk::air_c), Dimension::temperature, "18 degC");
  number("cn", &MaturityAsk::cn, "16", 500.0);
  number("respiration", &MaturityAsk::respiration_mg_per_g_d, "1.8", 100.0);
  inputs.quantity("respiration_at", at(&In::ask, &MaturityAsk::respiration_at_c), Dimension::temperature, "37 degC");
  number("uptake", &MaturityAsk::uptake_mg_per_g_h, "0.4", 60.0);
  inputs.quantity("germination", at(&In::ask, &MaturityAsk::germination_share), Dimension::share, "95 %")
      .least(0.0)
      .most(2.0);
  number("ammonium", &MaturityAsk::ammonium_mg_per_kg, "60", 50'000.0);
  number("nitrate", &MaturityAsk::nitrate_mg_per_kg, "300", 50'000.0);
  inputs.quantity("age", at(&In::age_h), Dimension::duration, "150 d").least(0.0);
  inputs.choice("smell", at(&In::ask, &MaturityAsk::smell), smells);
  inputs.quantity("moisture", at(&In::ask, &MaturityAsk::moisture_share), Dimension::share, "50 %")
      .least(0.0)
      .most(0.95);
  inputs.quantity("volatile_solids", at(&In::ask, &MaturityAsk::volatile_share), Dimension::share, "50 %")
      .least(0.01)
      .most(0.99);
  number("bacteria", &MaturityAsk::bacteria_ug_per_g, "1200", 1e6);
  number("fungi", &MaturityAsk::fungi_ug_per_g, "300", 1e6);
  inputs.quantity("woody", at(&In::ask, &MaturityAsk::woody_share), Dimension::share, "60 %").least(0.0).most(1.0);
  inputs.quantity("mass", at(&In::ask, &MaturityAsk::mass_g), Dimension::mass, "700 g").above(0.0);
  inputs.quantity("water", at(&In::ask, &MaturityAsk::water_l), Dimension::volume, "19 L").above(0.0);
  inputs.choice("animal_origin", at(&In::animal),
                Choices<Animal>{{"not_known", Animal::not_known}, {"yes", Animal::yes}, {"no", Animal::no}});
  inputs.choice("process", at(&In::process),
                Choices<Process>{{"not_known", Process::not_known},
                                 {"none", Process::none},
                                 {"composted", Process::composted},
                                 {"validated", Process::validated}});
  return inputs;
}

}  // namespace

Operation compost_judge() {
  Outputs<SignTold> sign;
  sign.text("id", at(&SignTold::id))
      .number("value", at(&SignTold::value), "")
      .number("finished", at(&SignTold::finished), "")
      .number("raw", at(&SignTold::raw), "")
      .choice("grade", at(&SignTold::grade), grades)
      .flag("is_confirmed", at(&SignTold::is_confirmed));
  Outputs<Out> outputs;
  outputs.told("headline", [](const Out& out, const Voice& voice) { return voice.say(headline(out)); })
      .choice("worth", at(&Out::told, &MaturityTold::worth), worths)
      .list("signs", at(&Out::told, &MaturityTold::signs), sign)
      .number("uptake_mg_per_g_vs_h", at(&Out::told, &MaturityTold::uptake_mg_per_g_vs_h), "mg/(g h)")
      .number("uptake_over_usual", at(&Out::told, &MaturityTold::uptake_over_usual), "")
      .number("load_mg_per_l_per_h", at(&Out::told, &MaturityTold::load_mg_per_l_h), "mg/L/h")
      .choice("character", at(&Out::told, &MaturityTold::character), characters)
      .choice("evidence", at(&Out::told, &MaturityTold::evidence), evidences)
      .number("fungi_to_bacteria", at(&Out::told, &MaturityTold::fungi_to_bacteria), "")
      .remarks("touch", [](const Out& out) { return Remarks{touch(out)}; })
      .remarks("cautions", cautions);
  return define<In, Out>(
      {.noun = "compost",
       .verb = "judge",
       .inputs = described(),
       .outputs = outputs,
       .answer = answer,
       .tell = tell,
       .examples = {{"compost judge --pile-temperature \"26 degC\" --air-temperature \"18 degC\" --cn 16 --respiration "
                     "1.8 --respiration-at \"37 degC\" --germination \"95 %\" --smell earthy --mass \"700 g\" --water "
                     "\"19 L\" --animal-origin yes --process composted"}}});
}

}  // namespace barm::operations
