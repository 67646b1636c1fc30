#include "brew/priors.h"

#include <boost/math/distributions/normal.hpp>
#include <cmath>
#include <toml++/toml.h>

#include "quantity/expects.h"

namespace barm::brew {
namespace {

double triangular_quantile(double low, double mode, double high, double u) {
  if (!(high > low)) return mode;
  const double split = (mode - low) / (high - low);
  if (u < split) return low + std::sqrt(u * (high - low) * (mode - low));
  return high - std::sqrt((1.0 - u) * (high - low) * (high - mode));
}

[[noreturn]] void broken(const std::string& symbol, const char* what) {
  throw BrokenPromise("data/model.toml, " + symbol + ": " + what);
}

Shape shape_of(const std::string& symbol, std::string_view name) {
  if (name == "fixed") return Shape::fixed;
  if (name == "triangular") return Shape::triangular;
  if (name == "log_triangular") return Shape::log_triangular;
  if (name == "log_uniform") return Shape::log_uniform;
  broken(symbol, "unknown shape");
}

Prior read_prior(const std::string& symbol, const toml::table& from) {
  Prior prior{.symbol = symbol,
              .meaning = from["meaning"].value_or(std::string()),
              .unit = from["unit"].value_or(std::string()),
              .shape = shape_of(symbol, from["shape"].value_or(std::string_view())),
              .middle = from["value"].value_or(unset),
              .low = from["low"].value_or(unset),
              .high = from["high"].value_or(unset),
              .source = from["source"].value_or(std::string())};
  if (!std::isfinite(prior.middle)) broken(symbol, "no value");
  if (prior.source.empty()) broken(symbol, "no source");
  if (prior.shape != Shape::fixed) {
    if (!(prior.low <= prior.middle && prior.middle <= prior.high)) broken(symbol, "value outside low to high");
    if (prior.shape != Shape::triangular && !(prior.low > 0.0)) broken(symbol, "a logarithmic shape starts above 0");
  }
  return prior;
}

}  // namespace

double quantile(Shape shape, double middle, double low, double high, double u) {
  switch (shape) {
    case Shape::fixed:
      return middle;
    case Shape::triangular:
      return triangular_quantile(low, middle, high, u);
    case Shape::log_triangular:
      return std::exp(triangular_quantile(std::log(low), std::log(middle), std::log(high), u));
    case Shape::log_uniform:
      return std::exp(std::log(low) + u * (std::log(high) - std::log(low)));
    case Shape::log_normal:
      return middle * std::exp(high * boost::math::quantile(boost::math::normal(), u));
  }
  throw BrokenPromise("a prior has one of the named shapes");
}

Priors Priors::read(std::string_view text) {
  Priors priors;
  toml::table file;
  try {
    file = toml::parse(text);
  } catch (const toml::parse_error& e) {
    broken("the file", std::string(e.description()).c_str());
  }
  for (const auto& [key, node] : file) {
    const std::string symbol(key.str());
    if (const auto* table = node.as_table()) {
      priors.priors_.push_back(read_prior(symbol, *table));
    } else if (symbol == "correlation" && node.is_array_of_tables()) {
      for (const auto& entry : *node.as_array()) {
        const toml::table& of = *entry.as_table();
        priors.correlations_.push_back({of["of"][0].value_or(std::string()), of["of"][1].value_or(std::string()),
                                        of["rho"].value_or(0.0), of["source"].value_or(std::string())});
      }
    } else {
      broken(symbol, "is not a parameter");
    }
  }
  for (const Correlation& c : priors.correlations_) {
    priors.place_of(c.first);
    priors.place_of(c.second);
    if (!(std::abs(c.rho) < 1.0)) broken(c.first, "a correlation lies between -1 and 1");
  }
  return priors;
}

std::size_t Priors::place_of(std::string_view symbol) const {
  for (std::size_t i = 0; i < priors_.size(); ++i)
    if (priors_[i].symbol == symbol) return i;
  throw BrokenPromise("data/model.toml has no parameter " + std::string(symbol));
}

}  // namespace barm::brew
