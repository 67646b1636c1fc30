#include "operations/shipped.h"

#include "data/embedded.h"

namespace barm::operations {

const recipe::Knowledge& shipped_knowledge() {
  static const recipe::Knowledge knowledge{
      food::Library::read(data::file("foods.toml")), compost::Kinds::read(data::file("composts.toml")),
      brew::Priors::read(data::file("model.toml")), brew::Instruments::read(data::file("instruments.toml"))};
  return knowledge;
}

const count::Tables& shipped_count_tables() {
  static const count::Tables tables = count::Tables::read(data::file("counts.toml"));
  return tables;
}

const std::vector<compost::HeatRule>& shipped_heat_rules() {
  static const auto rules = compost::read_heat_rules(data::file("heat_rules.toml"));
  return rules;
}

}  // namespace barm::operations
