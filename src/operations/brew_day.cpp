#include "operations/brew_day.h"

#include <algorithm>
#include <cmath>

#include "operations/brew_fitness.h"
#include "operations/record_counts.h"
#include "records/brew_page.h"

namespace barm::operations {
namespace {

using records::Entry;
using records::Kind;

constexpr double ms_per_h = 3'600'000.0;
constexpr std::int64_t readings_most = 5000;  // judged: a night at ten seconds

template <class T>
std::optional<T> value_of(const Kind& kind, const Entry& entry, const char* field) {
  const auto at = kind.position(field);
  if (!at || *at >= entry.values.size() || !records::is_given(entry.values[*at])) return std::nullopt;
  return std::get<T>(entry.values[*at]);
}

/// A choice of the record as the verdict's own; what the verdict does not know was not told.
template <class E>
E seen_as(const std::string& word, const Choices<E>& choices) {
  for (const auto& [known, value] : choices) {
    if (known == word) return value;
  }
  return choices.front().second;
}

double value_at(const std::vector<double>& time_h, const std::vector<double>& values, double at_h) {
  if (time_h.empty() || at_h < time_h.front() || at_h > time_h.back()) return unset;
  const auto above = std::lower_bound(time_h.begin(), time_h.end(), at_h);
  const auto i = static_cast<std::size_t>(above - time_h.begin());
  if (i == 0) return values.front();
  const double share = (at_h - time_h[i - 1]) / (time_h[i] - time_h[i - 1]);
  return values[i - 1] + share * (values[i] - values[i - 1]);
}

class Day {
 public:
  Day(records::Store& store, std::int64_t now, const World& world) : store_(store), now_(now), world_(world) {}

  Answer<BrewDay> of(const std::string& id) {
    const auto page = findings_.take(records::page_of(store_, id, 1));
    if (!page) return std::move(findings_).refusal<BrewDay>();
    const Kind& kind = *store_.kinds().find("brew");
    day_.id = id;
    day_.name = value_of<std::string>(kind, page->brew, "name").value_or("");
    day_.zone = zone_of(store_, value_of<std::string>(kind, page->brew, "garden").value_or(""));
    start_ = *value_of<std::int64_t>(kind, page->brew, "air_on_at");
    day_.now = {now_, day_.zone};
    day_.air_on = {start_, day_.zone};
    if (const auto off = value_of<std::int64_t>(kind, page->brew, "air_off_at")) day_.air_off = Moment{*off, day_.zone};
    day_.elapsed_h = hours(now_);
    read_log(id);
    look_at(page->observations);
    read_counts(id);
    read_lots(page->mixes);
    forecast(value_of<std::string>(kind, page->brew, "plan").value_or(""));
    judge();
    return std::move(findings_).answer(std::move(day_));
  }

 private:
  double hours(std::int64_t at_ms) const { return static_cast<double>(at_ms - start_) / ms_per_h; }
  bool is_off() const { return day_.air_off && day_.air_off->at <= now_; }

  void read_log(const std::string& id) {
    const Kind& kind = *store_.kinds().find("reading");
    auto entries = findings_.take(store_.list(kind, {.field = "brew", .names = id, .most = readings_most}));
    if (!entries) return;
    const auto when = [&](const Entry& entry) { return value_of<std::int64_t>(kind, entry, "at").value_or(0); };
    std::erase_if(*entries, [&](const Entry& entry) { return when(entry) > now_; });
    std::stable_sort(entries->begin(), entries->end(),
                     [&](const Entry& a, const Entry& b) { return when(a) < when(b); });
    for (const Entry& entry : *entries) {
      const double at_h = hours(when(entry));
      if (const auto oxygen = value_of<double>(kind, entry, "oxygen")) {
        log_.readings.push_back({.what = brew::Measured::oxygen, .at_h = at_h, .value = *oxygen});
        oxygen_read_at_ = when(entry);
        if (at_h >= 0.0 && (!day_.air_off || when(entry) <= day_.air_off->at)) lowest_ = std::fmin(lowest_, *oxygen);
      }
      if (const auto temperature = value_of<double>(kind, entry, "temperature"))
        log_.readings.push_back({.what = brew::Measured::temperature, .at_h = at_h, .value = *temperature});
      keep_last(kind, entry, when(entry));
    }
    day_.readings_count = static_cast<int>(entries->size());
  }

  /// What a slide shows is one more reading, with its own error where the count tells its limits.
  void read_counts(const std::string& id) {
    counts_ = counts_of_brew(store_, id, now_, findings_);
    day_.counts_count = counts_.learned_count;
    const auto hear = [&](brew::Measured what, std::int64_t at_ms, const count::Estimate& counted) {
      if (!std::isfinite(counted.per_ml)) return;
      log_.readings.push_back(
          {.what = what, .at_h = hours(at_ms), .value = counted.per_ml, .error = counted.ln_standard_error});
    };
    for (const auto& [at_ms, seen] : counts_.seen) {
      hear(brew::Measured::bacteria, at_ms, seen.bacteria);
      hear(brew::Measured::protozoa, at_ms, seen.protozoa());
    }
    std::stable_sort(log_.readings.begin(), log_.readings.end(),
                     [](const auto& a, const auto& b) { return a.at_h < b.at_h; });
  }

  /// The lots of compost that went in, each once.
  void read_lots(const std::vector<Entry>& mixes) {
    const Kind& kind = *store_.kinds().find("mix");
    for (const Entry& entry : mixes) {
      const auto part = value_of<std::string>(kind, entry, "part").value_or("");
      const auto found = store_.find(part);
      if (!found.ok() || found->kind != "compost_lot") continue;
      if (std::find(lots_.begin(), lots_.end(), part) == lots_.end()) lots_.push_back(part);
    }
  }

  /// The newest count of the lot sets the start where the plan names no count of its own. With several composts nobody
  /// can tell which lot is which.
  bool start_from_lot(recipe::PlanAsk& ask) {
    if (lots_.empty()) return false;
    if (lots_.size() > 1 || ask.composts.size() != 1) {
      const auto is_counted = [&](const std::string& lot) {
        return std::isfinite(counts_of_lot(store_, lot, now_, findings_).bacteria_per_g);
      };
      if (std::any_of(lots_.begin(), lots_.end(), is_counted)) findings_.doubt({"records.brew.which_lot", "brew", {}});
      return false;
    }
    const LotCounts counts = counts_of_lot(store_, lots_.front(), now_, findings_);
    auto& measured = ask.composts.front().measured;
    if (!(counts.bacteria_per_g >= 1.0) || std::isfinite(measured.bacteria_per_g)) return false;
    day_.bacteria_per_g = measured.bacteria_per_g = counts.bacteria_per_g;
    measured.bacteria_ln_error = counts.bacteria_ln_error;
    return true;
  }

  /// The newest value of each, since a pH strip and a meter are seldom read at once.
  void keep_last(const Kind& kind, const Entry& entry, std::int64_t at_ms) {
    if (day_.last_reading.empty()) day_.last_reading.push_back({});
    DayReading& last = day_.last_reading.front();
    last.id = entry.id;
    last.at = {at_ms, day_.zone};
    const auto keep = [&](const char* field, double& into) {
      if (const auto value = value_of<double>(kind, entry, field)) into = *value;
    };
    keep("oxygen", last.oxygen_mg_per_l);
    keep("temperature", last.temperature_c);
    keep("ph", last.ph);
    keep("conductivity", last.conductivity_ms_per_cm);
  }

  void look_at(const std::vector<Entry>& observations) {
    const Kind& kind = *store_.kinds().find("observation");
    std::int64_t latest = std::numeric_limits<std::int64_t>::min();
    for (const Entry& entry : observations) {
      const auto when = value_of<std::int64_t>(kind, entry, "at").value_or(0);
      if (when > now_ || when < latest) continue;
      latest = when;
      if (day_.last_observation.empty()) day_.last_observation.push_back({});
      DayObservation& last = day_.last_observation.front();
      last.id = entry.id;
      last.at = {when, day_.zone};
      for (const auto& [field, into] : {std::pair{"smell", &last.smell}, {"foam", &last.foam}, {"look", &last.look}}) {
        if (auto value = value_of<std::string>(kind, entry, field)) *into = std::move(*value);
      }
    }
  }

  /// The plan as it was kept, begun when the air went on.
  std::optional<PlanInput> plan(const std::string& text) {
    if (text.empty()) {
      findings_.doubt({"records.brew.no_plan", "plan", {}});
      return std::nullopt;
    }
    const auto document = read_json(text);
    Findings wrong;
    Reading reading({}, wrong);
    std::optional<PlanInput> in;
    if (document.ok()) {
      Json tree = document->tree;
      for (const char* file : {"readings", "card"}) tree.erase(file);
      in = plan_inputs().read(tree, reading);
    }
    if (!document.ok() || wrong.refused()) {
      const auto& why = document.ok() ? wrong.refusals().front() : document.refusals().front();
      findings_.doubt({"records.brew.plan_unusable", "plan", {{"given", why.field.empty() ? "plan" : why.field}}});
      return std::nullopt;
    }
    in->ask.start_at = start_;
    in->zone = day_.zone;
    return in;
  }

  void forecast(const std::string& text) {
    auto in = plan(text);
    if (!in) return;
    auto promised = planned(*in, world_);
    if (!promised.ok()) {
      const auto& why = promised.refusals().front();
      findings_.doubt({"records.brew.plan_unusable", "plan", {{"given", why.field.empty() ? why.code : why.field}}});
      return;
    }
    hold_against(promised->plan.forecast);
    place_steps(promised->plan);
    in->ask.log = log_;
    if (is_off()) in->ask.log.acts.push_back({.at_h = hours(day_.air_off->at), .air_is_on = false, .bag_is_in = false});
    const bool is_from_lot = start_from_lot(in->ask);
    if (in->ask.log.readings.empty() && in->ask.log.acts.empty() && !is_from_lot) {
      day_.forecast.push_back(*promised);
    } else if (auto narrowed = findings_.take(planned(*in, world_))) {
      day_.forecast.push_back(std::move(*narrowed));
    }
  }

  void hold_against(const brew::Forecast& promised) {
    if (day_.last_reading.empty() || !oxygen_read_at_) return;
    DayReading& last = day_.last_reading.front();
    const double at_h = hours(*oxygen_read_at_);
    const auto& band = promised.oxygen_mg_per_l;
    last.p05_mg_per_l = value_at(promised.time_h, band.p05, at_h);
    last.p50_mg_per_l = value_at(promised.time_h, band.p50, at_h);
    last.p95_mg_per_l = value_at(promised.time_h, band.p95, at_h);
  }

  void place_steps(const recipe::BrewPlan& plan) {
    for (const auto& step : plan.steps) {
      const auto moment = [&](double at_h) { return Moment{start_ + std::llround(at_h * ms_per_h), day_.zone}; };
      DayStep placed{.step = step, .at = moment(step.at_h)};
      if (std::isfinite(step.until_h)) placed.until = moment(step.until_h);
      placed.is_past = placed.until.value_or(placed.at).at < now_;
      day_.steps.push_back(std::move(placed));
    }
  }

  /// Leaves out what the forecast itself doubts. A doubted reading newer than all others is told, so that it is read
  /// anew.
  void weigh(recipe::Seen& seen) const {
    if (day_.forecast.empty() || !day_.forecast.front().plan.watched) {
      if (!day_.last_reading.empty()) seen.oxygen_mg_per_l = day_.last_reading.front().oxygen_mg_per_l;
      seen.oxygen_lowest_mg_per_l = lowest_;
      if (oxygen_read_at_) seen.reading_age_h = static_cast<double>(now_ - *oxygen_read_at_) / ms_per_h;
      return;
    }
    for (const auto& one : day_.forecast.front().plan.watched->heard) {
      if (one.reading.what != brew::Measured::oxygen) continue;
      const bool counts = one.fate == brew::Fate::used || one.fate == brew::Fate::merged;
      seen.oxygen_doubted_mg_per_l = counts ? unset : one.reading.value;
      if (!counts) continue;
      seen.oxygen_mg_per_l = one.reading.value;
      seen.reading_age_h = hours(now_) - one.reading.at_h;
      if (!day_.air_off || one.reading.at_h <= hours(day_.air_off->at))
        seen.oxygen_lowest_mg_per_l = std::fmin(seen.oxygen_lowest_mg_per_l, one.reading.value);
    }
  }

  /// The newest of each; ciliates beside what the same slide shows.
  void weigh_counts(recipe::Seen& seen) const {
    for (const auto& [at_ms, counted] : counts_.seen) {
      if (std::isfinite(counted.bacteria.per_ml)) seen.bacteria_per_ml = counted.bacteria.per_ml;
      if (std::isnan(counted.ciliates.per_ml)) continue;
      seen.ciliates_per_ml = counted.ciliates.per_ml;
      seen.protozoa_per_ml = counted.protozoa().per_ml;
    }
    seen.e_coli_per_ml = counts_.e_coli_per_ml;
    seen.germ_found = counts_.germ_found;
    hold_to_rules(seen, world_);
  }

  void judge() {
    recipe::Seen seen;
    weigh(seen);
    const std::int64_t ended = is_off() ? day_.air_off->at : now_;
    seen.brewed_h = std::max(0.0, hours(ended));
    if (is_off()) seen.air_off_h = static_cast<double>(now_ - day_.air_off->at) / ms_per_h;
    if (is_off()) seen.oxygen_mg_per_l = seen.oxygen_lowest_mg_per_l;
    if (!day_.last_reading.empty()) {
      const DayReading& last = day_.last_reading.front();
      seen.ph = last.ph;
      seen.conductivity_ms_per_cm = last.conductivity_ms_per_cm;
      seen.water_temperature_c = last.temperature_c;
    }
    if (!day_.forecast.empty()) {
      const brew::Forecast& forecast = day_.forecast.front().plan.forecast;
      seen.probability_below_2 = forecast.probability_oxygen_below_2;
      seen.flat_after_soon_h = forecast.minutes_to_2_after_air_off.p05 / 60.0;
      seen.flat_after_h = forecast.minutes_to_2_after_air_off.p50 / 60.0;
    }
    if (!day_.last_observation.empty()) {
      const DayObservation& last = day_.last_observation.front();
      seen.smell = seen_as(last.smell, smells());
      seen.foam = seen_as(last.foam, foams());
      seen.look = seen_as(last.look, looks());
    }
    weigh_counts(seen);
    seen.brewed_h = std::min(seen.brewed_h, recipe::looks_back_h);
    if (seen.air_off_h > recipe::looks_back_h) seen.air_off_h = recipe::looks_back_h;
    if (seen.reading_age_h > recipe::looks_back_h) seen.reading_age_h = recipe::looks_back_h;
    if (auto judged = findings_.take(recipe::judge_fitness(seen))) day_.judged = std::move(*judged);
  }

  records::Store& store_;
  std::int64_t now_;
  const World& world_;
  Findings findings_;
  BrewDay day_;
  std::int64_t start_ = 0;
  brew::BrewLog log_;
  BrewCounts counts_;
  std::vector<std::string> lots_;  // of compost, that went in
  std::optional<std::int64_t> oxygen_read_at_;
  double lowest_ = unset;  // oxygen while the air ran
};

}  // namespace

BandPlace place_of(const DayReading& reading) {
  if (!std::isfinite(reading.oxygen_mg_per_l) || !std::isfinite(reading.p05_mg_per_l)) return BandPlace::unknown;
  if (reading.oxygen_mg_per_l < reading.p05_mg_per_l) return BandPlace::under;
  return reading.oxygen_mg_per_l > reading.p95_mg_per_l ? BandPlace::over : BandPlace::within;
}

Answer<BrewDay> day_of(records::Store& store, const std::string& brew_id, std::int64_t now, const World& world) {
  return Day(store, now, world).of(brew_id);
}

}  // namespace barm::operations
