#include "brew/priors.h"

#include <algorithm>
#include <boost/math/distributions/normal.hpp>
#include <cmath>
#include <map>

#include "quantity/data_entry.h"
#include "quantity/triangular.h"

namespace barm::brew {
namespace {

// The unit each parameter of the model is worked with; a file in another one is refused.
const std::map<std::string_view, std::vector<std::string_view>> symbols_of_unit = {
    {"1", {"alpha",   "alpha_plain", "eff_B",   "theta_B", "beta",          "eta_h",   "eff_F",
           "f_c",     "cult",        "active",  "theta_K", "f_I",           "f_egest", "eta_E",
           "theta_F", "theta_P",     "theta_h", "theta_d", "ciliate_share", "eff_P",   "soluble_share"}},
    {"g COD/g COD", {"Y_B", "Y_st", "Y_F", "Y_P", "Y_an"}},
    {"1/h", {"mu_B", "q_st", "b_B", "q_fe", "k_ext", "k_am", "mu_F", "b_F", "mu_P", "mu_C", "mu_E", "b_E", "b_P"}},
    {"g N/g COD", {"i_NB", "i_NF", "i_NP", "i_NX"}},
    {"h", {"lag_B", "lag_F"}},
    {"mg COD/L", {"K_S", "K_SF", "K_P", "X_Bmin", "K_SE", "K_C"}},
    {"mg O2/L", {"K_O", "K_OF", "K_OP", "K_OC"}},
    {"mg N/L", {"K_N"}},
    {"pg", {"pcod"}},
    {"W/(m2 K)", {"U_wall", "h_surf"}},
    {"kJ/g O2", {"q_met"}},
    {"degC", {"dT_air"}},
    {"m/h", {"k_surface"}},
    {"g COD/(g COD h)", {"k_h"}},
    {"g/g", {"K_X", "Y_C"}},
    {"mg COD/ug dry", {"fungal_cod"}},
    {"pg COD", {"flagellate_cod", "ciliate_cod"}},
    {"mg COD/g dry", {"humic_cod"}},
    {"K", {"room_off"}},
};

std::string_view unit_of(const DataEntry& file, const std::string& symbol) {
  for (const auto& [unit, symbols] : symbols_of_unit)
    if (std::find(symbols.begin(), symbols.end(), symbol) != symbols.end()) return unit;
  file.promise(false, symbol + " is not a parameter");
  return {};
}

Shape shape_of(const DataEntry& entry) {
  const std::string name = entry.text("shape");
  if (name == "fixed") return Shape::fixed;
  if (name == "triangular") return Shape::triangular;
  if (name == "log_triangular") return Shape::log_triangular;
  entry.promise(name == "log_uniform", "unknown shape");
  return Shape::log_uniform;
}

Prior read_prior(DataEntry& file, const std::string& symbol) {
  const DataEntry entry = file.inside(symbol);
  Prior prior{.symbol = symbol,
              .meaning = entry.text("meaning"),
              .unit = std::string(unit_of(file, symbol)),
              .shape = shape_of(entry),
              .source = entry.text("source")};
  if (prior.shape == Shape::fixed) {
    prior.middle = file.number(symbol, prior.unit);
    return prior;
  }
  const Figure figure = file.figure(symbol, prior.unit);
  prior.middle = figure.value, prior.low = figure.low, prior.high = figure.high;
  entry.promise(prior.shape == Shape::triangular || prior.low > 0.0, "a logarithmic shape starts above 0");
  return prior;
}

Correlation read_correlation(const toml::table& from, const DataEntry& file) {
  DataEntry entry(from, "model.toml: correlation");
  const auto of = entry.texts("of");
  entry.promise(of.size() == 2, "two parameters hang together");
  const auto rho = from["rho"].value<double>();
  file.promise(rho && std::abs(*rho) < 1.0, "a correlation lies between -1 and 1");
  return {of[0], of[1], *rho, entry.text("source")};
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
  whole_data_file(text, "model.toml", [&](DataEntry file) {
    for (const std::string& symbol : file.keys()) {
      if (symbol == "correlation") {
        for (const toml::table* each : file.tables(symbol))
          priors.correlations_.push_back(read_correlation(*each, file));
      } else {
        priors.priors_.push_back(read_prior(file, symbol));
      }
    }
  });
  for (const Correlation& c : priors.correlations_) {
    priors.place_of(c.first);
    priors.place_of(c.second);
  }
  return priors;
}

std::size_t Priors::place_of(std::string_view symbol) const {
  for (std::size_t i = 0; i < priors_.size(); ++i)
    if (priors_[i].symbol == symbol) return i;
  throw BrokenPromise("data/model.toml has no parameter " + std::string(symbol));
}

}  // namespace barm::brew
