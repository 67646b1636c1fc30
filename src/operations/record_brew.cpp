// barm record brew: all that a screen shows of one brew. barm record live: the brews in the making.
#include <fmt/format.h>

#include "cards/local_time.h"
#include "operations/photo_told.h"
#include "operations/record_shown.h"
#include "operations/record_store.h"
#include "operations/registry.h"
#include "records/brew_page.h"
#include "records/named.h"

namespace barm::operations {
namespace {

using records::Stretch;

struct In {
  std::string id, store = usual_store;
  std::optional<std::int64_t> known_at{};
  double chart_most = 200.0;
};

struct Drawn {  // one stretch of the chart, with the zone it is told in
  Stretch stretch{};
  std::string zone{};
};

/// A photo by its entry, without its picture: that is asked for by itself (record photo).
struct Photo {
  Shown entry{};
  PhotoFile file{};
  Seen seen{};  // when it was taken
};

struct Out {
  Shown brew{};
  std::vector<Drawn> chart{};
  std::vector<Shown> mixes{}, observations{}, counts{}, verdicts{}, cleanings{}, applications{}, history{};
  std::vector<Photo> photos{};
  std::int64_t readings_count = 0;
  std::string zone{};
};

std::vector<Photo> photos_of(std::vector<Shown> entries, const std::vector<Shown>& observations) {
  const auto image = *records::all_kinds().find("photo")->position("image");
  std::vector<Photo> all;
  for (auto& one : entries) {
    Photo photo{.file = photo_file(std::get<std::string>(one.entry.values[image]))};
    one.entry.values[image] = records::Value{};
    photo.file.bytes.clear();  // a page of pictures would be megabytes
    for (const auto& other : observations) {
      if (other.thing_id == text_of(one, "observation"))
        photo.seen = seen_of([&](const auto& field) { return text_of(other, field); });
    }
    photo.entry = std::move(one);
    all.push_back(std::move(photo));
  }
  return all;
}

std::string zone_of_garden(records::Store& store, const records::BrewPage& page) {
  const auto at = records::all_kinds().find("brew")->position("garden");
  return zone_of(store, std::get<std::string>(page.brew.values.at(*at)));
}

Answer<Out> answer(const In& in, const World& world) {
  Findings findings;
  auto store = findings.take(open_store(in.store, world));
  const auto id = store ? findings.take(records::id_named(*store, {"brew"}, in.id)) : std::nullopt;
  auto page = id ? findings.take(records::page_of(*store, *id, static_cast<int>(in.chart_most),
                                                  in.known_at.value_or(records::known_now)))
                 : std::nullopt;
  if (!page) return std::move(findings).refusal<Out>();
  Out out{.zone = zone_of_garden(*store, *page)};
  const auto show = [&](std::vector<records::Entry> entries) {
    return findings.take(shown(*store, std::move(entries), out.zone)).value_or(std::vector<Shown>{});
  };
  auto brew = show({page->brew});
  if (brew.empty()) return std::move(findings).refusal<Out>();
  out.brew = std::move(brew.front());
  out.mixes = show(std::move(page->mixes));
  out.observations = show(std::move(page->observations));
  out.photos = photos_of(show(std::move(page->photos)), out.observations);
  out.counts = show(std::move(page->counts));
  out.verdicts = show(std::move(page->verdicts));
  out.cleanings = show(std::move(page->cleanings));
  out.applications = show(std::move(page->applications));
  out.history = show(std::move(page->history));
  for (const auto& stretch : page->chart) {
    out.chart.push_back({stretch, out.zone});
    out.readings_count += stretch.count;
  }
  return std::move(findings).answer(std::move(out));
}

/// "2026-05-03T08:00:00-05:00. smell: earthy; foam: thin. After rain. JPEG, 48.2 kB, SHA-256 …"
std::string photo_text(const Photo& photo, const Voice& voice) {
  std::string text;
  if (const auto at = moment_of(photo.entry, "at")) text = cards::iso_text(at->at, at->zone);
  for (const auto& part : {seen_text(photo.seen, voice), text_of(photo.entry, "note"), file_text(photo.file, voice)}) {
    if (!part.empty()) text += ". " + part;
  }
  return text;
}

std::string tell(const Out& out, const Voice& voice) {
  std::string text = in_words(out.brew, voice) + "\n";
  const auto heading = [&](const char* field) {
    text += "\n" + voice.say(std::string("operations.help.record.brew.answer.") + field) + "\n";
  };
  const auto list = [&](const char* field, const std::vector<Shown>& entries) {
    if (entries.empty()) return;
    heading(field);
    for (const auto& one : entries) {
      text += "  " + voice.say("records.kind." + one.entry.kind);
      if (one.entry.withdraws) text += " " + voice.say("records.told.withdrawn");
      text += "  " + in_words(one, voice);
      if (!one.entry.reason.empty())
        text += " (" +
                voice.say("records.told.replaces", {{"given", one.entry.replaces}, {"reason", one.entry.reason}}) + ")";
      text += "\n";
    }
  };
  list("mixes", out.mixes);
  if (!out.chart.empty()) {
    heading("chart");
    for (const auto& [stretch, zone] : out.chart) {
      text += fmt::format("  {}  {:>4}", cards::iso_text(stretch.from, zone), stretch.count);
      if (stretch.oxygen_mean_mg_per_l)
        text += "  " + number_text(*stretch.oxygen_mean_mg_per_l, Dimension::concentration, "", voice);
      if (stretch.temperature_mean_c)
        text += "  " + number_text(*stretch.temperature_mean_c, Dimension::temperature, "", voice);
      text += "\n";
    }
  }
  list("observations", out.observations);
  if (!out.photos.empty()) heading("photos");
  for (const auto& photo : out.photos) text += "  " + photo_text(photo, voice) + "\n";
  list("counts", out.counts);
  list("verdicts", out.verdicts);
  list("cleanings", out.cleanings);
  list("applications", out.applications);
  list("history", out.history);
  return text;
}

template <class Get>
auto measured(Get get) {
  return [get](const Drawn& drawn) { return (drawn.stretch.*get).value_or(unset); };
}

Outputs<Drawn> chart_outputs() {
  Outputs<Drawn> each;
  each.instant("from_at",
               [](const Drawn& drawn) {
                 return std::optional(Moment{drawn.stretch.from, drawn.zone});
               })
      .whole("count", [](const Drawn& drawn) { return drawn.stretch.count; })
      .number("oxygen_mg_per_l", measured(&Stretch::oxygen_mean_mg_per_l), Dimension::concentration)
      .number("oxygen_lowest_mg_per_l", measured(&Stretch::oxygen_lowest_mg_per_l), Dimension::concentration)
      .number("oxygen_highest_mg_per_l", measured(&Stretch::oxygen_highest_mg_per_l), Dimension::concentration)
      .number("temperature_c", measured(&Stretch::temperature_mean_c), Dimension::temperature)
      .number("ph", measured(&Stretch::ph_mean), "")
      .number("conductivity_ms_per_cm", measured(&Stretch::conductivity_mean_ms_per_cm), Dimension::conductivity)
      .number("air_flow_l_per_h", measured(&Stretch::air_flow_mean_l_per_h), Dimension::flow);
  return each;
}

Outputs<Photo> photo_outputs() {
  Outputs<Photo> each;
  each.text("id", [](const Photo& photo) { return photo.entry.entry.id; })
      .text("thing_id", [](const Photo& photo) { return photo.entry.thing_id; })
      .instant("at", [](const Photo& photo) { return moment_of(photo.entry, "at"); })
      .text("observation_id", [](const Photo& photo) { return text_of(photo.entry, "observation"); })
      .told("seen", [](const Photo& one, const Voice& voice) { return seen_text(one.seen, voice); })
      .text("note", [](const Photo& photo) { return text_of(photo.entry, "note"); })
      .text("person", [](const Photo& photo) { return called(photo.entry, text_of(photo.entry, "person")); })
      .text("type", at(&Photo::file, &PhotoFile::type))
      .whole("bytes_count", at(&Photo::file, &PhotoFile::bytes_count))
      .text("hash", at(&Photo::file, &PhotoFile::hash))
      .told("text", photo_text);
  return each;
}

struct LiveIn {
  std::string garden, store = usual_store;
  double most = 100.0;
};
struct LiveOne {
  Shown brew{}, reading{};
  bool is_read = false;
  double running_h = 0.0;
};
struct LiveOut {
  std::vector<LiveOne> brews{};
};

Answer<LiveOut> live(const LiveIn& in, const World& world) {
  Findings findings;
  auto store = findings.take(open_store(in.store, world));
  if (!store) return std::move(findings).refusal<LiveOut>();
  const auto garden = in.garden.empty()
                          ? std::optional<std::string>("")
                          : take_about(findings, records::id_named(*store, {"garden"}, in.garden), "garden");
  if (!garden) return std::move(findings).refusal<LiveOut>();
  const auto now = world.now();
  const auto most = static_cast<std::int64_t>(in.most);
  const auto brews = findings.take(retarget(records::live_brews(*store, now, *garden, most), {{"id", "garden"}}));
  if (!brews) return std::move(findings).refusal<LiveOut>();
  std::vector<records::Entry> all, readings;
  for (const auto& one : *brews) {
    all.push_back(one.brew);
    if (one.reading) readings.push_back(*one.reading);
  }
  const auto zone = zone_of(*store);
  const auto named = findings.take(shown(*store, std::move(all), zone));
  const auto read = findings.take(shown(*store, std::move(readings), zone));
  if (!named || !read) return std::move(findings).refusal<LiveOut>();
  LiveOut out;
  for (std::size_t i = 0, next = 0; i < brews->size(); ++i) {
    LiveOne one{.brew = (*named)[i], .is_read = (*brews)[i].reading.has_value()};
    if (one.is_read) one.reading = (*read)[next++];
    one.running_h = static_cast<double>(now - moment_of(one.brew, "air_on_at").value_or(Moment{now, zone}).at) / 3.6e6;
    out.brews.push_back(std::move(one));
  }
  if (out.brews.size() == static_cast<std::size_t>(most))
    findings.doubt({"records.list.more", "most", {{"given", std::to_string(most)}}});
  return std::move(findings).answer(std::move(out));
}

std::string tell_live(const LiveOut& out, const Voice& voice) {
  if (out.brews.empty()) return voice.say("records.told.none_live") + "\n";
  std::string text;
  for (const auto& one : out.brews) {
    text += fmt::format("{} ({})  {}", text_of(one.brew, "name"), one.brew.thing_id,
                        voice.say("records.told.running", {{"given", Quantity{one.running_h, Dimension::duration}},
                                                           {"vessel", called(one.brew, text_of(one.brew, "vessel"))}}));
    if (one.is_read) text += "  " + in_words(one.reading, voice);
    text += "\n";
  }
  return text;
}

Outputs<LiveOne> live_outputs() {
  const auto brew_text = [](const char* field) {
    return [field](const LiveOne& one) { return text_of(one.brew, field); };
  };
  const auto brew_called = [](const char* field) {
    return [field](const LiveOne& one) { return called(one.brew, text_of(one.brew, field)); };
  };
  const auto read_number = [](const char* field) {
    return [field](const LiveOne& one) { return one.is_read ? number_of(one.reading, field) : unset; };
  };
  Outputs<LiveOne> each;
  each.text("id", [](const LiveOne& one) { return one.brew.thing_id; })
      .text("name", brew_text("name"))
      .text("garden_id", brew_text("garden"))
      .text("garden", brew_called("garden"))
      .text("vessel_id", brew_text("vessel"))
      .text("vessel", brew_called("vessel"))
      .number(
          "volume_l", [](const LiveOne& one) { return number_of(one.brew, "volume"); }, Dimension::volume)
      .instant("air_on_at", [](const LiveOne& one) { return moment_of(one.brew, "air_on_at"); })
      .instant("air_off_at", [](const LiveOne& one) { return moment_of(one.brew, "air_off_at"); })
      .number("running_h", at(&LiveOne::running_h), Dimension::duration)
      .instant("read_at", [](const LiveOne& one) { return one.is_read ? moment_of(one.reading, "at") : std::nullopt; })
      .number("oxygen_mg_per_l", read_number("oxygen"), Dimension::concentration)
      .number("temperature_c", read_number("temperature"), Dimension::temperature)
      .number("ph", read_number("ph"), "");
  return each;
}

}  // namespace

Operation record_brew() {
  Inputs<In> inputs;
  inputs.text("id", at(&In::id), "May night brew").required().positional();
  inputs.quantity("chart_most", at(&In::chart_most), Dimension::number, "200").least(1.0).most(2000.0);
  inputs.instant("known_at", at(&In::known_at), "2026-05-15T00:00:00-05:00");
  store_input(inputs, &In::store);
  Outputs<Out> outputs;
  const auto brew_text = [](const char* field) { return [field](const Out& out) { return text_of(out.brew, field); }; };
  outputs.object("brew", at(&Out::brew), shown_outputs())
      .text("name", brew_text("name"))
      .text("plan", brew_text("plan"))
      .text("forecast", brew_text("forecast"))
      .instant("air_on_at", [](const Out& out) { return moment_of(out.brew, "air_on_at"); })
      .instant("air_off_at", [](const Out& out) { return moment_of(out.brew, "air_off_at"); })
      .text("zone", at(&Out::zone))
      .whole("readings_count", at(&Out::readings_count))
      .list("chart", at(&Out::chart), chart_outputs())
      .list("mixes", at(&Out::mixes), shown_outputs())
      .list("observations", at(&Out::observations), shown_outputs())
      .list("photos", at(&Out::photos), photo_outputs())
      .list("counts", at(&Out::counts), shown_outputs())
      .list("verdicts", at(&Out::verdicts), shown_outputs())
      .list("cleanings", at(&Out::cleanings), shown_outputs())
      .list("applications", at(&Out::applications), shown_outputs())
      .list("history", at(&Out::history), shown_outputs());
  auto operation = define<In, Out>({.noun = "record",
                                    .verb = "brew",
                                    .inputs = inputs,
                                    .outputs = outputs,
                                    .answer = answer,
                                    .tell = tell,
                                    .examples = {{"record brew \"May night brew\""}}});
  share_shown_codes(operation);
  return operation;
}

Operation record_live() {
  Inputs<LiveIn> inputs;
  inputs.text("garden", at(&LiveIn::garden), "Hillside garden");
  inputs.quantity("most", at(&LiveIn::most), Dimension::number, "100").least(1.0).most(1000.0);
  store_input(inputs, &LiveIn::store);
  Outputs<LiveOut> outputs;
  outputs.list("brews", at(&LiveOut::brews), live_outputs());
  return define<LiveIn, LiveOut>({.noun = "record",
                                  .verb = "live",
                                  .inputs = inputs,
                                  .outputs = outputs,
                                  .answer = live,
                                  .tell = tell_live,
                                  .examples = {{"record live"}}});
}

}  // namespace barm::operations
