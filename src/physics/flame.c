#include "flame.h"

#include <math.h>

#include "constants.h"

double dw_flammable_ratio(const double *x, const double *lean_limit_x, size_t count)
{
    double sum = 0.0;
    for (size_t i = 0; i < count; i++) {
        if (!isnan(lean_limit_x[i])) sum += x[i] / lean_limit_x[i];
    }
    return sum;
}

DW_LAW(part_limit, "x_lim", "lean limit of the part of the chamber gas that burns", "", "le-chatelier",
       (double a, double r), a / r)
const dw_law *const dw_flammable_limit_law = &part_limit_law;

/* What of a gas has a limit. */
static double burning_part(const double *x, const double *limit_x, size_t count)
{
    double burns = 0.0;
    for (size_t i = 0; i < count; i++) {
        if (!isnan(limit_x[i])) burns += x[i];
    }
    return burns;
}

double dw_flammable_limit(const double *x, const double *limit_x, size_t count)
{
    const double burns = burning_part(x, limit_x, count);
    return burns > 0.0 ? part_limit(burns, dw_flammable_ratio(x, limit_x, count)) : NAN;
}

/* As they are shown: worked out from the limit of the part that burns. */
static const dw_law lean_limit_law = {"x_lean", "least gas in air that burns", "", "le-chatelier",
                                      "(1.0 - slope*(T_room - 298.15))/n"};
static const dw_law rich_limit_law = {"x_rich", "to", "", "le-chatelier", "fmin(1.0/n, 1.0)"};
DW_LAW(hot_ratio, "r_hot", "chamber gas / its lean limit at its own temperature", "", "burgess-wheeler",
       (double r_lim, double slope, double T_gas), r_lim / (1.0 - slope * (T_gas - 298.15)))
DW_LAW(fill_time, "t", "time until a space is at the lean limit", "s", "definition",
       (double x_lean, double V, double q), x_lean * V / q)

static bool rule_holds(double temperature_k)
{
    return temperature_k >= DW_FLAMMABLE_LOW_K && temperature_k <= DW_FLAMMABLE_HIGH_K;
}

double dw_lean_limit_factor(double slope_per_k, double temperature_k)
{
    return rule_holds(temperature_k) ? 1.0 - slope_per_k * (temperature_k - 298.15) : NAN;
}

double dw_lean_limit(const double *x, const double *limit_x, size_t count, double slope_per_k,
                     double temperature_k, const char *keys, dw_working *w)
{
    const double part = burning_part(x, limit_x, count);
    if (!(part > 0.0)) return NAN;
    const double whole =
        dw_flammable_limit(x, limit_x, count) * dw_lean_limit_factor(slope_per_k, temperature_k) / part;
    if (isnan(whole)) return NAN;
    return dw_law_step(w, keys, "n>sum(a_f/l_f)", NULL, &lean_limit_law, whole);
}

double dw_rich_limit(const double *x, const double *limit_x, size_t count, const char *keys, dw_working *w)
{
    const double burns = burning_part(x, limit_x, count);
    if (!(burns > 0.0)) return NAN;
    return dw_law_step(w, keys, "n>sum(a_f/r_f)", NULL, &rich_limit_law,
                       fmin(dw_flammable_limit(x, limit_x, count) / burns, 1.0));
}

double dw_flammable_ratio_hot(double ratio, double slope_per_k, double temperature_k, const char *keys,
                              dw_working *w)
{
    if (!rule_holds(temperature_k)) return NAN;
    return DW_STEP_FOR(w, keys, hot_ratio, (ratio, slope_per_k, temperature_k));
}

double dw_fill_time_s(double limit_x, double volume_m3, double gas_m3_s, const char *keys, const char *names,
                      const char *meaning, dw_working *w)
{
    if (!(gas_m3_s > 0.0)) return INFINITY;
    return DW_STEP_AS(w, keys, names, meaning, fill_time, (limit_x, volume_m3, gas_m3_s));
}

/* ---- gas at an opening --------------------------------------------------------------- */

/* Below this CO does not light in air: 610 degC [bumines627]. */
static const double lights_from_k = 883.15;

DW_LAW(per_cm3, "c", "moles of gas in a cubic centimetre", "mol/cm3", "definition",
       (double p_air, double R, double T_x), p_air / (R * T_x) / 1000000.0)
DW_LAW(burns_in, "tau", "time in which CO would burn as fast as it begins to", "s", "dryer1973",
       (double T_x, double R, double c, double y_H2O, double y_O2),
       1.0 / (pow(10.0, 14.6) * exp(-167360.0 / (R * T_x)) * sqrt(c * y_H2O) * pow(c * y_O2, 0.25)))
DW_LAW(air_taken_in, "a", "moles of room air to a mole of kiln gas that cool it to T_x", "", "definition",
       (double h_gas, double h_gas_x, double h_air_x, double h_air), (h_gas - h_gas_x) / (h_air_x - h_air))
DW_LAW(thinned, "y", "share in the mixture", "", "definition", (double x, double a, double x_air),
       (x + a * x_air) / (1.0 + a))
DW_LAW(damkoehler, "Da", "time for ten widths of the hole / time to burn", "", "judgement",
       (double d, double v, double tau), 10.0 * d / v / tau)
DW_LAW(hot_enough, "hot", "0 at 610 degC, 1 at 760 degC", "", "judgement", (double T_x),
       fmin(fmax((T_x - 883.15) / 150.0, 0.0), 1.0))
DW_LAW(fast_enough, "fast", "0 at a Da of 1, 1 at 10", "", "judgement", (double Da),
       fmin(fmax((Da - 1.0) / 9.0, 0.0), 1.0))
DW_LAW(burnt_there, "burnt", "share that burns where it comes out", "", "judgement", (double hot, double fast),
       0.9 * hot * fast)

const dw_law *const dw_port_da_law = &damkoehler_law, *const dw_port_fast_law = &fast_enough_law,
             *const dw_port_burnt_law = &burnt_there_law;

double dw_co_burns_in_s(double temperature_k, double pressure_pa_abs, double x_h2o, double x_o2, dw_working *w)
{
    const double c = DW_STEP(w, per_cm3, (pressure_pa_abs, DW_R_J_MOL_K, temperature_k));
    if (!(x_h2o > 0.0 && x_o2 > 0.0)) return INFINITY;
    return DW_STEP(w, burns_in, (temperature_k, DW_R_J_MOL_K, c, x_h2o, x_o2));
}

/* A meeting on its way to its fastest mixture. */
typedef struct search {
    const dw_port_meeting *m;
    int h2o, o2;
    double h_gas, h_air;     /* of the gas and of the air before they meet [J/mol] */
} search;

static double gas_enthalpy(const search *s, double t_k)
{
    return dw_mixture_enthalpy_j_mol(s->m->table, s->m->x_gas, t_k);
}

static double air_enthalpy(const search *s, double t_k)
{
    return dw_mixture_enthalpy_j_mol(s->m->table, s->m->x_air, t_k);
}

/* The mixture that is this warm. */
static dw_port_flame mixture_at(const search *s, double t_k, dw_working *w)
{
    const dw_port_meeting *m = s->m;
    dw_port_flame f = {.temperature_k =
                           dw_law_given(w, DW_WORK_SOLVED, "T_x", "temperature of the mixture that burns fastest, "
                                                                  "before it burns", "K", t_k)};
    const double gas_x = dw_law_given(w, DW_WORK_DATA, "h_gas_x", "enthalpy of the kiln gas at T_x", "J/mol",
                                      gas_enthalpy(s, t_k));
    const double air_x = dw_law_given(w, DW_WORK_DATA, "h_air_x", "enthalpy of the air at T_x", "J/mol",
                                      air_enthalpy(s, t_k));
    f.air_mol_mol = DW_STEP(w, air_taken_in, (s->h_gas, gas_x, air_x, s->h_air));
    f.x_h2o = DW_STEP_AS(w, "", "y>y_H2O x>xg_H2O x_air>xa_H2O", "share of H2O in the mixture", thinned,
                         (m->x_gas[s->h2o], f.air_mol_mol, m->x_air[s->h2o]));
    f.x_o2 = DW_STEP_AS(w, "", "y>y_O2 x>xg_O2 x_air>xa_O2", "share of O2 in the mixture", thinned,
                        (m->x_gas[s->o2], f.air_mol_mol, m->x_air[s->o2]));
    f.tau_s = dw_co_burns_in_s(t_k, m->pressure_pa_abs, f.x_h2o, f.x_o2, w);
    return f;
}

/* Moles of air that just burn a mole of the gas; 0 where it has oxygen to spare. */
static double just_enough(const dw_port_meeting *m)
{
    const dw_elements gas = dw_elements_from_moles(m->table, m->x_gas);
    const dw_elements air = dw_elements_from_moles(m->table, m->x_air);
    return fmax(-gas.excess_o / air.excess_o, 0.0);
}

/* Temperature of the mixture with just enough air, or the least at which CO lights: the air grows as it falls. */
static double coldest_k(const search *s)
{
    const double enough = just_enough(s->m);
    double cold = lights_from_k, hot = s->m->gas_temperature_k;
    if (mixture_at(s, cold, NULL).air_mol_mol <= enough) return cold;
    for (int i = 0; i < 60; i++) {
        const double middle = 0.5 * (cold + hot);
        if (mixture_at(s, middle, NULL).air_mol_mol > enough) {
            cold = middle;
        } else {
            hot = middle;
        }
    }
    return hot;
}

/* The least time to burn between two temperatures, by golden section: oxygen grows with the air that is taken in
 * and the speed falls with the temperature, so there is one. */
static double fastest_k(const search *s, double low, double high)
{
    const double part = 0.5 * (sqrt(5.0) - 1.0);
    double a = high - part * (high - low), b = low + part * (high - low);
    double at_a = mixture_at(s, a, NULL).tau_s, at_b = mixture_at(s, b, NULL).tau_s;
    for (int i = 0; i < 60; i++) {
        if (at_a < at_b) {
            high = b;
            b = a;
            at_b = at_a;
            a = high - part * (high - low);
            at_a = mixture_at(s, a, NULL).tau_s;
        } else {
            low = a;
            a = b;
            at_a = at_b;
            b = low + part * (high - low);
            at_b = mixture_at(s, b, NULL).tau_s;
        }
    }
    return 0.5 * (low + high);
}

dw_status dw_port_flame_find(const dw_port_meeting *m, dw_working *w, dw_port_flame *flame)
{
    if (flame == NULL) return DW_ERR_ARG;
    *flame = (dw_port_flame){.temperature_k = NAN, .air_mol_mol = NAN, .x_h2o = NAN, .x_o2 = NAN, .tau_s = INFINITY};
    if (m == NULL || m->table == NULL || m->x_gas == NULL || m->x_air == NULL) return DW_ERR_ARG;
    search s = {.m = m, .h2o = dw_species_find(m->table, "H2O"), .o2 = dw_species_find(m->table, "O2")};
    if (s.h2o < 0 || s.o2 < 0) return DW_ERR_DOMAIN;
    s.h_gas = gas_enthalpy(&s, m->gas_temperature_k);
    s.h_air = air_enthalpy(&s, m->air_temperature_k);
    if (isnan(s.h_gas) || isnan(s.h_air)) return DW_ERR_DOMAIN;
    if (!(m->gas_temperature_k > lights_from_k && m->air_temperature_k < lights_from_k)) return DW_OK;
    double t_k = fastest_k(&s, coldest_k(&s), m->gas_temperature_k);
    (void)dw_law_given(w, DW_WORK_DATA, "h_gas", "enthalpy of the kiln gas", "J/mol", s.h_gas);
    (void)dw_law_given(w, DW_WORK_DATA, "h_air", "enthalpy of the room's air", "J/mol", s.h_air);
    (void)dw_law_given(w, DW_WORK_STEP, "xg_H2O", "H2O in the kiln gas", "", m->x_gas[s.h2o]);
    (void)dw_law_given(w, DW_WORK_STEP, "xa_H2O", "H2O in the room's air", "", m->x_air[s.h2o]);
    (void)dw_law_given(w, DW_WORK_STEP, "xg_O2", "O2 in the kiln gas", "", m->x_gas[s.o2]);
    (void)dw_law_given(w, DW_WORK_STEP, "xa_O2", "O2 in the room's air", "", m->x_air[s.o2]);
    *flame = mixture_at(&s, t_k, w);
    return DW_OK;
}

double dw_port_hot(double temperature_k, dw_working *w) { return DW_STEP(w, hot_enough, (temperature_k)); }

double dw_port_burnt_frac(const dw_port_flame *f, double width_m, double speed_m_s)
{
    if (isnan(f->temperature_k) || !(speed_m_s > 0.0)) return 0.0;
    return burnt_there(dw_port_hot(f->temperature_k, NULL), fast_enough(damkoehler(width_m, speed_m_s, f->tau_s)));
}
