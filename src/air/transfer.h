// Oxygen transfer of a bubbled vessel: three estimates of KLa from the air that reaches the water, and their blend; and
// the standard conversions between clean water at 20 degC and the tank as it is. Model: docs/air/transfer.md
#pragma once

#include "air/pump.h"
#include "quantity/answer.h"

namespace barm::air {

struct KlaEstimate {  // all of clean water at 20 degC; before the diffuser's factor, but for `efficiency`
  double small_vessel_per_h = unset;    // power law of vvm, route 1; unset from 200 L up
  double column_deckwer_per_h = unset;  // bubble column, route 2a
  double column_heijnen_per_h = unset;  // bubble column, route 2b
  double efficiency_per_h = unset;      // from transfer efficiency per metre, route 3; of this diffuser already
  double gas_speed_m_per_s = unset;     // air over the cross-section of the vessel, what the columns go by
  double kla20_per_h = unset;  // log mean of those that apply to a vessel of this size, with the diffuser's factor
  double spread_ln = unset;    // standard deviation of ln KLa: 0.35, or 0.5 when a doubt says it was stretched
};

/// KLa of clean water at 20 degC [1/h] from the free air delivered. Which routes count hangs on the vessel alone, never
/// on the air, so that more air never means less transfer. Doubts: bubbling thinner or harder than the sources saw.
/// Refuses air under 1 L/h and vessels without a size or deeper than 3 m.
Answer<KlaEstimate> estimate_kla(const Delivered& air, const Vessel& vessel, Diffuser diffuser);

/// KLa at another temperature: theta^(T - 20), theta = 1.024. Source: S14.
double kla_at_temperature_per_h(double kla20_per_h, double temperature_c, double theta = 1.024);

/// Standard oxygen transfer rate [kg/h]: KLa20 x saturation at 20 degC x volume. Source: S14.
double standard_transfer_kg_per_h(double kla20_per_h, double saturation20_mg_per_l, double volume_m3);

/// Standard transfer efficiency [share]: rate over the oxygen in the air blown [m3/h at 20 degC, 1 atm]. Source: S14.
double standard_efficiency_share(double transfer_kg_per_h, double air_m3_per_h);

struct Field {           // the tank as it is
  double alpha = unset;  // process over clean water KLa
  double fouling_factor = 1.0;
  double beta = unset;  // process over clean water saturation
  double theta = 1.024;
  double temperature_c = unset;
  double pressure_kpa = 101.325;
  double oxygen_mg_per_l = 0.0;          // in the tank
  double saturation20_mg_per_l = unset;  // clean water, 20 degC, 1 atm
  double tau = unset;                    // saturation at the temperature over that at 20 degC
};
/// Oxygen transferred in the field [kg/h]. Source: S14. Negative when the water is above its saturation.
double field_transfer_kg_per_h(double standard_kg_per_h, const Field& field);

}  // namespace barm::air
