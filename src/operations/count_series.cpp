// barm count series: several samples held to a rule, by their geometric mean and one by one.
#include "count/series.h"

#include <algorithm>

#include "count/tables.h"
#include "operations/count_told.h"
#include "operations/registry.h"
#include "quantity/number.h"
#include "operations/shipped.h"

namespace barm::operations {
namespace {

using count::NotFound;
using count::Series;
using count::SeriesRule;
using count::SeriesTold;

struct In {
  std::string results, rule;
  NotFound treat = NotFound::at_limit;
  double mean_most = unset, single_most = unset, single_over_share = unset;
  std::int64_t samples = 0;
};
struct Out {
  SeriesTold told;
  SeriesRule rule;
  NotFound treat;
};

const Choices<NotFound>& treatments() {
  static const Choices<NotFound> all = {{"at_limit", NotFound::at_limit},
                                        {"half_limit", NotFound::half_limit},
                                        {"maximum_likelihood", NotFound::maximum_likelihood}};
  return all;
}

std::string trimmed(std::string_view text) {
  const auto first = text.find_first_not_of(" \t"), last = text.find_last_not_of(" \t");
  return first == text.npos ? std::string() : std::string(text.substr(first, last - first + 1));
}

struct Results {
  Series series{};
  std::map<std::string, std::string> places{};  // "found[2]" of the series stood at "results[5]"
};

/// Results as a sheet has them: "33, <10, 235"; by semicolons where there are any, so that a comma may be decimal.
Results read_results(const std::string& text, Findings& findings) {
  Results read{.places = {{"found", "results"}, {"not_found", "results"}}};
  if (commas_are_unclear(text)) {
    findings.refuse({.code = "operations.list.commas_unclear", .field = "results", .facts = {{"given", text}}});
    return read;
  }
  const char mark = text.find(';') == text.npos ? ',' : ';';
  std::size_t at = 0;
  for (int place = 1; at <= text.size(); ++place) {
    const auto end = std::min(text.find(mark, at), text.size());
    const std::string cell = trimmed(std::string_view(text).substr(at, end - at));
    at = end + 1;
    const std::string path = "results[" + std::to_string(place) + "]";
    const bool is_below = cell.starts_with("<");
    const std::string figure = trimmed(std::string_view(cell).substr(is_below ? 1 : 0));
    const WrittenNumber number = read_number(figure);
    if (cell.starts_with(">")) {
      findings.refuse({.code = "count.series.above_limit", .field = path, .facts = {{"given", cell}}});
      continue;
    }
    if (number.problem != NumberProblem::none || number.end != figure.size()) {
      findings.refuse({.code = "count.series.not_a_result", .field = path, .facts = {{"given", cell}}});
      continue;
    }
    auto& into = is_below ? read.series.not_found : read.series.found;
    into.push_back(number.value);
    read.places[(is_below ? "not_found[" : "found[") + std::to_string(into.size()) + "]"] = path;
  }
  return read;
}

Answer<Out> answer(const In& in, const World&) {
  Findings findings;
  Results results = read_results(in.results, findings);
  results.series.treat = in.treat;
  SeriesRule rule{.id = "own"};
  if (!in.rule.empty()) {
    if (const auto known = findings.take(shipped_count_tables().series_rule(in.rule))) rule = **known;
  }
  if (findings.refused()) return std::move(findings).refusal<Out>();
  if (std::isfinite(in.mean_most)) rule.mean_most = in.mean_most;
  if (std::isfinite(in.single_most)) rule.single_most = in.single_most;
  if (std::isfinite(in.single_over_share)) rule.single_over_share = in.single_over_share;
  if (in.samples > 0) rule.samples_least = in.samples;
  const auto told = findings.take(retarget(count::judge_series(results.series, rule), results.places));
  if (!told) return std::move(findings).refusal<Out>();
  return std::move(findings).answer(Out{*told, rule, in.treat});
}

std::string tell(const Out& out, const Voice& voice) {
  const SeriesTold& told = out.told;
  std::map<std::string, Remark::Fact> facts{{"mean", two_digits(told.geometric_mean)},
                                            {"samples", std::to_string(told.samples_count)}};
  if (std::isfinite(told.low_95)) facts.emplace("low", two_digits(told.low_95));
  if (std::isfinite(told.high_95)) facts.emplace("high", two_digits(told.high_95));
  if (told.not_found_count > 0) {
    facts.emplace("not_found", std::to_string(told.not_found_count));
    for (const auto& [word, value] : treatments())
      if (value == out.treat) facts.emplace("method", voice.say("operations.count.series." + word));
  }
  std::string text =
      voice.say(told.meets() ? "operations.count.series.keeps" : "operations.count.series.breaks") + "\n";
  text += voice.say("operations.count.series.mean", facts) + "\n";
  const auto most = [](double value) { return Quantity{value, Dimension::number}; };
  if (!told.mean_is_kept)
    text += voice.say(out.rule.is_arithmetic ? "operations.count.series.plain_mean_over"
                                             : "operations.count.series.mean_over",
                      {{"mean", two_digits(out.rule.is_arithmetic ? told.arithmetic_mean : told.geometric_mean)},
                       {"most", most(out.rule.mean_most)}}) +
            "\n";
  if (told.over_single_count > 0)
    text += voice.say("operations.count.series.single_over",
                      {{"given", std::to_string(told.over_single_count)}, {"most", most(out.rule.single_most)}}) +
            "\n";
  if (told.mean_is_kept && !told.is_sure && std::isfinite(out.rule.mean_most) && std::isfinite(told.high_95)) {
    std::map<std::string, Remark::Fact> unsure{{"most", most(out.rule.mean_most)}};
    if (told.samples_for_confidence_count > told.samples_count)
      unsure.emplace("samples", std::to_string(told.samples_for_confidence_count));
    text += voice.say("operations.count.series.unsure", unsure) + "\n";
  }
  text += voice.say("operations.count.series.caution") + "\n";
  return text;
}

}  // namespace

Operation count_series() {
  Inputs<In> inputs;
  inputs.text("results", at(&In::results), "33, <10, 235, 88, <10").required();
  inputs.text("rule", at(&In::rule), "us_epa_2012");
  inputs.quantity("mean_most", at(&In::mean_most), Dimension::number, "126").above(0.0);
  inputs.quantity("single_most", at(&In::single_most), Dimension::number, "235").above(0.0);
  inputs.quantity("single_over", at(&In::single_over_share), Dimension::share, "10 %").least(0.0).most(0.99);
  inputs.whole("samples", at(&In::samples), "5").least(0).most(1000);
  inputs.choice("treat", at(&In::treat), treatments());
  Outputs<Out> outputs;
  outputs.flag("meets", [](const Out& out) { return out.told.meets(); })
      .text("clause", at(&Out::rule, &SeriesRule::clause))
      .text("unit", at(&Out::rule, &SeriesRule::unit))
      .number("geometric_mean", at(&Out::told, &SeriesTold::geometric_mean), "")
      .number("low_95", at(&Out::told, &SeriesTold::low_95), "")
      .number("high_95", at(&Out::told, &SeriesTold::high_95), "")
      .number("arithmetic_mean", at(&Out::told, &SeriesTold::arithmetic_mean), "")
      .number("ln_standard_deviation", at(&Out::told, &SeriesTold::ln_standard_deviation), "")
      .number("percentile_90", at(&Out::told, &SeriesTold::percentile_90), "")
      .number("highest", at(&Out::told, &SeriesTold::highest), "")
      .choice("not_found_method", at(&Out::treat), treatments())
      .whole("samples_count", at(&Out::told, &SeriesTold::samples_count))
      .whole("not_found_count", at(&Out::told, &SeriesTold::not_found_count))
      .flag("mean_is_kept", at(&Out::told, &SeriesTold::mean_is_kept))
      .flag("mean_is_surely_kept", at(&Out::told, &SeriesTold::is_sure))
      .flag("single_is_kept", at(&Out::told, &SeriesTold::single_is_kept))
      .whole("over_single_count", at(&Out::told, &SeriesTold::over_single_count))
      .whole("undecided_count", at(&Out::told, &SeriesTold::undecided_count))
      .whole("samples_owed_count", at(&Out::told, &SeriesTold::samples_owed_count))
      .whole("samples_for_confidence_count", at(&Out::told, &SeriesTold::samples_for_confidence_count))
      .text("source", at(&Out::rule, &SeriesRule::source));
  return define<In, Out>({.noun = "count",
                          .verb = "series",
                          .inputs = inputs,
                          .outputs = outputs,
                          .answer = answer,
                          .tell = tell,
                          .examples = {{"count series --results \"33, <10, 235, 88, <10\" --rule us_epa_2012"}}});
}

}  // namespace barm::operations
