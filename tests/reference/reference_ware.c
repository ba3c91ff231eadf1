/* What the rows of oxides.csv, glaze_iron.csv and ladder.csv are computed with. Oxygen as log10 of
 * bar; the gas tables in per cent, as printed. */

#include "reference.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "constants.h"
#include "glaze_iron.h"
#include "ladder.h"
#include "oxide.h"
#include "oxygen.h"
#include "read_data.h"
#include "root1d.h"

/* The built-in data and the gases that may form, made once. */
static const dw_model *model(void)
{
    static dw_model built;
    static dw_data *data;
    if (data == NULL) {
        data = malloc(sizeof *data);
        if (data == NULL || dw_read_data(NULL, NULL, data) != DW_OK ||
            dw_model_init(&built, data) != DW_OK) {
            abort();
        }
    }
    return &built;
}

static double kelvin(const ref_row *row)
{
    const double t_c = ref_number_or(row, "t_c", NAN);
    return isnan(t_c) ? ref_number(row, "temperature_k") : t_c + DW_ICE_POINT_K;
}

/* ---- buffers ------------------------------------------------------------------------------ */

static const dw_buffer *buffer_of(const ref_row *row)
{
    return dw_buffer_find(&model()->data->oxides, ref_word(row, "buffer", ""));
}

static double buffer_log10_po2(const ref_row *row)
{
    return dw_buffer_log10_po2_bar(buffer_of(row), kelvin(row));
}

typedef struct crossing {
    const dw_buffer *buffer;
    double log10_po2_bar;
} crossing;

static double above(double temperature_k, void *context)
{
    const crossing *c = context;
    return dw_buffer_log10_po2_bar(c->buffer, temperature_k) - c->log10_po2_bar;
}

static double buffer_temperature_k(const dw_buffer *buffer, double log10_po2_bar, double low_k,
                                   double high_k)
{
    crossing c = {buffer, log10_po2_bar};
    dw_root root;
    if (buffer == NULL || dw_root_find(above, &c, low_k, high_k, 1e-6, 0.0, &root) != DW_OK) {
        return NAN;
    }
    return root.x;
}

/* Where the richer oxide falls apart in air. */
static double buffer_air_point_c(const ref_row *row)
{
    return buffer_temperature_k(buffer_of(row), log10(ref_number_or(row, "po2_bar", 0.2095)), 800.0,
                                2300.0) -
           DW_ICE_POINT_K;
}

/* CO/CO2 and H2/H2O at a boundary with the program's own constants. */
static double boundary_co_co2(const ref_row *row)
{
    dw_oxygen_ratio constants;
    if (dw_oxygen_ratio_at(&model()->gases, kelvin(row), &constants) != DW_OK) return NAN;
    return dw_co_co2_from_oxygen(&constants, buffer_log10_po2(row));
}

static double boundary_h2_h2o(const ref_row *row)
{
    dw_oxygen_ratio constants;
    if (dw_oxygen_ratio_at(&model()->gases, kelvin(row), &constants) != DW_OK) return NAN;
    return dw_h2_h2o_from_oxygen(&constants, buffer_log10_po2(row));
}

/* The same with the two straight lines that the table of boundaries was made with: these test the
 * buffers and the way from oxygen to a ratio, not the constants. */
static double line_log10_k(double slope_j_mol, double entropy_j_mol_k, double temperature_k)
{
    return (slope_j_mol / temperature_k - entropy_j_mol_k) / (DW_R_J_MOL_K * log(10.0));
}

static double boundary_line_co_co2(const ref_row *row)
{
    const dw_oxygen_ratio lines = {.k_co2 = pow(10.0, -line_log10_k(282400.0, 86.81, kelvin(row)))};
    return dw_co_co2_from_oxygen(&lines, buffer_log10_po2(row));
}

static double boundary_line_h2_h2o(const ref_row *row)
{
    const dw_oxygen_ratio lines = {.k_h2o = pow(10.0, -line_log10_k(247500.0, 55.85, kelvin(row)))};
    return dw_h2_h2o_from_oxygen(&lines, buffer_log10_po2(row));
}

/* Oxygen of a gas from either ratio. */
static double oxygen_from_ratio(const ref_row *row)
{
    dw_oxygen_ratio constants;
    if (dw_oxygen_ratio_at(&model()->gases, kelvin(row), &constants) != DW_OK) return NAN;
    const double co = ref_number_or(row, "co_co2", NAN);
    return isnan(co) ? dw_oxygen_from_h2_h2o(&constants, ref_number(row, "h2_h2o"))
                     : dw_oxygen_from_co_co2(&constants, co);
}

/* log10 K of the program less that of the line. */
static double co_line_offset(const ref_row *row)
{
    dw_oxygen_ratio constants;
    if (dw_oxygen_ratio_at(&model()->gases, kelvin(row), &constants) != DW_OK) return NAN;
    return -log10(constants.k_co2) - line_log10_k(282400.0, 86.81, kelvin(row));
}

static double h2_line_offset(const ref_row *row)
{
    dw_oxygen_ratio constants;
    if (dw_oxygen_ratio_at(&model()->gases, kelvin(row), &constants) != DW_OK) return NAN;
    return -log10(constants.k_h2o) - line_log10_k(247500.0, 55.85, kelvin(row));
}

/* ---- iron in melts ------------------------------------------------------------------------ */

/* Shares by weight when the row says so, else mole fractions. */
static bool melt_of(const ref_row *row, dw_melt *melt)
{
    double share[DW_MELT_OXIDE_COUNT];
    for (int i = 0; i < DW_MELT_OXIDE_COUNT; i++) {
        share[i] = ref_number_or(row, dw_melt_oxide_name((dw_melt_oxide)i), 0.0);
    }
    if (strcmp(ref_word(row, "by", "mole"), "weight") == 0) {
        return dw_melt_from_mass(share, melt) == DW_OK;
    }
    memcpy(melt->x, share, sizeof share);
    return true;
}

static double melt_log10_po2(const ref_row *row)
{
    const double ln = ref_number_or(row, "ln_po2", NAN);
    return isnan(ln) ? ref_number(row, "log10_po2") : ln / log(10.0);
}

static double kress(const ref_row *row)
{
    dw_melt melt;
    if (!melt_of(row, &melt)) return NAN;
    return dw_kress_ferric_ratio(&melt, kelvin(row), melt_log10_po2(row),
                                 ref_number_or(row, "pressure_pa_abs", DW_ATM_PA));
}

/* Equation 6 of the same paper: without pressure and without the term that equation 7 added. */
static double kress_low(const ref_row *row)
{
    dw_melt melt;
    if (!melt_of(row, &melt)) return NAN;
    const double t = kelvin(row), more = -3.36 * (1.0 - 1673.0 / t - log(t / 1673.0));
    return dw_kress_ferric_ratio(&melt, t, melt_log10_po2(row), 0.0) / exp(more);
}

static double kress_share(const ref_row *row)
{
    return 1.0 / (1.0 + 2.0 * kress(row));
}

/* As measured ratios are printed: log10 of FeO1.5/FeO. */
static double kress_log_ratio(const ref_row *row)
{
    return log10(2.0 * kress(row));
}

static double borisov_log_ratio(const ref_row *row)
{
    dw_melt melt;
    if (!melt_of(row, &melt)) return NAN;
    return log10(dw_borisov_ferric_ratio(&melt, kelvin(row), melt_log10_po2(row)));
}

static double borisov_share(const ref_row *row)
{
    return 1.0 / (1.0 + pow(10.0, borisov_log_ratio(row)));
}

/* The way of the program: both formulas, refused outside their range. */
static double melt_share_low(const ref_row *row)
{
    dw_melt melt;
    dw_glaze_iron iron;
    if (!melt_of(row, &melt) || dw_glaze_iron_at(&melt, kelvin(row), melt_log10_po2(row),
                                                 DW_ATM_PA, &iron) != DW_OK) {
        return NAN;
    }
    return iron.low_share;
}

/* ---- ladder ------------------------------------------------------------------------------- */

static dw_elements per_kilogram(const double *x)
{
    const dw_elements moles = dw_elements_from_moles(&model()->data->species, x);
    return dw_elements_combine(1.0 / dw_elements_mass_kg(&moles), moles, 0.0, moles);
}

/* Of a fuel and an air without a kiln; composition and oxygen at the same temperature. */
static bool ladder_of(const double *fuel, const double *air, double temperature_k, double spread,
                      dw_ladder *ladder)
{
    dw_reactants r = {.fuel_kg = per_kilogram(fuel),
                      .air_kg = per_kilogram(air),
                      .pressure_pa_abs = DW_ATM_PA,
                      .composition_temperature_k = temperature_k};
    r.stoichiometric_kg_kg = -r.fuel_kg.excess_o / r.air_kg.excess_o;
    ladder->model = model();
    ladder->composition_temperature_k = temperature_k;
    return r.stoichiometric_kg_kg > 0.0 &&
           dw_gas_potentials_at(&model()->gases, temperature_k, &ladder->composition) == DW_OK &&
           dw_ware_mixer_init(&ladder->mixer, model(), &r, temperature_k, spread) == DW_OK;
}

static bool rung_of(const ref_row *row, dw_rung *rung)
{
    static const struct {
        const char *gas;
        double x;
    } dry_air[] = {{"N2", 0.78084}, {"O2", 0.209476}, {"Ar", 0.009365}, {"CO2", 0.000319}};
    const dw_species_table *table = &model()->data->species;
    double fuel[DW_SPECIES_MAX] = {0.0}, air[DW_SPECIES_MAX] = {0.0};
    const int f = dw_species_find(table, ref_word(row, "fuel", "CH4"));
    if (f < 0) return false;
    fuel[f] = 1.0;
    for (size_t i = 0; i < sizeof dry_air / sizeof dry_air[0]; i++) {
        air[dw_species_find(table, dry_air[i].gas)] = dry_air[i].x;
    }
    dw_ladder ladder;
    const double lambda = ref_number_or(row, "air_ratio", NAN);
    const double phi = isnan(lambda) ? ref_number(row, "phi") : 1.0 / lambda;
    return ladder_of(fuel, air, kelvin(row), ref_number_or(row, "spread", 0.0), &ladder) &&
           dw_ladder_rung(&ladder, phi, rung) == DW_OK;
}

#define LADDER_QUANTITY(name, expression)             \
    static double name(const ref_row *row)            \
    {                                                 \
        dw_rung rung;                                 \
        return rung_of(row, &rung) ? (double)(expression) : (double)NAN; \
    }

LADDER_QUANTITY(ladder_co_pct, 100.0 * rung.unmixed.co)
LADDER_QUANTITY(ladder_co2_pct, 100.0 * rung.unmixed.co2)
LADDER_QUANTITY(ladder_h2_pct, 100.0 * rung.unmixed.h2)
LADDER_QUANTITY(ladder_o2_pct, 100.0 * rung.unmixed.o2)
LADDER_QUANTITY(ladder_co_co2, rung.mixed.co / rung.mixed.co2)
LADDER_QUANTITY(ladder_log10_po2, rung.ware.mean.log10_po2_bar)
LADDER_QUANTITY(ladder_log10_po2_atm, rung.ware.mean.log10_po2_bar - log10(DW_ATM_PA / DW_BAR_PA))
LADDER_QUANTITY(ladder_volts, rung.ware.probe_emf_v)
LADDER_QUANTITY(ladder_millivolts, 1000.0 * rung.ware.probe_emf_v)

/* Number of the form, the one richest in oxygen being 0. */
LADDER_QUANTITY(ladder_iron_form, rung.ware.metal[0].mean.form)
LADDER_QUANTITY(ladder_copper_form, rung.ware.metal[1].mean.form)

const ref_quantity ref_ware_quantities[] = {
    {"buffer_log10_po2", buffer_log10_po2},
    {"buffer_air_point_c", buffer_air_point_c},
    {"boundary_co_co2", boundary_co_co2},
    {"boundary_h2_h2o", boundary_h2_h2o},
    {"boundary_line_co_co2", boundary_line_co_co2},
    {"boundary_line_h2_h2o", boundary_line_h2_h2o},
    {"oxygen_from_ratio", oxygen_from_ratio},
    {"co_line_offset", co_line_offset},
    {"h2_line_offset", h2_line_offset},
    {"kress_ferric_ratio", kress},
    {"kress_ferric_ratio_low", kress_low},
    {"kress_ferrous_share", kress_share},
    {"kress_log_ratio", kress_log_ratio},
    {"borisov_log_ratio", borisov_log_ratio},
    {"borisov_ferrous_share", borisov_share},
    {"melt_ferrous_low", melt_share_low},
    {"ladder_co_pct", ladder_co_pct},
    {"ladder_co2_pct", ladder_co2_pct},
    {"ladder_h2_pct", ladder_h2_pct},
    {"ladder_o2_pct", ladder_o2_pct},
    {"ladder_co_co2", ladder_co_co2},
    {"ladder_log10_po2", ladder_log10_po2},
    {"ladder_log10_po2_atm", ladder_log10_po2_atm},
    {"ladder_volts", ladder_volts},
    {"ladder_millivolts", ladder_millivolts},
    {"ladder_iron_form", ladder_iron_form},
    {"ladder_copper_form", ladder_copper_form},
    {NULL, NULL},
};
