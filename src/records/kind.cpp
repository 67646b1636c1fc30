#include "records/kind.h"

#include <algorithm>

#include "quantity/expects.h"

namespace barm::records {

std::vector<Kind> garden_kinds();
std::vector<Kind> lot_kinds();
std::vector<Kind> brew_kinds();
std::vector<Kind> bed_kinds();

namespace {

const char* unit_in_name(Dimension dimension) {
  switch (dimension) {
    case Dimension::number:
      return "";
    case Dimension::share:
      return "_share";
    case Dimension::volume:
      return "_l";
    case Dimension::mass:
      return "_g";
    case Dimension::temperature:
      return "_c";
    case Dimension::duration:
      return "_h";
    case Dimension::flow:
      return "_l_per_h";
    case Dimension::pressure:
      return "_kpa";
    case Dimension::length:
      return "_m";
    case Dimension::area:
      return "_m2";
    case Dimension::concentration:
      return "_mg_per_l";
    case Dimension::salinity:
      return "_g_per_kg";
    case Dimension::conductivity:
      return "_ms_per_cm";
    case Dimension::rate:
      return "_per_h";
    case Dimension::power:
      return "_w";
    case Dimension::speed:
      return "_m_per_s";
    case Dimension::density:
      return "_kg_per_m3";
    case Dimension::coverage:
      return "_l_per_ha";
    case Dimension::cell_density:
      return "_per_ml";
    case Dimension::angle:
      return "_deg";
  }
  return "";
}

}  // namespace

std::string Field::column() const {
  return name + (type == Type::number ? unit_in_name(dimension) : "");
}

const Field* Kind::field(std::string_view called) const {
  const auto at = position(called);
  return at ? &fields[*at] : nullptr;
}

std::optional<std::size_t> Kind::position(std::string_view called) const {
  for (std::size_t i = 0; i < fields.size(); ++i) {
    if (fields[i].name == called || fields[i].column() == called) return i;
  }
  return std::nullopt;
}

std::string Kind::meaning(const Field& of) const {
  return "records.field." + (of.is_shared ? of.name : name + "." + of.name);
}

Kinds::Kinds(std::vector<Kind> all) : all_(std::move(all)) {
  for (const auto& kind : all_) {
    for (const auto& field : kind.fields) {
      for (const auto& other : field.refers_to)
        expects(find(other) != nullptr, "a field refers to a kind there is not");
      expects(field.version == kind.version || (field.version > kind.version && !field.required),
              "a field that comes later than its kind can be left out");
    }
  }
}

const Kind* Kinds::find(std::string_view name) const {
  const auto at = std::find_if(all_.begin(), all_.end(), [&](const Kind& kind) { return kind.name == name; });
  return at == all_.end() ? nullptr : &*at;
}

std::vector<std::string> Kinds::names() const {
  std::vector<std::string> all;
  for (const auto& kind : all_) all.push_back(kind.name);
  return all;
}

int Kinds::version() const {
  int highest = 1;
  for (const auto& kind : all_) {
    highest = std::max(highest, kind.version);
    for (const auto& field : kind.fields) highest = std::max(highest, field.version);
  }
  return highest;
}

const Kinds& all_kinds() {
  static const Kinds kinds = [] {
    std::vector<Kind> all;
    for (auto& part : {garden_kinds(), lot_kinds(), brew_kinds(), bed_kinds()})
      all.insert(all.end(), part.begin(), part.end());
    return Kinds(std::move(all));
  }();
  return kinds;
}

}  // namespace barm::records
