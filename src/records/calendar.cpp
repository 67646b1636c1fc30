#include "records/calendar.h"

#include <algorithm>

#include "records/moment.h"

namespace barm::records {
namespace {

/// RFC 5545, section 3.3.11: backslash, semicolon, comma and line feed are escaped.
std::string escaped(const std::string& text) {
  std::string out;
  for (const char c : text) {
    if (c == '\n') {
      out += "\\n";
    } else if (c != '\r') {
      if (c == '\\' || c == ';' || c == ',') out += '\\';
      out += c;
    }
  }
  return out;
}

/// "2026-05-02T23:00:00Z" as "20260502T230000Z", a day as "20260502".
std::string basic(std::string text) {
  if (const auto dot = text.find('.'); dot != std::string::npos) text.erase(dot, 4);
  std::erase_if(text, [](char c) { return c == '-' || c == ':'; });
  return text;
}

std::string name_of(const Kind& kind, const Entry& entry) {
  for (const char* called : {"name", "crop", "food"}) {
    const auto at = kind.position(called);
    if (at && is_given(entry.values[*at])) return std::get<std::string>(entry.values[*at]);
  }
  return {};
}

class Writer {
 public:
  Writer(Store& store, const EventWords& words, std::int64_t known_at)
      : store_(store), words_(words), known_at_(known_at) {}

  Answer<std::string> run() {
    for (const char* line : {"BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//barm//record//EN", "CALSCALE:GREGORIAN"})
      put(line);
    for (const auto& kind : store_.kinds().all()) {
      for (const auto& field : kind.fields) {
        if (!field.makes_event) continue;
        if (auto why = events(kind, field); !why.empty()) return Answer<std::string>::refused(std::move(why));
      }
    }
    put("END:VCALENDAR");
    return text_;
  }

 private:
  void put(std::string line) { text_ += folded_line(std::move(line)); }

  Remarks events(const Kind& kind, const Field& field) {
    Filter filter{.known_at = known_at_};
    for (;;) {
      const auto some = store_.list(kind, filter);
      if (!some.ok()) return some.refusals();
      for (const auto& entry : *some) event(kind, field, entry);
      if (some->size() < static_cast<std::size_t>(filter.most)) return {};
      filter.after = some->back().number;
    }
  }

  void event(const Kind& kind, const Field& field, const Entry& entry) {
    const Value& when = entry.values[*kind.position(field.name)];
    if (!is_given(when)) return;
    auto& connection = store_.connection();
    const auto thing = connection.rows("SELECT id FROM entry WHERE number = :p0", {entry.thing_number}, {Cell::text});
    put("BEGIN:VEVENT");
    put("UID:" + std::get<std::string>(thing.at(0)[0]) + "-" + field.name);
    put("DTSTAMP:" + basic(instant_text(entry.recorded_at)));
    put("SEQUENCE:" +
        std::to_string(connection.whole("SELECT count(*) FROM entry WHERE thing = :p0 AND thing <> number AND "
                                        "recorded_at <= :p1",
                                        {entry.thing_number, known_at_})));
    if (const auto* at = std::get_if<std::int64_t>(&when)) {
      put("DTSTART:" + basic(instant_text(*at)));
    } else {
      const auto& day = std::get<std::string>(when);
      put("DTSTART;VALUE=DATE:" + basic(day));
      put("DTEND;VALUE=DATE:" + basic(next_day(day)));  // RFC 5545, section 3.6.1: the end is the day after
      put("TRANSP:TRANSPARENT");
    }
    put("SUMMARY:" + escaped(words_(kind, field, name_of(kind, entry))));
    put("END:VEVENT");
  }

  Store& store_;
  const EventWords& words_;
  std::int64_t known_at_;
  std::string text_;
};

}  // namespace

std::string folded_line(std::string line) {
  std::string out;
  std::size_t most = 75;  // RFC 5545, section 3.1; of a line that goes on one is the blank before it
  while (line.size() > most) {
    std::size_t cut = most;
    while (cut > 0 && (static_cast<unsigned char>(line[cut]) & 0xC0) == 0x80) --cut;
    out += line.substr(0, cut) + "\r\n ";
    line.erase(0, cut);
    most = 74;
  }
  return out + line + "\r\n";
}

Answer<std::string> calendar_of(Store& store, const EventWords& words, std::int64_t known_at) {
  return or_refusal<std::string>([&] { return Writer(store, words, known_at).run(); });
}

}  // namespace barm::records
