#include "operations/instant.h"

#include <date/date.h>

#include <charconv>
#include <chrono>
#include <optional>

namespace barm::operations {
namespace {

class Cursor {
 public:
  explicit Cursor(std::string_view text) : left_(text) {}
  bool done() const { return left_.empty(); }

  bool take(std::string_view any_of) {
    if (left_.empty() || any_of.find(left_.front()) == std::string_view::npos) return false;
    last_ = left_.front();
    left_.remove_prefix(1);
    return true;
  }
  char last() const { return last_; }

  std::optional<int> digits(std::size_t count) {
    if (left_.size() < count) return std::nullopt;
    int value = 0;
    for (std::size_t i = 0; i < count; ++i) {
      if (left_[i] < '0' || left_[i] > '9') return std::nullopt;
      value = value * 10 + (left_[i] - '0');
    }
    left_.remove_prefix(count);
    return value;
  }

 private:
  std::string_view left_;
  char last_ = '\0';
};

struct Written {
  int year = 0, month = 0, day = 0, hour = 0, minute = 0, second = 0, millisecond = 0;
  std::optional<int> offset_min;
};

bool read_date(Cursor& at, Written& into) {
  const auto year = at.digits(4);
  const bool first = at.take("-");
  const auto month = at.digits(2);
  const bool second = at.take("-");
  const auto day = at.digits(2);
  if (!year || !first || !month || !second || !day) return false;
  into.year = *year, into.month = *month, into.day = *day;
  return true;
}

bool read_time(Cursor& at, Written& into) {
  const auto hour = at.digits(2);
  const bool colon = at.take(":");
  const auto minute = at.digits(2);
  if (!hour || !colon || !minute) return false;
  into.hour = *hour, into.minute = *minute;
  if (!at.take(":")) return true;
  const auto second = at.digits(2);
  if (!second) return false;
  into.second = *second;
  if (!at.take(".")) return true;
  int scale = 100;
  bool any = false;
  for (; const auto digit = at.digits(1); any = true, scale /= 10) into.millisecond += *digit * scale;
  return any;
}

/// Reads the distance from UTC when there is one; false when what stands there is no such thing.
bool read_offset(Cursor& at, Written& into) {
  if (at.done()) return true;
  if (at.take("Zz")) {
    into.offset_min = 0;
    return at.done();
  }
  if (!at.take("+-")) return false;
  const int sign = at.last() == '-' ? -1 : 1;
  const auto hours = at.digits(2);
  at.take(":");
  const auto minutes = at.digits(2);
  if (!hours || !minutes || *hours > 14 || *minutes > 59) return false;
  into.offset_min = sign * (*hours * 60 + *minutes);
  return at.done();
}

}  // namespace

Answer<Instant> read_instant(std::string_view text) {
  const auto refuse = [&](const char* code) {
    return Answer<Instant>::refused({{code, "", {{"given", std::string(text)}}}});
  };
  Cursor at(text);
  Written written;
  if (!read_date(at, written) || !at.take("Tt ") || !read_time(at, written))
    return refuse("operations.instant.not_readable");
  if (!read_offset(at, written)) return refuse("operations.instant.not_readable");

  const date::year_month_day day(date::year(written.year), date::month(static_cast<unsigned>(written.month)),
                                 date::day(static_cast<unsigned>(written.day)));
  const bool on_the_clock = written.hour < 24 && written.minute < 60 && written.second < 60;
  if (!day.ok() || !on_the_clock) return refuse("operations.instant.no_such_time");
  if (written.year < 2000 || written.year > 2199) return refuse("operations.instant.far_away");
  if (!written.offset_min) return refuse("operations.instant.no_offset");

  using namespace std::chrono;
  const auto instant = date::sys_days(day) + hours(written.hour) + minutes(written.minute - *written.offset_min) +
                       seconds(written.second) + milliseconds(written.millisecond);
  return Instant{duration_cast<milliseconds>(instant.time_since_epoch()).count(), *written.offset_min};
}

}  // namespace barm::operations
