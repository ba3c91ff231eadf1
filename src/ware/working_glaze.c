/* The working of the iron in glazes. */
#include <math.h>

#include "working_ware.h"

/* What each oxide counts in the two formulas [kress1991, borisov2018]. */
static const double kress[DW_MELT_OXIDE_COUNT] = {
    [DW_MELT_AL2O3] = -2.243, [DW_MELT_FEO] = -1.828, [DW_MELT_CAO] = 3.201,
    [DW_MELT_NA2O] = 5.854,   [DW_MELT_K2O] = 6.215};
static const double borisov[DW_MELT_OXIDE_COUNT] = {
    [DW_MELT_SIO2] = -0.445, [DW_MELT_TIO2] = -0.900, [DW_MELT_MGO] = 1.532,
    [DW_MELT_CAO] = 0.314,   [DW_MELT_NA2O] = 2.030,  [DW_MELT_K2O] = 3.355,
    [DW_MELT_P2O5] = -4.851};

/* The table of oxides; leaves k_K k_B x_o as columns and the three shares that stand alone. */
static void put_melt(const dw_glaze *glaze, const dw_melt *melt, dw_working *w)
{
    double mass[DW_MELT_OXIDE_COUNT];
    dw_work_table_begin(w, dw_work_keepf(w, "The glaze '%s', all iron as FeO", glaze->name),
                        "oxide",
                        DW_MELT_OXIDE_COUNT);
    for (size_t i = 0; i < DW_MELT_OXIDE_COUNT; i++) {
        dw_work_row(w, i, "%s", dw_melt_oxide_name((dw_melt_oxide)i));
        mass[i] = dw_melt_oxide_molar_mass_kg_mol((dw_melt_oxide)i);
    }
    dw_work_column(w, DW_WORK_INPUT, "y_o", "share by mass", "", glaze->y);
    dw_work_column(w, DW_WORK_DATA, "M_o", "molar mass", "kg/mol", mass);
    dw_work_column(w, DW_WORK_DATA, "k_K", "weight of each oxide in the formula of Kress and "
                                           "Carmichael", "", kress);
    dw_work_column(w, DW_WORK_DATA, "k_B", "weight of each oxide in the formula of Borisov and "
                                           "others", "", borisov);
    dw_work_step_is(w, "", "n_o", "moles of oxides in a kilogram", "mol/kg", "sum(y_o/M_o)", NAN,
                    "definition");
    dw_work_column_is(w, "", "x_o", "share by moles", "", "y_o/M_o/n_o", melt->x, "definition");
    static const struct {
        dw_melt_oxide oxide;
        const char *symbol;
    } alone[3] = {{DW_MELT_SIO2, "x_SiO2"}, {DW_MELT_AL2O3, "x_Al2O3"}, {DW_MELT_MGO, "x_MgO"}};
    for (int i = 0; i < 3; i++) {
        dw_work_put(w, DW_WORK_STEP, alone[i].symbol,
                    dw_work_keepf(w, "x_o of %s, from the table",
                                  dw_melt_oxide_name(alone[i].oxide)),
                    "", melt->x[alone[i].oxide]);
    }
}

/* Both formulas at an oxygen; leaves fe_K and fe_B. */
static void put_shares(const char *oxygen, const char *keys[2], const double value[2],
                       const char *where, dw_working *w)
{
    dw_work_step_is(w, "", "r_K", dw_work_keepf(w, "ferric / ferrous iron, Fe2O3/FeO%s", where), "",
                    dw_work_keepf(w,
                                  "exp(0.196*ln(10)*%s + 11492/T_gas - 6.675 + sum(k_K*x_o) - "
                                  "3.36*(1 - 1673/T_gas - ln(T_gas/1673)) - 7.01e-7*p_air/T_gas - "
                                  "1.54e-10*(T_gas - 1673)*p_air/T_gas + "
                                  "3.85e-17*p_air^2/T_gas)",
                                  oxygen),
                    NAN, "kress1991");
    dw_work_step_is(w, keys[0], "fe_K",
                    dw_work_keepf(w, "ferrous share by Kress and Carmichael%s", where), "",
                    "1/(1 + 2*r_K)", value[0], "definition");
    dw_work_step_is(w, "", "r_B", dw_work_keepf(w, "ferric / ferrous iron, FeO1.5/FeO%s", where),
                    "",
                    dw_work_keepf(w,
                                  "10^(0.207*%s + 4633.3/T_gas - 1.852 + sum(k_B*x_o) - "
                                  "3.081*x_SiO2*x_Al2O3 - 4.370*x_SiO2*x_MgO)",
                                  oxygen),
                    NAN, "borisov2018");
    dw_work_step_is(w, keys[1], "fe_B",
                    dw_work_keepf(w, "ferrous share by Borisov and others%s", where), "",
                    "1/(1 + r_B)", value[1], "definition");
}

static void put_low(const char *key, const char *meaning, double value, dw_working *w)
{
    dw_work_step_is(w, key, "fe_low", meaning, "",
                    dw_work_keepf(w, "max(min(fe_K, fe_B) - %g, 0)", DW_GLAZE_IRON_SPREAD), value,
                    "glaze-iron-checks");
}

static void put_high(const char *key, const char *meaning, double value, dw_working *w)
{
    dw_work_step_is(w, key, "fe_high", meaning, "",
                    dw_work_keepf(w, "min(max(fe_K, fe_B) + %g, 1)", DW_GLAZE_IRON_SPREAD), value,
                    "glaze-iron-checks");
}

static void put_glaze(const dw_ware *ware, const dw_ware_glaze *g, size_t index, dw_working *w)
{
    dw_melt melt;
    if (dw_melt_from_mass(g->glaze->y, &melt) != DW_OK) return;
    const char *own = dw_work_keepf(w, "glazes.%zu.", index);
    dw_work_section(w, "Iron in the glaze '%s'", g->glaze->name);
    put_melt(g->glaze, &melt, w);
    const char *keys[2] = {dw_work_keepf(w, "%skress_ferrous", own),
                           dw_work_keepf(w, "%sborisov_ferrous", own)};
    const double mean[2] = {g->iron.kress_share, g->iron.borisov_share};
    put_shares("lg_pO2", keys, mean, "", w);
    put_low(dw_work_keepf(w, "%sferrous_low", own), "ferrous share by both, each with its spread: "
                                                    "lower end",
            g->iron.low_share, w);
    put_high(dw_work_keepf(w, "%sferrous_high", own), "to", g->iron.high_share, w);
    if (!isfinite(g->lean.low_share)) return;
    const char *none[2] = {"", ""};
    dw_work_put(w, DW_WORK_STEP, "lg_l", "lg_p of the leaner parcel, from the table", "",
                ware->lean.log10_po2_bar);
    const double lean[2] = {g->lean.kress_share, g->lean.borisov_share};
    put_shares("lg_l", none, lean, ", leaner parcel", w);
    put_low(dw_work_keepf(w, "%slean_ferrous_low", own), "ferrous share in the leaner parcel: "
                                                         "lower end",
            g->lean.low_share, w);
    dw_work_put(w, DW_WORK_STEP, "lg_h", "lg_p of the richer parcel, from the table", "",
                ware->rich.log10_po2_bar);
    const double rich[2] = {g->rich.kress_share, g->rich.borisov_share};
    put_shares("lg_h", none, rich, ", richer parcel", w);
    put_high(dw_work_keepf(w, "%srich_ferrous_high", own), "ferrous share in the richer parcel: "
                                                           "upper end",
             g->rich.high_share, w);
}

void dw_working_glazes(const dw_ware *ware, const dw_ware_glaze *glaze, size_t count,
                       dw_working *w)
{
    if (!ware->given) return;
    for (size_t i = 0; i < count; i++) {
        if (glaze[i].refusal == DW_GLAZE_GIVEN) put_glaze(ware, &glaze[i], i, w);
    }
}
