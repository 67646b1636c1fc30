#include "records/moment.h"

#include <chrono>

#include "quantity/expects.h"

namespace barm::records {
namespace {

using std::chrono::days;
using std::chrono::sys_days;

/// The digits of a fixed place; -1 when one is no digit.
int digits(std::string_view text, std::size_t from, std::size_t count) {
  int value = 0;
  for (std::size_t i = from; i < from + count; ++i) {
    if (i >= text.size() || text[i] < '0' || text[i] > '9') return -1;
    value = value * 10 + (text[i] - '0');
  }
  return value;
}

void put(std::string& text, unsigned value, int count) {
  const auto end = text.size() + static_cast<std::size_t>(count);
  text.resize(end, '0');
  for (std::size_t i = end; value > 0; value /= 10) text[--i] = static_cast<char>('0' + value % 10);
}

void put_date(std::string& text, sys_days day) {
  const std::chrono::year_month_day date{day};
  put(text, static_cast<unsigned>(static_cast<int>(date.year())), 4);
  text += '-';
  put(text, static_cast<unsigned>(date.month()), 2);
  text += '-';
  put(text, static_cast<unsigned>(date.day()), 2);
}

std::optional<sys_days> read_date(std::string_view text) {
  if (text.size() != 10 || text[4] != '-' || text[7] != '-') return std::nullopt;
  const int year = digits(text, 0, 4), month = digits(text, 5, 2), day = digits(text, 8, 2);
  if (year < 1970 || month < 1 || day < 1) return std::nullopt;
  const std::chrono::year_month_day date{std::chrono::year(year), std::chrono::month(static_cast<unsigned>(month)),
                                         std::chrono::day(static_cast<unsigned>(day))};
  if (!date.ok()) return std::nullopt;
  return sys_days(date);
}

constexpr std::int64_t day_ms = 86'400'000;

}  // namespace

std::string instant_text(std::int64_t at_ms) {
  const std::int64_t day = (at_ms >= 0 ? at_ms : at_ms - day_ms + 1) / day_ms;
  const auto rest = static_cast<unsigned>(at_ms - day * day_ms);
  std::string text;
  text.reserve(24);
  put_date(text, sys_days(days(day)));
  text += 'T';
  put(text, rest / 3'600'000, 2);
  text += ':';
  put(text, rest / 60'000 % 60, 2);
  text += ':';
  put(text, rest / 1000 % 60, 2);
  if (rest % 1000 != 0) {
    text += '.';
    put(text, rest % 1000, 3);
  }
  return text += 'Z';
}

std::optional<std::int64_t> read_instant_text(std::string_view text) {
  if ((text.size() != 20 && text.size() != 24) || text[10] != 'T' || text[13] != ':' || text[16] != ':' ||
      text.back() != 'Z')
    return std::nullopt;
  const auto day = read_date(text.substr(0, 10));
  const int hour = digits(text, 11, 2), minute = digits(text, 14, 2), second = digits(text, 17, 2);
  const int part = text.size() == 24 ? (text[19] == '.' ? digits(text, 20, 3) : -1) : 0;
  const bool holds = day && hour >= 0 && hour < 24 && minute >= 0 && minute < 60 && second >= 0 && second < 60;
  if (!holds || part < 0 || (part == 0 && text.size() == 24)) return std::nullopt;
  return day->time_since_epoch().count() * day_ms + ((hour * 60 + minute) * 60 + second) * std::int64_t{1000} + part;
}

bool is_date(std::string_view text) {
  return read_date(text).has_value();
}

std::string next_day(std::string_view date) {
  const auto day = read_date(date);
  expects(day.has_value(), "the day after a day of the calendar");
  std::string text;
  put_date(text, *day + days(1));
  return text;
}

}  // namespace barm::records
