#include "jet.h"

#include <math.h>
#include <stddef.h>

#include "constants.h"

static dw_status check_inputs(const dw_jet *jet, const dw_jet_gas *gas)
{
    if (!isfinite(jet->area_m2) || !isfinite(jet->discharge_coeff) ||
        !isfinite(jet->velocity_coeff) || !isfinite(gas->molar_mass_kg_mol) ||
        !isfinite(gas->heat_capacity_ratio) || !isfinite(gas->temperature_k) ||
        !isfinite(gas->supply_pa_abs)) {
        return DW_ERR_ARG;
    }
    const bool in_domain =
        jet->area_m2 > 0.0 && jet->discharge_coeff > 0.0 && jet->discharge_coeff <= 1.0 &&
        jet->velocity_coeff > 0.0 && jet->velocity_coeff <= 1.0 && gas->molar_mass_kg_mol > 0.0 &&
        gas->heat_capacity_ratio > 1.0 && gas->heat_capacity_ratio <= 5.0 / 3.0 + 1e-12 &&
        gas->temperature_k > 0.0 && gas->supply_pa_abs > 0.0;
    return in_domain ? DW_OK : DW_ERR_DOMAIN;
}

DW_LAW(critical_ratio, "rc", "pressure ratio below which the jet is choked, at the speed of sound", "",
       "isentropic-nozzle", (double k), pow(2.0 / (k + 1.0), k / (k - 1.0)))
DW_LAW(thrust, "J", "thrust of the jet", "N", "momentum-balance", (double Cv, double m, double u),
       Cv * m * u)
DW_LAW(thin_discharge, "Cd", "discharge coefficient of a sharp-edged hole", "", "perry-orifice", (double r),
       0.8414 - 0.1002 * r + 0.8415 * pow(r, 2.0) - 3.9 * pow(r, 3.0) + 4.6001 * pow(r, 4.0) -
           1.6827 * pow(r, 5.0))
/* As they are shown, Rs being R T/M; worked out below so that a burner on a few hundred pascal keeps its
 * digits. */
static const dw_law ratio_law = {"r", "pressure after the jet / pressure before it", "", "definition",
                                 "p_2/p_1"};
static const dw_law larger_law = {"rm", "the larger of these two ratios", "", "isentropic-nozzle",
                                  "fmax(r, rc)"};
static const dw_law mass_law = {
    "m", "", "kg/s", "isentropic-nozzle",
    "Cd*A*p_1*sqrt(2.0*k/((k - 1.0)*Rs)*(pow(rm, 2.0/k) - pow(rm, (k + 1.0)/k)))"};
static const dw_law velocity_law = {"u", "speed of the jet", "m/s", "isentropic-nozzle",
                                    "sqrt(2.0*k/(k - 1.0)*Rs*(1.0 - pow(r, (k - 1.0)/k)))"};

double dw_jet_thin_discharge(double ratio, const char *names, dw_working *w)
{
    if (!(ratio >= 0.0 && ratio <= 1.0)) return NAN;
    return DW_STEP_AS(w, "", names, "discharge coefficient of the jet, a sharp-edged hole", thin_discharge,
                      (ratio));
}

void dw_jet_write_mass(dw_working *w, const char *names, const char *meaning)
{
    dw_law_write(w, "", names, NULL, &ratio_law, NAN);
    dw_law_write(w, "", names, NULL, &critical_ratio_law, NAN);
    dw_law_write(w, "", names, NULL, &larger_law, NAN);
    dw_law_write(w, "", names, meaning, &mass_law, NAN);
}

void dw_jet_write_thrust(dw_working *w, const char *names)
{
    dw_law_write(w, "", names, NULL, &velocity_law, NAN);
    dw_law_write(w, "", names, NULL, &thrust_law, NAN);
}

dw_status dw_jet_supply_init(const dw_jet *jet, const dw_jet_gas *gas, dw_jet_supply *supply)
{
    if (supply == NULL) return DW_ERR_ARG;
    *supply = (dw_jet_supply){NAN, NAN, NAN, NAN, NAN, NAN, NAN};
    if (jet == NULL || gas == NULL) return DW_ERR_ARG;
    const dw_status status = check_inputs(jet, gas);
    if (status != DW_OK) return status;

    const double k = gas->heat_capacity_ratio;
    const double rs_t = DW_R_J_MOL_K * gas->temperature_k / gas->molar_mass_kg_mol;
    supply->supply_pa_abs = gas->supply_pa_abs;
    supply->exponent = 1.0 / k;
    supply->critical_ratio = critical_ratio(k);
    supply->velocity_max_m_s = sqrt(2.0 * k / (k - 1.0) * rs_t);
    supply->mass_per_speed_kg_s =
        jet->discharge_coeff * jet->area_m2 * gas->supply_pa_abs / rs_t * supply->velocity_max_m_s;
    /* At the critical ratio r^((k-1)/k) = 2/(k+1), so the root holds (k-1)/(k+1). */
    supply->mass_choked_kg_s = supply->mass_per_speed_kg_s * pow(2.0 / (k + 1.0), 1.0 / (k - 1.0)) *
                               sqrt((k - 1.0) / (k + 1.0));
    supply->velocity_coeff = jet->velocity_coeff;
    return DW_OK;
}

void dw_jet_discharge(const dw_jet_supply *supply, double back_pa_abs, dw_jet_flow *flow)
{
    if (supply->supply_pa_abs <= back_pa_abs) {
        *flow = (dw_jet_flow){0.0, 0.0, 0.0, false};
        return;
    }
    /* Header symbols: r = p2/p1; share = 1 - r^((k-1)/k), by log1p and expm1 since r is near 1
     * for a burner on a few hundred pascal. */
    const double ln_r = log1p((back_pa_abs - supply->supply_pa_abs) / supply->supply_pa_abs);
    const double share = -expm1((1.0 - supply->exponent) * ln_r);
    const double speed_ratio = sqrt(share);

    flow->choked = back_pa_abs < supply->critical_ratio * supply->supply_pa_abs;
    flow->mass_kg_s =
        flow->choked ? supply->mass_choked_kg_s
                     : supply->mass_per_speed_kg_s * exp(supply->exponent * ln_r) * speed_ratio;
    flow->velocity_m_s = supply->velocity_max_m_s * speed_ratio;
    flow->thrust_n = thrust(supply->velocity_coeff, flow->mass_kg_s, flow->velocity_m_s);
}
