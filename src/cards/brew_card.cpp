#include "cards/brew_card.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <string_view>

#include "cards/columns.h"

namespace barm::cards {
namespace {

std::string joined(const std::vector<std::string>& parts, std::string_view between) {
  std::string text;
  for (const std::string& part : parts) {
    if (part.empty()) continue;
    if (!text.empty()) text += between;
    text += part;
  }
  return text;
}

std::string_view aim_key(recipe::Aim aim) {
  switch (aim) {
    case recipe::Aim::bacterial:
      return "aim.bacterial";
    case recipe::Aim::fungal:
      return "aim.fungal";
    case recipe::Aim::balanced:
      return "aim.balanced";
  }
  return "unknown";
}

std::string_view method_key(water::ClearingMethod method) {
  switch (method) {
    case water::ClearingMethod::stand:
      return "method.stand";
    case water::ClearingMethod::bubble:
      return "method.bubble";
    case water::ClearingMethod::carbon_filter:
      return "method.carbon_filter";
    case water::ClearingMethod::ascorbic_acid:
      return "method.ascorbic_acid";
    case water::ClearingMethod::sodium_ascorbate:
      return "method.sodium_ascorbate";
    case water::ClearingMethod::sodium_thiosulfate:
      return "method.sodium_thiosulfate";
    case water::ClearingMethod::humic_acid:
      return "method.humic_acid";
  }
  return "unknown";
}

std::vector<Said> warnings(const Remarks& remarks, const Voice& voice) {
  std::vector<Said> said;
  for (const Remark& remark : remarks) said.push_back({voice.say(remark), voice.next(remark)});
  return said;
}

std::string mend(const recipe::Mend& mend, const Voice& voice) {
  const bool was_tried = std::isfinite(mend.probability_oxygen_below_2);
  if (!was_tried) return voice.say({mend.code, {}, mend.facts});
  const std::string outcome = voice.label("mend.outcome", {{"above", voice.odds(mend.probability_oxygen_stays_above_6)},
                                                           {"below", voice.odds(mend.probability_oxygen_below_2)}});
  const std::string verdict = voice.label(mend.mends ? "mend.enough" : "mend.not_enough");
  return joined({voice.say({mend.code, {}, mend.facts}), outcome, verdict}, " ");
}

std::string lowest(const brew::Forecast& forecast, const Voice& voice) {
  const brew::Spread& least = forecast.oxygen_minimum_mg_per_l;
  const double at_h = forecast.low_hour_h;
  if (!std::isfinite(least.p05) || !std::isfinite(least.p50) || !std::isfinite(least.p95) || !std::isfinite(at_h))
    return voice.label("picture.lowest_unknown");
  return voice.label("picture.lowest", {{"at", voice.clock(at_h)},
                                        {"hours", voice.from_start(at_h)},
                                        {"middle", voice.amount(least.p50, Dimension::concentration)},
                                        {"low", voice.amount(least.p05, Dimension::concentration)},
                                        {"high", voice.amount(least.p95, Dimension::concentration)}});
}

std::string odds(const brew::Forecast& forecast, const Voice& voice) {
  if (!std::isfinite(forecast.probability_oxygen_below_2)) return voice.label("picture.odds_unknown");
  return voice.label("picture.odds", {{"below", voice.odds(forecast.probability_oxygen_below_2)},
                                      {"above", voice.odds(forecast.probability_oxygen_stays_above_6)}});
}

std::string ready(const brew::Forecast& forecast, const Voice& voice) {
  const brew::ReadyWindow& window = forecast.ready;
  if (forecast.time_h.empty()) return voice.label("picture.ready_unknown");
  if (!window.exists) {
    const Remark why{window.why_from, {}, {}};
    const bool has_reason = !window.why_from.empty() && voice.knows(window.why_from);
    return joined({voice.label("picture.never_ready"), has_reason ? voice.say(why) : std::string()}, " ");
  }
  std::vector<std::string> parts = {voice.label("picture.ready_when", {{"from", voice.clock(window.from_h)},
                                                                       {"to", voice.clock(window.to_h)},
                                                                       {"from_hours", voice.from_start(window.from_h)},
                                                                       {"to_hours", voice.from_start(window.to_h)}})};
  for (const std::string& why : {window.why_from, window.why_to})
    if (!why.empty() && voice.knows(why)) parts.push_back(voice.say({why, {}, {}}));
  return joined(parts, " ");
}

std::string air_stops(const brew::Spread& minutes, const Voice& voice) {
  if (!std::isfinite(minutes.p05) || !std::isfinite(minutes.p95)) return voice.label("picture.air_stops_unknown");
  constexpr double minutes_per_h = 60.0;
  return voice.label("picture.air_stops", {{"low", voice.lasting(minutes.p05 / minutes_per_h)},
                                           {"high", voice.lasting(minutes.p95 / minutes_per_h)}});
}

// Every sixth hour of the clock, and the hour the oxygen is lowest.
std::vector<TableRow> table(const NightPicture& picture, double lowest_at_h, const Voice& voice) {
  std::vector<double> moments;
  for (const ClockMark& mark : picture.clock)
    if (std::stoi(mark.hour) % 6 == 0) moments.push_back(mark.at_h);
  constexpr double apart_h = 0.5;  // judged: nearer than this the figures say the same
  const bool is_new = std::none_of(moments.begin(), moments.end(),
                                   [&](double at_h) { return std::fabs(at_h - lowest_at_h) < apart_h; });
  if (is_new && std::isfinite(lowest_at_h) && picture.oxygen_at(lowest_at_h)) moments.push_back(lowest_at_h);
  std::sort(moments.begin(), moments.end());

  const auto figure = [&](double value) {
    return value < 0.05 ? std::string("0") : voice.amount(value, Dimension::number, value < 1.0 ? 1 : 2);
  };
  std::vector<TableRow> rows;
  for (const double at_h : moments) {
    const std::string when = voice.clock(at_h);
    const std::size_t space = when.rfind(' ');
    const auto here = picture.oxygen_at(at_h);
    const std::string gap = voice.label("gap");
    TableRow row{when.substr(0, space), when.substr(space + 1), gap, gap, gap};
    if (here) {
      row.low = figure(here->p05);
      row.middle = figure(here->p50);
      row.high = figure(here->p95);
    }
    rows.push_back(row);
  }
  return rows;
}

std::vector<AmountRow> amounts(const std::vector<recipe::AmountLine>& lines, const Voice& voice) {
  std::vector<AmountRow> rows;
  for (const recipe::AmountLine& line : lines) {
    const auto percent = std::isfinite(line.amount.error_share) ? std::lround(line.amount.error_share * 100.0) : 0L;
    const std::string rounding = !std::isfinite(line.amount.error_share) ? voice.label("unknown")
                                 : percent == 0                          ? voice.label("amounts.exact")
                                 : percent > 0                           ? "+" + std::to_string(percent) + " %"
                                                                         : "−" + std::to_string(-percent) + " %";
    const std::string& name = voice.language() == Language::spanish ? line.spanish : line.english;
    const std::string beside = line.amount.beside == line.amount.text ? std::string() : line.amount.beside;
    rows.push_back({clean(name), clean(line.amount.text), clean(beside), rounding});
  }
  return rows;
}

std::vector<StepRow> steps(const std::vector<recipe::Step>& plan_steps, const Voice& voice) {
  std::vector<StepRow> rows;
  std::string last;
  for (const recipe::Step& step : plan_steps) {
    Voice::Facts facts = step.facts;
    facts.emplace("clock", voice.clock(step.at_h));
    facts.emplace("until_clock", voice.clock(step.until_h));
    const Remark remark{step.code, {}, facts};
    const std::string clock = voice.clock(step.at_h);
    const std::string text = joined({voice.say(remark), voice.next(remark)}, " ");
    const bool is_same = clock == last;  // things done at one time stand under it
    rows.push_back(is_same ? StepRow{{}, {}, text} : StepRow{clock, voice.from_start(step.at_h), text});
    last = clock;
  }
  return rows;
}

std::string wait(const water::Clearing& way, const Voice& voice) {
  std::string published;
  if (std::isfinite(way.wait_low_h) && std::isfinite(way.wait_high_h)) {
    const std::string low = voice.lasting(way.wait_low_h);
    const std::string high = voice.lasting(way.wait_high_h);
    published = low == high ? voice.label("clearing.wait", {{"high", high}})
                            : voice.label("clearing.wait_between", {{"low", low}, {"high", high}});
  } else if (std::isfinite(way.wait_low_h)) {
    published = voice.label("clearing.wait_no_end", {{"low", voice.lasting(way.wait_low_h)}});
  } else {
    published = voice.label("clearing.wait_unknown");
  }
  if (!std::isfinite(way.trade_wait_h)) return published;
  return published + " " + voice.label("clearing.trade", {{"wait", voice.lasting(way.trade_wait_h)}});
}

Section clearing(const recipe::BrewPlan& plan, const Voice& voice) {
  Section section{voice.label("title.clearing"), {}};
  const water::Disinfectant& in = plan.ask.disinfectant;
  section.lines.push_back(
      voice.label(plan.ask.disinfectant_is_known ? "clearing.known" : "clearing.not_known",
                  {{"chlorine", voice.amount(in.free_chlorine_mg_per_l, Dimension::concentration)},
                   {"chloramine", voice.amount(in.chloramine_mg_per_l, Dimension::concentration)}}));
  std::vector<std::string> fails;
  bool first = true;
  for (const water::Clearing& way : plan.clearing) {
    const std::string name = voice.label(method_key(way.method));
    if (!way.works) {
      fails.push_back(name);
      continue;
    }
    const std::string with_dose =
        way.dose_g > 0.0
            ? voice.label("clearing.dose", {{"method", name}, {"dose", voice.amount(way.dose_g, Dimension::mass)}})
            : name;
    std::vector<std::string> parts = {
        voice.label(first ? "clearing.first_choice" : "clearing.or", {{"way", with_dose}}), wait(way, voice)};
    if (first)
      for (const Remark& note : way.notes) parts.push_back(joined({voice.say(note), voice.next(note)}, " "));
    section.lines.push_back(joined(parts, " "));
    first = false;
  }
  if (!fails.empty()) section.lines.push_back(voice.label("clearing.fails", {{"methods", joined(fails, ", ")}}));
  section.lines.push_back(voice.label("clearing.strip"));
  return section;
}

Section air(const recipe::BrewPlan& plan, const Voice& voice) {
  Section section{voice.label("title.air"), {}};
  const double draws = plan.uptake_peak_mg_per_l_per_h;
  const double gives = plan.supply_at_6_mg_per_l_per_h;
  constexpr double room_to_spare = 1.5;  // judged: half as much again covers what the bands leave open
  if (!std::isfinite(draws) || !std::isfinite(gives)) {
    section.lines.push_back(voice.label("air.unknown"));
  } else {
    const auto key = gives >= room_to_spare * draws ? "air.carries" : gives >= draws ? "air.barely" : "air.short";
    section.lines.push_back(voice.label(key, {{"draws", voice.amount(draws, Dimension::concentration)},
                                              {"gives", voice.amount(gives, Dimension::concentration)}}));
  }
  if (std::isfinite(plan.air.flow_l_per_h)) {
    section.lines.push_back(
        voice.label("air.delivered", {{"flow", voice.amount(plan.air.flow_l_per_h, Dimension::flow)},
                                      {"low", voice.amount(plan.air.flow_low_l_per_h, Dimension::flow)},
                                      {"high", voice.amount(plan.air.flow_high_l_per_h, Dimension::flow)},
                                      {"vvm", voice.amount(plan.air.vvm, Dimension::number)}}));
  }
  section.lines.push_back(voice.label(std::isfinite(plan.ask.measured_kla20_per_h) ? "air.measured" : "air.estimated"));
  return section;
}

// Low and high of a band at the sample nearest a moment; nothing where it holds no numbers.
std::optional<std::array<double, 2>> at_moment(const std::vector<double>& time_h, const brew::Band& band, double at_h) {
  if (time_h.empty() || !std::isfinite(at_h)) return std::nullopt;
  const auto nearest = std::min_element(time_h.begin(), time_h.end(),
                                        [&](double a, double b) { return std::fabs(a - at_h) < std::fabs(b - at_h); });
  const auto i = static_cast<std::size_t>(nearest - time_h.begin());
  if (i >= band.p05.size() || i >= band.p95.size()) return std::nullopt;
  if (!std::isfinite(band.p05[i]) || !std::isfinite(band.p95[i])) return std::nullopt;
  return std::array{band.p05[i], band.p95[i]};
}

Section life(const recipe::BrewPlan& plan, const Voice& voice) {
  Section section{voice.label("title.life"), {}};
  const brew::Forecast& forecast = plan.forecast;
  const double at_h = forecast.ready.exists ? forecast.ready.from_h : plan.ask.length_h;
  const auto line = [&](const char* key, const brew::Band& band) {
    const auto spread = at_moment(forecast.time_h, band, at_h);
    if (spread)
      section.lines.push_back(voice.label(
          key, {{"at", voice.clock(at_h)}, {"low", voice.many((*spread)[0])}, {"high", voice.many((*spread)[1])}}));
  };
  line("life.bacteria", forecast.bacteria_per_ml);
  line("life.protozoa", forecast.protozoa_per_ml);
  line("life.fungi", forecast.fungi_ug_per_ml);
  if (section.lines.empty()) section.lines.push_back(voice.label("life.unknown"));
  return section;
}

Section sources(const recipe::BrewPlan& plan, const Voice& voice) {
  Section section{voice.label("title.sources"), {}};
  const int members = plan.forecast.members_count;
  if (members > 0) section.lines.push_back(voice.label("sources.members", {{"count", std::to_string(members)}}));
  if (plan.forecast.failed_members_count > 0)
    section.lines.push_back(
        voice.label("sources.failed_members", {{"count", std::to_string(plan.forecast.failed_members_count)}}));
  if (!plan.sources.empty())
    section.lines.push_back(voice.label("sources.keys", {{"keys", joined(plan.sources, ", ")}}));
  return section;
}

const char* code_of(brew::Measured what) {
  switch (what) {
    case brew::Measured::oxygen:
      return "picture.next_oxygen";
    case brew::Measured::oxygen_share:
      return "picture.next_oxygen_share";
    case brew::Measured::temperature:
      return "picture.next_temperature";
    case brew::Measured::bacteria:
      return "picture.next_bacteria";
    case brew::Measured::protozoa:
      break;
  }
  return "picture.next_protozoa";
}

// What readings taught, and which one would teach most.
std::vector<std::string> reading_sentences(const recipe::BrewPlan& plan, const Voice& voice) {
  const auto count = [](double number) { return Quantity{number, Dimension::number}; };
  std::vector<std::string> sentences;
  if (plan.watched)
    sentences.push_back(
        voice.label("picture.readings", {{"used", count(plan.watched->used_count)},
                                         {"given", count(static_cast<double>(plan.watched->heard.size()))}}));
  if (const auto& next = plan.forecast.next_reading)
    sentences.push_back(voice.label(code_of(next->what), {{"at", voice.clock(next->at_h)},
                                                          {"hours", voice.from_start(next->at_h)},
                                                          {"share", count(std::round(100.0 * next->narrows_share))}}));
  return sentences;
}

}  // namespace

BrewCard brew_card(const recipe::BrewPlan& plan, const CardOptions& options, const Catalogue& catalogue) {
  const Voice voice(catalogue, {options.zone, options.language, plan.ask.customs, plan.ask.start_at});
  BrewCard card;
  card.headline = voice.say(plan.headline);
  card.about = voice.label("about", {{"name", plan.ask.name},
                                     {"volume", voice.amount(plan.ask.volume_l, Dimension::volume, 3)},
                                     {"aim", voice.label(aim_key(plan.ask.aim))},
                                     {"on", voice.clock(0.0)},
                                     {"off", voice.clock(plan.ask.length_h)},
                                     {"length", voice.amount(plan.ask.length_h, Dimension::duration, 3)}});
  card.warnings_title = voice.label("title.warnings");
  card.warnings = warnings(plan.warnings, voice);
  card.mends_title = voice.label("title.mends");
  for (const recipe::Mend& one : plan.mends) card.mends.push_back(mend(one, voice));

  card.picture_title = voice.label("title.picture");
  card.picture = night_picture(plan, voice);
  card.picture_says = {lowest(plan.forecast, voice), odds(plan.forecast, voice), ready(plan.forecast, voice),
                       air_stops(plan.forecast.minutes_to_2_after_air_off, voice)};
  for (std::string& sentence : reading_sentences(plan, voice)) card.picture_says.push_back(std::move(sentence));
  card.table_title = voice.label("table.title");
  card.table_low = voice.label("table.low");
  card.table_middle = voice.label("table.middle");
  card.table_high = voice.label("table.high");
  card.table = table(card.picture, plan.forecast.low_hour_h, voice);

  card.amounts_title = voice.label("title.amounts");
  card.amounts = amounts(plan.amounts, voice);
  card.steps_title = voice.label("title.steps");
  card.steps = steps(plan.steps, voice);
  card.clearing = clearing(plan, voice);
  card.air = air(plan, voice);
  card.life = life(plan, voice);
  card.cautions.title = voice.label("title.cautions");
  for (const Remark& caution : plan.cautions)
    card.cautions.lines.push_back(joined({voice.say(caution), voice.next(caution)}, " "));
  card.notes.title = voice.label("title.notes");
  for (const Remark& note : plan.notes) card.notes.lines.push_back(joined({voice.say(note), voice.next(note)}, " "));
  card.sources = sources(plan, voice);
  card.shortened = voice.label("shortened");
  return card;
}

}  // namespace barm::cards
