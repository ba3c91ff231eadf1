/**
 * @file reference_draft.c
 * Adaptors of the flow laws: draft, friction, dampers, openings, probe.
 */

#include "reference_draft.h"

#include <math.h>
#include <string.h>

#include "damper.h"
#include "stack.h"
#include "friction.h"
#include "kiln.h"
#include "moist_air.h"
#include "opening.h"
#include "oxygen.h"

#define RAD_PER_DEG (DW_PI / 180.0)

double ref_hole_mass(double area_m2, double cd, double rho_kg_m3, double dp_pa)
{
    dw_hole hole;
    dw_opening_flow flow;
    if (dw_hole_init(area_m2, cd, rho_kg_m3, rho_kg_m3, &hole) != DW_OK) return NAN;
    dw_hole_flow(&hole, -dp_pa, &flow);
    return flow.mass_kg_s;
}

/* ---- draft, stack ------------------------------------------------------------------------- */

static double draft(const ref_row *row, double gas_molar_mass)
{
    const double p = ref_number(row, "pressure_pa_abs");
    const double rho_out =
        dw_ideal_gas_density_kg_m3(M_AIR_TABLE, ref_number(row, "outside_temperature_k"), p);
    const double rho_gas =
        dw_ideal_gas_density_kg_m3(gas_molar_mass, ref_number(row, "mean_temperature_k"), p);
    return dw_draft_theoretical_pa(rho_out, rho_gas, ref_number(row, "height_m"));
}

double ref_draft_theoretical(const ref_row *row)
{
    return draft(row, ref_number_or(row, "gas_molar_mass_kg_mol", M_AIR_TABLE));
}

double ref_draft_missed(const ref_row *row)
{
    /* Share of the true draft that is missed when flue gas is taken for air. */
    const double with_gas = draft(row, ref_number(row, "gas_molar_mass_kg_mol"));
    return 100.0 * (with_gas - draft(row, M_AIR_TABLE)) / with_gas;
}

double ref_friction_factor(const ref_row *row)
{
    return dw_friction_factor(ref_number(row, "reynolds"), ref_number(row, "relative_roughness"),
                              ref_number_or(row, "reynolds_floor", 0.0), NULL);
}

double ref_air_viscosity(const ref_row *row)
{
    return dw_air_viscosity_pa_s(ref_number(row, "temperature_k"), NULL);
}

/* Friction loss, f (L/D) rho v^2/2. */
static double friction_pa(double factor, double length_m, double diameter_m, double rho_kg_m3,
                          double velocity_m_s)
{
    return 0.5 * factor * length_m / diameter_m * rho_kg_m3 * velocity_m_s * velocity_m_s;
}

double ref_duct_friction(const ref_row *row)
{
    return friction_pa(ref_friction_factor(row), ref_number(row, "length_m"),
                               ref_number(row, "diameter_m"), ref_number(row, "density_kg_m3"),
                               ref_number(row, "velocity_m_s"));
}

static dw_stack_state stack(const ref_row *row)
{
    const double diameter = ref_number(row, "diameter_m");
    const dw_stack_law law = {
        .height_m = ref_number(row, "height_m"),
        .area_m2 = ref_circle_m2(diameter),
        .hydraulic_diameter_m = diameter,
        .roughness_m = ref_number(row, "roughness_m"),
        .loss_sum = ref_number(row, "loss_sum"),
        .ntu = ref_number(row, "ntu"),
        .ua_w_k = NAN,
        .outside_temperature_k = ref_number(row, "outside_temperature_k"),
        .outside_density_kg_m3 = ref_number(row, "outside_density_kg_m3"),
        .pressure_pa_abs = ref_number(row, "pressure_pa_abs"),
    };
    dw_stack_state state;
    if (dw_stack_law_check(&law) != DW_OK ||
        dw_stack_up(&law, ref_number(row, "mass_kg_s"), ref_number(row, "base_temperature_k"),
                    ref_number(row, "gas_molar_mass_kg_mol"), 1100.0, &state) != DW_OK) {
        state.base_pa = state.mean_temperature_k = NAN;
    }
    return state;
}

double ref_stack_base(const ref_row *row) { return stack(row).base_pa; }

double ref_stack_mean_temperature(const ref_row *row) { return stack(row).mean_temperature_k; }

double ref_wind(const ref_row *row)
{
    return dw_draft_wind_pa(ref_number(row, "density_kg_m3"), ref_number(row, "speed_m_s"),
                            ref_number(row, "room_coeff"), ref_number(row, "stack_coeff"), NULL);
}

/* Transfer units of a loss by UA, from how much of the excess temperature is left at the top. */
double ref_stack_ntu(const ref_row *row)
{
    const double diameter = ref_number_or(row, "diameter_m", 0.2), out_k = 293.15, base_k = 1273.15;
    dw_stack_law law = {
        .height_m = ref_number_or(row, "height_m", 3.6),
        .area_m2 = ref_circle_m2(diameter),
        .hydraulic_diameter_m = diameter,
        .ntu = NAN,
        .outside_temperature_k = out_k,
        .outside_density_kg_m3 = 1.2,
        .pressure_pa_abs = DW_ATM_PA,
    };
    const double conductance = ref_number_or(row, "conductance_w_m2_k", NAN);
    law.ua_w_k = isnan(conductance) ? ref_number(row, "ua_w_k") : dw_stack_wall_ua_w_k(conductance, &law, NULL);
    dw_stack_state state;
    if (dw_stack_law_check(&law) != DW_OK ||
        dw_stack_up(&law, ref_number(row, "mass_kg_h") / 3600.0, base_k, 0.0285, ref_number(row, "cp_j_kg_k"),
                    &state) != DW_OK) {
        return NAN;
    }
    return -log((state.top_temperature_k - out_k) / (base_k - out_k));
}

double ref_stack_wall_ua(const ref_row *row)
{
    const double diameter = ref_number(row, "diameter_m");
    const dw_stack_law law = {.height_m = ref_number(row, "height_m"),
                              .area_m2 = ref_circle_m2(diameter),
                              .hydraulic_diameter_m = diameter};
    return dw_stack_wall_ua_w_k(ref_number(row, "conductance_w_m2_k"), &law, NULL);
}

/** Draft minus friction, with the friction factor that the old k W^2 C H/A^3 (in w.c., lb/s, ft)
 *  amounts to: f = 8 rho k in SI. */
double ref_available_draft(const ref_row *row)
{
    const double diameter = ref_number(row, "diameter_m");
    const double rho = dw_ideal_gas_density_kg_m3(
        M_AIR_TABLE, ref_number(row, "mean_temperature_k"), ref_number(row, "pressure_pa_abs"));
    const double foot = 0.3048;
    const double k_si = ref_number(row, "coeff_old") * PA_PER_INWC * ref_square(ref_square(foot)) /
                        ref_square(0.45359237);
    const double v = ref_number(row, "mass_kg_s") / (rho * ref_circle_m2(diameter));
    const double friction =
        friction_pa(8.0 * rho * k_si, ref_number(row, "height_m"), diameter, rho, v);
    return (ref_draft_theoretical(row) - friction) / PA_PER_INWC;
}

/* ---- dampers ------------------------------------------------------------------------------ */

double ref_slide_loss(const ref_row *row)
{
    const dw_damper_setting setting = {ref_number(row, "open_frac"), 0.01, 1.0};
    dw_damper_loss loss;
    const double k = ref_number_or(row, "downstream_ratio", 1.0);
    return dw_damper_slide(&setting, k, NULL, &loss) == DW_OK ? loss.loss : NAN;
}

/** Loss past a shelf / that of a thin plate. */
double ref_shelf_factor(const ref_row *row)
{
    static const double ratio[] = {0.5, 1.0, 2.0, 4.0}, factor[] = {1.0, 0.83, 0.61, 0.55};
    const dw_damper_setting setting = {ref_number(row, "open_frac"), 0.001, 1.0};
    const dw_damper_plate plate = {ref_number(row, "thickness_m"), ref_number(row, "width_m"), ratio, factor, 4};
    dw_damper_loss thick, thin;
    if (dw_damper_shelf(&setting, &plate, NULL, &thick) != DW_OK ||
        dw_damper_slide(&setting, 0.0, NULL, &thin) != DW_OK) {
        return NAN;
    }
    return thick.loss / thin.loss;
}

/** What a flue or stack is given when nothing else is said. */
double ref_default_loss(const ref_row *row)
{
    const char *name = ref_word(row, "fitting", "");
    dw_kiln kiln;
    dw_kiln_init(&kiln);
    if (strcmp(name, "entry") == 0) return kiln.flue[0].entry_loss;
    if (strcmp(name, "bend") == 0) return kiln.stack.bend_loss;
    if (strcmp(name, "exit") == 0) return kiln.stack.exit_loss;
    return NAN;
}

double ref_butterfly_open(const ref_row *row)
{
    return dw_butterfly_open_frac(ref_number(row, "angle_deg") * RAD_PER_DEG);
}

static const double round_deg[] = {5, 10, 20, 30, 40, 50, 60, 70};
static const double round_loss[] = {0.24, 0.52, 1.54, 3.91, 10.8, 32.6, 118, 751};
static const double rectangular_deg[] = {10, 20, 30, 40, 50, 60, 70};
static const double rectangular_loss[] = {0.45, 1.34, 3.54, 9.27, 24.9, 77.4, 368};
static const double thin_deg[] = {0, 10, 20, 30, 40, 50, 60};
static const double thin_loss[] = {0.20, 0.52, 1.5, 4.5, 11, 29, 108};

double ref_butterfly_loss(const ref_row *row)
{
    const char *name = ref_word(row, "table", "");
    const double *deg = round_deg;
    const double *zeta = round_loss;
    int count = 8;
    if (strcmp(name, "rectangular") == 0) {
        deg = rectangular_deg;
        zeta = rectangular_loss;
        count = 7;
    } else if (strcmp(name, "thin") == 0) {
        deg = thin_deg;
        zeta = thin_loss;
        count = 7;
    } else if (strcmp(name, "round") != 0) {
        return NAN;
    }
    double angle[8];
    for (int i = 0; i < count; i++)
        angle[i] = deg[i] * RAD_PER_DEG;
    const double f = dw_butterfly_open_frac(ref_number(row, "angle_deg") * RAD_PER_DEG);
    const dw_damper_setting setting = {f, 1e-3, 1.0};
    dw_damper_loss loss;
    return dw_damper_butterfly(&setting, angle, zeta, count, NULL, &loss) == DW_OK ? loss.loss : NAN;
}

/* ---- openings ----------------------------------------------------------------------------- */

static double air_density(double temperature_k)
{
    return dw_ideal_gas_density_kg_m3(M_AIR_TABLE, temperature_k, DW_ATM_PA);
}

double ref_pressure_gradient(const ref_row *row)
{
    return dw_draft_pressure_at_pa(0.0, air_density(ref_number(row, "outside_temperature_k")),
                                   air_density(ref_number(row, "inside_temperature_k")), 1.0, 0.0);
}

/** Two openings, one above the other: pressures and flow where in equals out. */
typedef struct two_openings {
    double bottom_pa, top_pa, flow_kg_s;
} two_openings;

static two_openings solve_two_openings(const ref_row *row)
{
    const double rho_out = air_density(ref_number(row, "outside_temperature_k"));
    const double rho_in = air_density(ref_number(row, "inside_temperature_k"));
    const double cd = ref_number(row, "discharge_coeff");
    const double height = ref_number(row, "height_m");
    two_openings state = {NAN, NAN, NAN};
    dw_hole bottom, top;
    if (dw_hole_init(ref_number(row, "bottom_area_m2"), cd, rho_out, rho_in, &bottom) != DW_OK ||
        dw_hole_init(ref_number(row, "top_area_m2"), cd, rho_out, rho_in, &top) != DW_OK) {
        return state;
    }
    double low = -100.0;
    double high = 100.0;
    for (int i = 0; i < 100; i++) {
        const double p = 0.5 * (low + high);
        dw_opening_flow at_bottom, at_top;
        state.bottom_pa = -p;
        state.top_pa = dw_draft_pressure_at_pa(p, rho_out, rho_in, height, 0.0);
        dw_hole_flow(&bottom, p, &at_bottom);
        dw_hole_flow(&top, state.top_pa, &at_top);
        state.flow_kg_s = at_bottom.mass_kg_s;
        if (at_bottom.mass_kg_s + at_top.mass_kg_s > 0.0)
            low = p;
        else
            high = p;
    }
    return state;
}

double ref_two_openings_flow(const ref_row *row) { return solve_two_openings(row).flow_kg_s; }

double ref_two_openings_bottom(const ref_row *row) { return solve_two_openings(row).bottom_pa; }

double ref_two_openings_top(const ref_row *row) { return solve_two_openings(row).top_pa; }

double ref_two_openings_neutral(const ref_row *row)
{
    return dw_draft_neutral_plane_m(-solve_two_openings(row).bottom_pa,
                                    air_density(ref_number(row, "outside_temperature_k")),
                                    air_density(ref_number(row, "inside_temperature_k")), 0.0);
}

/** One tall opening with equal flows in and out. */
static dw_tall_flow solve_tall(const ref_row *row)
{
    const double height = ref_number(row, "height_m");
    dw_tall tall;
    dw_tall_flow flow = {.in_kg_s = NAN, .neutral_m = NAN};
    if (dw_tall_init(ref_number(row, "width_m") * height, ref_number(row, "discharge_coeff"), 0.0,
                     height, air_density(ref_number(row, "outside_temperature_k")),
                     air_density(ref_number(row, "inside_temperature_k")), &tall) != DW_OK) {
        return flow;
    }
    double low = -100.0;
    double high = 100.0;
    for (int i = 0; i < 100; i++) {
        const double p = 0.5 * (low + high);
        dw_tall_opening_flow(&tall, p, NULL, NULL, &flow);
        if (flow.net_kg_s > 0.0)
            low = p;
        else
            high = p;
    }
    return flow;
}

double ref_tall_neutral(const ref_row *row) { return solve_tall(row).neutral_m; }

double ref_tall_flow(const ref_row *row) { return solve_tall(row).in_kg_s; }

/** Openings at a given inside pressure and densities, inwards positive. */
double ref_hole_in(const ref_row *row)
{
    dw_hole hole;
    dw_opening_flow flow;
    if (dw_hole_init(ref_number(row, "area_m2"), ref_number(row, "discharge_coeff"),
                     ref_number(row, "outside_density_kg_m3"),
                     ref_number(row, "inside_density_kg_m3"), &hole) != DW_OK) {
        return NAN;
    }
    dw_hole_flow(&hole, ref_number(row, "pressure_pa"), &flow);
    return flow.mass_kg_s;
}

static dw_tall_flow tall_at(const ref_row *row)
{
    dw_tall tall;
    dw_tall_flow flow = {.in_kg_s = NAN, .out_kg_s = NAN};
    if (dw_tall_init(ref_number(row, "area_m2"), ref_number(row, "discharge_coeff"),
                     ref_number(row, "from_m"), ref_number(row, "to_m"),
                     ref_number(row, "outside_density_kg_m3"),
                     ref_number(row, "inside_density_kg_m3"), &tall) == DW_OK) {
        dw_tall_opening_flow(&tall, ref_number(row, "pressure_pa"), NULL, NULL, &flow);
    }
    return flow;
}

double ref_tall_in_at(const ref_row *row) { return tall_at(row).in_kg_s; }

double ref_tall_out_at(const ref_row *row) { return tall_at(row).out_kg_s; }

double ref_hole_volume(const ref_row *row)
{
    const double rho = ref_number(row, "density_kg_m3");
    return ref_hole_mass(ref_number(row, "area_m2"), ref_number(row, "discharge_coeff"), rho,
                         ref_number(row, "pressure_pa")) /
           rho;
}

double ref_crack_mass(const ref_row *row)
{
    const double rho = ref_number(row, "density_kg_m3");
    dw_crack crack;
    dw_opening_flow flow;
    if (dw_crack_init(ref_number(row, "area_m2"), ref_number(row, "discharge_coeff"),
                      ref_number(row, "exponent"), ref_number(row, "reference_pa"), rho, rho,
                      &crack) != DW_OK) {
        return NAN;
    }
    dw_crack_flow(&crack, -ref_number(row, "pressure_pa"), &flow);
    return flow.mass_kg_s;
}

/** Of a hole 50 mm wide whose coefficient follows from its depth. */
double ref_opening_discharge(const ref_row *row)
{
    dw_opening o;
    dw_opening_init(&o);
    o.area_m2 = ref_circle_m2(0.05);
    o.depth_m = 0.05 * ref_number(row, "depth_widths");
    o.discharge_coeff = NAN;
    return dw_opening_discharge_coeff(&o, NULL);
}

/* A level joint of a square metre at a viscosity and density that are given: the temperature on both sides is
 * the one at which air has that viscosity. */
static double joint_mass(const ref_row *row)
{
    const double rho = ref_number(row, "density_kg_m3"), mu = ref_number(row, "viscosity_pa_s");
    const double width = ref_number(row, "width_m");
    double low = 100.0, high = 3000.0;
    for (int i = 0; i < 100; i++) {
        const double t = 0.5 * (low + high);
        if (dw_air_viscosity_pa_s(t, NULL) < mu)
            low = t;
        else
            high = t;
    }
    const dw_joint_size size = {width, ref_number(row, "depth_m"), 1.0 / width, NAN, NAN};
    const dw_joint_side side = {rho, low};
    dw_joint joint;
    dw_opening_flow flow;
    if (dw_joint_init(&size, &side, &side, NULL, &joint) != DW_OK) return NAN;
    dw_joint_flow(&joint, -ref_number(row, "pressure_pa"), NULL, NULL, &flow);
    return flow.mass_kg_s;
}

double ref_joint_speed(const ref_row *row) { return joint_mass(row) / ref_number(row, "density_kg_m3"); }

double ref_joint_mass(const ref_row *row) { return joint_mass(row); }

double ref_joint_share(const ref_row *row)
{
    return joint_mass(row) / ref_hole_mass(1.0, ref_number(row, "discharge_coeff"),
                                           ref_number(row, "density_kg_m3"), ref_number(row, "pressure_pa"));
}

/** Discharge coefficient of the hole of the same area that lets through as much. */
double ref_joint_discharge(const ref_row *row)
{
    return joint_mass(row) /
           ref_hole_mass(1.0, 1.0, ref_number(row, "density_kg_m3"), ref_number(row, "pressure_pa"));
}

double ref_restriction_volume(const ref_row *row)
{
    const double rho = ref_number(row, "density_kg_m3");
    dw_restriction_state state;
    if (dw_restriction_flow(ref_number(row, "area_m2"), ref_number(row, "discharge_coeff"), rho,
                            ref_number(row, "pressure_pa"), &state) != DW_OK) {
        return NAN;
    }
    return state.mass_kg_s / rho;
}

/* ---- probe -------------------------------------------------------------------------------- */

double ref_probe_emf(const ref_row *row)
{
    const double p = ref_number(row, "pressure_pa_abs");
    const double x = ref_number_or(row, "x_o2", NAN);
    const double log10_po2 = isnan(x) ? ref_number(row, "log10_po2_bar") : log10(x * p / DW_BAR_PA);
    return dw_probe_emf_v(log10_po2, ref_number(row, "temperature_k"), p);
}

double ref_probe_log10_po2(const ref_row *row)
{
    return dw_probe_log10_po2_bar(ref_number(row, "emf_v"), ref_number(row, "temperature_k"),
                                  ref_number(row, "pressure_pa_abs"));
}

double ref_probe_decade(const ref_row *row)
{
    const double t = ref_number(row, "temperature_k");
    return dw_probe_emf_v(-8.0, t, DW_ATM_PA) - dw_probe_emf_v(-7.0, t, DW_ATM_PA);
}

double ref_probe_nepers(const ref_row *row) { return ref_probe_decade(row) / log(10.0); }

double ref_probe_inverse_constant(const ref_row *row)
{
    const double t = ref_number(row, "temperature_k");
    const double decades =
        dw_probe_log10_po2_bar(0.0, t, DW_ATM_PA) - dw_probe_log10_po2_bar(1.0, t, DW_ATM_PA);
    return decades * log(10.0) * t;
}
