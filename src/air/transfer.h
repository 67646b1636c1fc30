// Oxygen transfer of a bubbled vessel: three estimates of KLa from the air that reaches the water, and their blend; and the
// standard conversions between clean water at 20 degC and the tank as it is. Model: docs/air/transfer.md
#pragma once

#include "air/pump.h"
#include "quantity/answer.h"

namespace barm::air {

struct KlaEstimate {
  double small_vessel_per_h = unset;     // power law of vvm, MODEL 6 B1; unset when the vessel is not small
  double column_deckwer_per_h = unset;   // bubble column, MODEL 6 B2a; unset below its range
  double column_heijnen_per_h = unset;   // bubble column, MODEL 6 B2b
  double efficiency_per_h = unset;       // from transfer efficiency per metre, MODEL 6 B3
  double kla20_per_h = unset;            // log mean of those that apply, corrected for the diffuser
  double spread_ln = unset;              // standard deviation of ln KLa
};

/// KLa of clean water at 20 degC [1/h] from the free air delivered.
Answer<KlaEstimate> estimate_kla(const Delivered& air, const Vessel& vessel, Diffuser diffuser);

/// KLa at another temperature: theta^(T - 20), theta = 1.024. Source: S14.
double kla_at_temperature_per_h(double kla20_per_h, double temperature_c, double theta = 1.024);

/// Standard oxygen transfer rate [kg/h]: KLa20 x saturation at 20 degC x volume. Source: S14.
double standard_transfer_kg_per_h(double kla20_per_h, double saturation20_mg_per_l, double volume_m3);

/// Standard transfer efficiency [share]: rate over the oxygen in the air blown [m3/h at 20 degC, 1 atm]. Source: S14.
double standard_efficiency_share(double transfer_kg_per_h, double air_m3_per_h);

struct Field {                            // the tank as it is
  double alpha = unset;                   // process over clean water KLa
  double fouling_factor = 1.0;
  double beta = unset;                    // process over clean water saturation
  double theta = 1.024;
  double temperature_c = unset;
  double pressure_kpa = 101.325;
  double oxygen_mg_per_l = 0.0;           // in the tank
  double saturation20_mg_per_l = unset;   // clean water, 20 degC, 1 atm
  double tau = unset;                     // saturation at the temperature over that at 20 degC
};
/// Oxygen transferred in the field [kg/h]. Source: S14. Negative when the water is above its saturation.
double field_transfer_kg_per_h(double standard_kg_per_h, const Field& field);

}  // namespace barm::air
