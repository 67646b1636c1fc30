#include <gtest/gtest.h>

#include <string>

#include "brew/instruments.h"
#include "brew/priors.h"
#include "data/embedded.h"

namespace barm::brew {
namespace {

std::string with(const std::string& text, const std::string& from, const std::string& to) {
  std::string changed = text;
  const auto at = changed.find(from);
  EXPECT_NE(at, std::string::npos) << from;
  return changed.replace(at, from.size(), to);
}

TEST(the_model_file, is_refused_in_another_unit_without_source_or_with_an_unknown_name) {
  const std::string good(data::file("model.toml"));
  EXPECT_NO_THROW(Priors::read(good));
  const auto mu = good.find("[mu_B]");
  const std::string before = good.substr(0, mu), from_mu = good.substr(mu);
  for (const auto& [from, to] : {std::pair{"unit = \"1/h\"", "unit = \"1/d\""},
                                 {"source = \"M10\"", "source = \"\""},
                                 {"value = 0.38", "value = 0.58"},  // above its high end
                                 {"low = 0.25", "low = 0.0"},       // where a logarithm starts
                                 {"log_triangular", "log_square"},
                                 {"[mu_B]", "[mu_Z]"}}) {
    EXPECT_THROW(Priors::read(before + with(from_mu, from, to)), BrokenPromise) << to;
  }
  EXPECT_THROW(Priors::read(with(good, "rho = -0.5", "rho = -1.0")), BrokenPromise);
}

TEST(the_file_of_instruments, is_refused_in_another_unit_or_without_noise) {
  const std::string good(data::file("instruments.toml"));
  const Instruments all = Instruments::read(good);
  EXPECT_EQ(all.oxygen.drift_per_h, 0.01);
  EXPECT_EQ(all.bacteria.offset, 0.4);
  EXPECT_EQ(all.bacteria.slope, 0.0);
  for (const auto& [from, to] : {std::pair{"0.15, unit = \"mg/L\"", "0.15, unit = \"g/L\""},
                                 {"noise = { value = 0.15", "noise = { value = 0.0"},
                                 {"share = { value = 0.05", "share = { value = 1.0"},
                                 {"[protozoa]", "[beetles]"}}) {
    EXPECT_THROW(Instruments::read(with(good, from, to)), BrokenPromise) << to;
  }
}

}  // namespace
}  // namespace barm::brew
