/**
 * @file reference_flow.c
 * Adaptors of the flow laws: from a row of inputs to one number. A law that answers with an error
 * gives NaN. Air, jets and burners are here, the rest in reference_draft.c.
 */

#include "reference.h"

#include <math.h>

#include "moist_air.h"
#include "constants.h"
#include "injector.h"
#include "jet.h"
#include "reference_draft.h"

#define M_PER_IN 0.0254
#define M3_PER_FT3 0.028316846592

/* ---- air ---------------------------------------------------------------------------------- */

static double elevation(const ref_row *row)
{
    const double h = ref_number(row, "elevation_m");
    const double earth_radius_m = 6356766.0; /* US 1976 */
    return ref_number_or(row, "geometric", 0.0) != 0.0 ? h * earth_radius_m / (earth_radius_m + h)
                                                       : h;
}

static double atmosphere_pressure(const ref_row *row)
{
    return dw_atmosphere_pressure_pa(elevation(row), "", NULL);
}

static double atmosphere_temperature(const ref_row *row)
{
    return dw_atmosphere_temperature_k(elevation(row));
}

static double atmosphere_density(const ref_row *row)
{
    /* The standard's own gas constant and molar mass. */
    return dw_ideal_gas_density_kg_m3(28.9644e-3, atmosphere_temperature(row),
                                      atmosphere_pressure(row)) *
           DW_R_J_MOL_K / 8.31432;
}

static double saturation_pressure(const ref_row *row)
{
    return dw_water_saturation_pressure_pa(ref_number(row, "temperature_k"));
}

static dw_moist_air moist_air(const ref_row *row)
{
    const double t = ref_number(row, "temperature_k");
    const double p = ref_number(row, "pressure_pa_abs");
    const double dew = ref_number_or(row, "dew_point_k", NAN);
    const double h =
        isnan(dew) ? ref_number(row, "relative_humidity")
                   : dw_water_saturation_pressure_pa(dew) / dw_water_saturation_pressure_pa(t);
    dw_moist_air air;
    if (dw_moist_air_from_humidity(t, p, h, NULL, &air) != DW_OK) air.molar_mass_kg_mol = NAN;
    return air;
}

static double moist_air_density(const ref_row *row)
{
    return dw_ideal_gas_density_kg_m3(moist_air(row).molar_mass_kg_mol,
                                      ref_number(row, "temperature_k"),
                                      ref_number(row, "pressure_pa_abs"));
}

static double moist_air_x_h2o(const ref_row *row) { return moist_air(row).x_h2o; }

/** The real-gas density of CIPM-2007 with the library's vapour fraction. */
static double moist_air_density_cipm(const ref_row *row)
{
    const double temp = ref_number(row, "temperature_k");
    const double p = ref_number(row, "pressure_pa_abs");
    const double t = temp - DW_ICE_POINT_K;
    const double xv = moist_air(row).x_h2o;
    const double pt = p / temp;
    const double z = 1.0 -
                     pt * (1.58123e-6 + (-2.9331e-8 + 1.1043e-10 * t) * t +
                           (5.707e-6 - 2.051e-8 * t) * xv + (1.9898e-4 - 2.376e-6 * t) * xv * xv) +
                     pt * pt * (1.83e-11 - 0.765e-8 * xv * xv);
    const double ma = 28.96546e-3;
    return p * ma / (z * 8.314472 * temp) * (1.0 - xv * (1.0 - 18.01528e-3 / ma));
}

static double gas_density(const ref_row *row)
{
    return dw_ideal_gas_density_kg_m3(ref_number(row, "molar_mass_kg_mol"),
                                      ref_number(row, "temperature_k"),
                                      ref_number(row, "pressure_pa_abs"));
}

/* ---- jets --------------------------------------------------------------------------------- */

static double jet_critical_ratio(const ref_row *row)
{
    const dw_jet jet = {1e-6, 1.0, 1.0};
    const dw_jet_gas gas = {0.03, ref_number(row, "heat_capacity_ratio"), 290.0, 2e5};
    dw_jet_supply supply;
    return dw_jet_supply_init(&jet, &gas, &supply) == DW_OK ? supply.critical_ratio : NAN;
}

static dw_jet_flow jet_at(const ref_row *row, double gauge_pa)
{
    const double back = ref_number(row, "back_pa_abs");
    const dw_jet jet = {ref_circle_m2(ref_number(row, "diameter_m")),
                        ref_number(row, "discharge_coeff"), 0.97};
    const dw_jet_gas gas = {ref_number(row, "molar_mass_kg_mol"),
                            ref_number(row, "heat_capacity_ratio"),
                            ref_number(row, "temperature_k"), back + gauge_pa};
    dw_jet_supply supply;
    dw_jet_flow flow = {NAN, NAN, NAN, false};
    if (dw_jet_supply_init(&jet, &gas, &supply) == DW_OK) dw_jet_discharge(&supply, back, &flow);
    return flow;
}

static double jet_mass(const ref_row *row)
{
    return jet_at(row, ref_number(row, "gauge_pa")).mass_kg_s;
}

static double jet_velocity(const ref_row *row)
{
    return jet_at(row, ref_number(row, "gauge_pa")).velocity_m_s;
}

static double jet_thrust(const ref_row *row)
{
    return jet_at(row, ref_number(row, "gauge_pa")).thrust_n;
}

static double jet_choked(const ref_row *row)
{
    return jet_at(row, ref_number(row, "gauge_pa")).choked ? 1.0 : 0.0;
}

static double jet_heat(const ref_row *row) { return jet_mass(row) * ref_number(row, "net_j_kg"); }

static double jet_thin_discharge(const ref_row *row)
{
    const double back = ref_number_or(row, "back_pa_abs", 101325.0);
    return dw_jet_thin_discharge(
        ref_number_or(row, "pressure_ratio", back / (back + ref_number_or(row, "gauge_pa", NAN))), NULL, NULL);
}

static double jet_mass_ratio(const ref_row *row)
{
    return jet_mass(row) / jet_at(row, ref_number(row, "other_gauge_pa")).mass_kg_s;
}

static double jet_over_incompressible(const ref_row *row)
{
    const double gauge = ref_number(row, "gauge_pa");
    const double rho = dw_ideal_gas_density_kg_m3(ref_number(row, "molar_mass_kg_mol"),
                                                  ref_number(row, "temperature_k"),
                                                  ref_number(row, "back_pa_abs") + gauge);
    return jet_mass(row) / ref_hole_mass(ref_circle_m2(ref_number(row, "diameter_m")),
                                         ref_number(row, "discharge_coeff"), rho, gauge);
}

/** The gas trade's formula in its own units. */
static double orifice_1658(const ref_row *row)
{
    return 1658.5 * ref_number(row, "discharge_coeff") *
           ref_circle_m2(ref_number(row, "diameter_in")) *
           sqrt(ref_number(row, "head_inwc") / ref_number(row, "specific_gravity"));
}

/** Its constant, and that of the metric form, from the hole's law. */
static double orifice_us_constant(const ref_row *row)
{
    const double rho = ref_number(row, "air_density_kg_m3");
    return ref_hole_mass(ref_square(M_PER_IN), 1.0, rho, PA_PER_INWC) / rho * 3600.0 / M3_PER_FT3;
}

static double orifice_metric_constant(const ref_row *row)
{
    const double rho = ref_number(row, "air_density_kg_m3");
    return ref_hole_mass(1e-6, 1.0, rho, 100.0) / rho * 3600.0;
}

/** The same orifice by the nozzle law, volume at 60 degF and 1 atm. */
static double jet_volume(const ref_row *row)
{
    const double molar_mass = ref_number(row, "specific_gravity") * M_AIR_TABLE;
    const double t = 288.706;
    const dw_jet jet = {ref_circle_m2(ref_number(row, "diameter_in") * M_PER_IN),
                        ref_number(row, "discharge_coeff"), 0.97};
    const dw_jet_gas gas = {molar_mass, 1.3, t,
                            DW_ATM_PA + ref_number(row, "head_inwc") * PA_PER_INWC};
    dw_jet_supply supply;
    dw_jet_flow flow;
    if (dw_jet_supply_init(&jet, &gas, &supply) != DW_OK) return NAN;
    dw_jet_discharge(&supply, DW_ATM_PA, &flow);
    return flow.mass_kg_s / dw_ideal_gas_density_kg_m3(molar_mass, t, DW_ATM_PA) * 3600.0 /
           M3_PER_FT3;
}

/* ---- inspirating burner ------------------------------------------------------------------- */

static double air_ratio_by_volume(const dw_injector_input *in, double chamber_pa)
{
    dw_injector injector;
    dw_injector_flow flow;
    if (dw_injector_init(in, &injector) != DW_OK) return NAN;
    dw_injector_air(&injector, chamber_pa, NULL, &flow);
    return flow.air_kg_s / in->air_density_kg_m3 / in->jet_volume_m3_s;
}

/** Dimensionless case: any size serves, the ratio must not depend on it. */
static double injector_ratio(const ref_row *row)
{
    const double rho_a = 1.19;
    const double rho_g = ref_number(row, "gas_relative_density") * rho_a;
    const double throat = 7.3e-4;
    const double m_g = 2.3e-4;
    const dw_injector_input in = {.throat_area_m2 = throat,
                                  .kappa_m = ref_number(row, "kappa_m"),
                                  .kappa_a = ref_number(row, "kappa_a"),
                                  .jet_mass_kg_s = m_g,
                                  .jet_volume_m3_s = m_g / rho_g,
                                  .thrust_n = m_g * m_g / rho_g *
                                              ref_number(row, "throat_to_jet_area") / throat,
                                  .air_density_kg_m3 = rho_a};
    return air_ratio_by_volume(&in, 0.0);
}

static double prigg_ratio(const ref_row *row)
{
    return sqrt(ref_number(row, "gas_relative_density")) *
           (sqrt(ref_number(row, "throat_to_jet_area")) - 1.0);
}

/** Worked case: incompressible jet, losses as in the `where` column. */
static dw_injector_input injector_case(const ref_row *row)
{
    const double dp = ref_number(row, "gas_pressure_pa");
    const double rho_g =
        dw_ideal_gas_density_kg_m3(ref_number(row, "gas_molar_mass_kg_mol"), 288.15, DW_ATM_PA);
    const double jet_m2 = ref_circle_m2(ref_number(row, "jet_diameter_m"));
    const double m_g = ref_hole_mass(jet_m2, 0.85, rho_g, dp);
    return (dw_injector_input){
        .throat_area_m2 = ref_circle_m2(ref_number(row, "throat_diameter_m")),
        .kappa_m = dw_injector_kappa_m(0.18, 0.40, 1.6, 0.7, 1.0, NULL),
        .kappa_a = dw_injector_kappa_a(0.5, NULL),
        .jet_mass_kg_s = m_g,
        .jet_volume_m3_s = m_g / rho_g,
        .thrust_n = 2.0 * 0.85 * 0.97 * jet_m2 * dp,
        .air_density_kg_m3 = dw_ideal_gas_density_kg_m3(M_AIR_TABLE, 288.15, DW_ATM_PA)};
}

static double case_gas(const ref_row *row) { return injector_case(row).jet_mass_kg_s; }

static double case_thrust(const ref_row *row) { return injector_case(row).thrust_n; }

static double case_throat_pressure(const ref_row *row)
{
    const dw_injector_input in = injector_case(row);
    return in.thrust_n / in.throat_area_m2;
}

static double case_ratio(const ref_row *row)
{
    const dw_injector_input in = injector_case(row);
    return air_ratio_by_volume(&in, ref_number(row, "chamber_pa"));
}

static double case_aeration(const ref_row *row)
{
    return 100.0 * case_ratio(row) / ref_number(row, "stoichiometric_ratio");
}

static double case_aeration_slope(const ref_row *row)
{
    const dw_injector_input in = injector_case(row);
    return 100.0 * (air_ratio_by_volume(&in, 0.5) - air_ratio_by_volume(&in, -0.5)) /
           ref_number(row, "stoichiometric_ratio");
}

const ref_quantity ref_flow_quantities[] = {
    {"atmosphere_pressure_pa", atmosphere_pressure},
    {"atmosphere_temperature_k", atmosphere_temperature},
    {"atmosphere_density_kg_m3", atmosphere_density},
    {"water_saturation_pressure_pa", saturation_pressure},
    {"moist_air_density_kg_m3", moist_air_density},
    {"moist_air_x_h2o", moist_air_x_h2o},
    {"moist_air_density_cipm_kg_m3", moist_air_density_cipm},
    {"ideal_gas_density_kg_m3", gas_density},
    {"jet_critical_ratio", jet_critical_ratio},
    {"jet_thin_discharge", jet_thin_discharge},
    {"jet_mass_kg_s", jet_mass},
    {"jet_velocity_m_s", jet_velocity},
    {"jet_thrust_n", jet_thrust},
    {"jet_choked", jet_choked},
    {"jet_heat_w", jet_heat},
    {"jet_mass_ratio", jet_mass_ratio},
    {"jet_over_incompressible_ratio", jet_over_incompressible},
    {"jet_volume_ft3_h", jet_volume},
    {"orifice_1658_ft3_h", orifice_1658},
    {"orifice_us_constant", orifice_us_constant},
    {"orifice_metric_constant", orifice_metric_constant},
    {"injector_volume_ratio", injector_ratio},
    {"prigg_volume_ratio", prigg_ratio},
    {"injector_case_gas_kg_s", case_gas},
    {"injector_case_thrust_n", case_thrust},
    {"injector_case_throat_pa", case_throat_pressure},
    {"injector_case_volume_ratio", case_ratio},
    {"injector_case_aeration_percent", case_aeration},
    {"injector_case_aeration_slope_per_pa", case_aeration_slope},
    {"draft_theoretical_pa", ref_draft_theoretical},
    {"draft_missed_percent", ref_draft_missed},
    {"friction_factor", ref_friction_factor},
    {"air_viscosity_pa_s", ref_air_viscosity},
    {"duct_friction_pa", ref_duct_friction},
    {"stack_base_pa", ref_stack_base},
    {"stack_mean_temperature_k", ref_stack_mean_temperature},
    {"wind_pressure_pa", ref_wind},
    {"shelf_factor", ref_shelf_factor},
    {"stack_ntu", ref_stack_ntu},
    {"stack_wall_ua_w_k", ref_stack_wall_ua},
    {"stack_available_draft_inwc", ref_available_draft},
    {"damper_slide_loss", ref_slide_loss},
    {"default_loss", ref_default_loss},
    {"damper_butterfly_loss", ref_butterfly_loss},
    {"butterfly_open_frac", ref_butterfly_open},
    {"pressure_gradient_pa_m", ref_pressure_gradient},
    {"two_openings_neutral_m", ref_two_openings_neutral},
    {"two_openings_flow_kg_s", ref_two_openings_flow},
    {"two_openings_bottom_pa", ref_two_openings_bottom},
    {"two_openings_top_pa", ref_two_openings_top},
    {"tall_opening_neutral_m", ref_tall_neutral},
    {"tall_opening_flow_kg_s", ref_tall_flow},
    {"hole_in_kg_s", ref_hole_in},
    {"tall_in_kg_s", ref_tall_in_at},
    {"tall_out_kg_s", ref_tall_out_at},
    {"hole_volume_m3_s", ref_hole_volume},
    {"crack_mass_kg_s", ref_crack_mass},
    {"opening_discharge", ref_opening_discharge},
    {"joint_speed_m_s", ref_joint_speed},
    {"joint_mass_kg_s_m2", ref_joint_mass},
    {"joint_share_of_hole", ref_joint_share},
    {"joint_discharge", ref_joint_discharge},
    {"restriction_volume_m3_s", ref_restriction_volume},
    {"probe_emf_v", ref_probe_emf},
    {"probe_log10_po2_bar", ref_probe_log10_po2},
    {"probe_decade_v", ref_probe_decade},
    {"probe_nepers_v", ref_probe_nepers},
    {"probe_inverse_constant_k_v", ref_probe_inverse_constant},
    {NULL, NULL}};
