// What numbers and lists of a count may be. A value of a list is named by its place, from 1: "tubes[2]".
#pragma once

#include <cmath>
#include <cstdint>
#include <span>
#include <string>

#include "quantity/answer.h"

namespace barm::count {

struct Accepted {
  double least;
  double most;
  bool least_allowed = true;  // false: more than `least`
  Dimension dimension = Dimension::number;
};

inline bool check(const std::string& field, double given, const Accepted& in, Findings& findings) {
  const bool low = in.least_allowed ? given < in.least : given <= in.least;
  if (std::isfinite(given) && !low && given <= in.most) return true;
  Remark why{.code = "count.number.outside",
             .field = field,
             .facts = {{"least", Quantity{in.least, in.dimension}}, {"most", Quantity{in.most, in.dimension}}}};
  if (!in.least_allowed) why.code = "count.number.outside_open";
  if (!std::isfinite(given)) {
    why.code = "count.number.not_finite";
  } else {
    why.facts["given"] = Quantity{given, in.dimension};
  }
  findings.refuse(std::move(why));
  return false;
}

template <class Number>
bool check_each(const std::string& field, std::span<const Number> all, const Accepted& in, Findings& findings) {
  bool good = true;
  for (std::size_t i = 0; i < all.size(); ++i) {
    good &= check(field + "[" + std::to_string(i + 1) + "]", static_cast<double>(all[i]), in, findings);
  }
  return good;
}

inline bool check_not_empty(const std::string& field, std::size_t size, Findings& findings) {
  if (size > 0) return true;
  findings.refuse({.code = "count.list.empty", .field = field});
  return false;
}

/// Two lists that belong together, value by value.
inline bool check_as_long(const std::string& field, std::size_t size, const std::string& other, std::size_t wanted,
                          Findings& findings) {
  if (size == wanted) return true;
  findings.refuse({.code = "count.list.unequal",
                   .field = field,
                   .facts = {{"given", std::to_string(size)}, {"allowed", std::to_string(wanted)}, {"other", other}}});
  return false;
}

/// Cells of 1 um3, as small as they come, fill a mL with 1e12 (judged).
inline void doubt_more_than_fits(const std::string& field, double per_ml, Findings& findings) {
  if (per_ml > 1e12)
    findings.doubt({.code = "count.number.more_than_fits",
                    .field = field,
                    .facts = {{"given", Quantity{per_ml, Dimension::cell_density}}}});
}

}  // namespace barm::count
