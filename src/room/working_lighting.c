/* The working of lighting: limits of the gas, how fast it fills the kiln,
how long a purge takes. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "flammability.h"
#include "working_cold.h"
#include "working_room.h"
#include "working_steps.h"

/* ---- limits ------------------------------------------------------------------------------- */

/* Rows for the gases of x that have a limit. Leaves columns of the letter: a_ share, l_ lean,
and r_
 * rich where asked. False when nothing burns. */
static bool put_limits(const dw_work_point *p, const char *title, char letter, const double *x,
                       const double *lean, const double *rich)
{
    dw_working *w = p->w;
    const dw_species_table *table = &p->model->data->species;
    double column[3][DW_SPECIES_MAX];
    const char *name[DW_SPECIES_MAX];
    size_t rows = 0;
    for (size_t i = 0; i < table->count; i++) {
        if (isnan(lean[i]) || !(x[i] > 0.0)) continue;
        name[rows] = table->species[i].name;
        column[0][rows] = x[i];
        column[1][rows] = lean[i];
        column[2][rows++] = rich != NULL ? rich[i] : NAN;
    }
    if (rows == 0) return false;
    dw_work_table_begin(w, title, "gas", rows);
    for (size_t i = 0; i < rows; i++) dw_work_row(w, i, "%s", name[i]);
    dw_work_column(w, rich != NULL ? DW_WORK_INPUT : DW_WORK_STEP, dw_work_keepf(w, "a_%c", letter),
                   "share, by moles", "", column[0]);
    dw_work_column(w, DW_WORK_DATA, dw_work_keepf(w, "l_%c", letter), "lean limit in air", "",
                   column[1]);
    if (rich != NULL) {
        dw_work_column(w, DW_WORK_DATA, dw_work_keepf(w, "r_%c", letter), "rich limit in air", "",
                       column[2]);
    }
    return true;
}

static void put_fuel_limits(const dw_work_point *p, const dw_lighting *l)
{
    dw_working *w = p->w;
    const dw_kiln *kiln = &p->solved->kiln;
    double lean[DW_SPECIES_MAX], rich[DW_SPECIES_MAX];
    (void)dw_lighting_limits(p->model->data, kiln->fuel.x, lean, rich);
    dw_work_section(w, "Lighting: how much gas in air burns");
    dw_work_put(w, DW_WORK_DATA, "slope", "how much the lean limit falls for each kelvin", "1/K",
                p->model->data->co.lean_falls_per_k);
    if (put_limits(p, "Gases of the fuel that burn", 'f', kiln->fuel.x, lean, rich)) {
        dw_work_step_is(w, "lighting.lean_limit", "x_lean", "least gas in air that burns", "",
                        "(1 - slope*(T_room - 298.15))/sum(a_f/l_f)", l->lean_x, "le-chatelier");
        dw_work_step_is(w, "lighting.rich_limit", "x_rich", "to", "", "min(1/sum(a_f/r_f), 1)",
                        l->rich_x, "le-chatelier");
    }
    dw_work_step_is(w, "lighting.relative_density", "d_rel", "density of the gas / density of air",
                    "", "M_f/M_air", l->relative_density, "definition");
}

static void put_chamber_gas(const dw_work_point *p, const dw_lighting *l)
{
    dw_working *w = p->w;
    if (!isfinite(l->gas_ratio)) return;
    dw_work_section(w, "Lighting: the gas in the chamber");
    const bool burns = put_limits(p, "Gases in the chamber that burn", 'c', p->result->gas_wet.x,
                                  p->model->data->co.lean_x, NULL);
    dw_work_step_is(w, "lighting.chamber_gas_over_limit", "r_lim",
                    "chamber gas / its lean limit at 25 degC", "", burns ? "sum(a_c/l_c)" : "0",
                    l->gas_ratio, "le-chatelier");
    if (burns) {
        dw_work_step_is(w, "lighting.chamber_gas_limit", "x_lim",
                        "lean limit of the part of the chamber gas that burns", "",
                        "sum(a_c)/r_lim",
                        l->gas_limit_x, "le-chatelier");
    }
    if (!isfinite(l->gas_ratio_hot)) return;
    dw_work_step_is(w, "lighting.chamber_gas_over_limit_hot", "r_hot", "chamber gas / its lean "
                                                                       "limit at its own "
                                                                       "temperature",
                    "", "r_lim/(1 - slope*(T_gas - 298.15))", l->gas_ratio_hot, "burgess-wheeler");
}

/* ---- filling ------------------------------------------------------------------------------ */

/* Times from a flow of gas; keys of the burner's row. */
static void put_times(const dw_work_point *p, const dw_lighting_burner *b, int row,
                      const char *flow)
{
    dw_working *w = p->w;
    dw_work_step_is(w, "", "q_min", "gas in litres a minute", "L/min",
                    dw_work_keepf(w, "60000*%s", flow), NAN, "definition");
    if (!isfinite(b->chamber_s)) return;
    dw_work_step_is(w, dw_work_keepf(w, "lighting.burners.%d.chamber_at_limit_s", row), "t_ch",
                    "time until the chamber is at the lean limit", "s",
                    dw_work_keepf(w, "x_lean*V_free/%s", flow), b->chamber_s, "definition");
    dw_work_step_is(w, dw_work_keepf(w, "lighting.burners.%d.corner_at_limit_s", row), "t_co",
                    "time until the corner of the room is at the lean limit", "s",
                    dw_work_keepf(w, "x_lean*V_corner/%s", flow), b->corner_s, "definition");
}

static void put_burner(const dw_work_point *p, const dw_lighting_burner *l, int i)
{
    dw_working *w = p->w;
    const dw_burner *b = &p->solved->kiln.burner[i];
    const char *mass = dw_work_keepf(w, "m_l%d", i + 1), *flow = dw_work_keepf(w, "q_l%d", i + 1);
    const bool flows = l->gas_kg_s > 0.0;
    if (flows) {
        dw_work_put(w, DW_WORK_INPUT, "p_g", "gas pressure at the jet", "Pa", b->gas_pressure_pa);
        dw_work_step_is(w, "", "p_1", "gas pressure before the jet, absolute", "Pa", "p_air + p_g",
                        NAN,
                        "definition");
        dw_work_step_is(w, "", "p_2", "pressure that the jet blows into, absolute", "Pa", "p_air",
                        NAN,
                        "definition");
        dw_work_jet(p, 'g', "gas", b->jet_diameter_m, b->jet_discharge_coeff);
    }
    dw_work_step_is(w, dw_work_keepf(w, "lighting.burners.%d.gas_kg_s", i), mass,
                    dw_work_keepf(w, "gas of one '%.40s' with its valve open%s", b->name,
                                  flows ? "" : ": none, because there is no pressure"),
                    "kg/s", flows ? "m_g" : "0", l->gas_kg_s, "definition");
    dw_work_step_is(w, dw_work_keepf(w, "lighting.burners.%d.gas_m3_s", i), flow,
                    "gas by volume, at room temperature", "m3/s",
                    dw_work_keepf(w, "%s/rho_l", mass), l->gas_m3_s, "definition");
    put_times(p, l, i, flow);
}

/* Every valve open: pieces times the flow of one, added up. */
static void put_all_burners(const dw_work_point *p, const dw_lighting *l)
{
    dw_working *w = p->w;
    const char *mass = "", *flow = "";
    for (int i = 0; i < l->burner_count; i++) {
        const char *plus = i > 0 ? " + " : "";
        dw_work_put(w, DW_WORK_INPUT, dw_work_keepf(w, "n_l%d", i + 1),
                    dw_work_keepf(w, "pieces of '%.40s'", p->solved->kiln.burner[i].name), "",
                    p->solved->kiln.burner[i].count);
        mass = dw_work_keepf(w, "%s%sn_l%d*m_l%d", mass, plus, i + 1, i + 1);
        flow = dw_work_keepf(w, "%s%sn_l%d*q_l%d", flow, plus, i + 1, i + 1);
    }
    if (mass[0] == '\0') return;
    dw_work_step_is(w, dw_work_keepf(w, "lighting.burners.%d.gas_kg_s", l->burner_count), "m_lall",
                    "gas of all burners", "kg/s", mass, l->all.gas_kg_s, "definition");
    dw_work_step_is(w, dw_work_keepf(w, "lighting.burners.%d.gas_m3_s", l->burner_count), "q_lall",
                    "volume that the jets bring", "m3/s", flow, l->all.gas_m3_s, "definition");
    put_times(p, &l->all, l->burner_count, "q_lall");
}

static void put_filling(const dw_work_point *p, const dw_lighting *l)
{
    dw_working *w = p->w;
    const dw_kiln *kiln = &p->solved->kiln;
    dw_work_section(w, "Lighting: valves open and no flame");
    dw_work_put(w, DW_WORK_INPUT, "width", "of the chamber", "m", kiln->chamber.width_m);
    dw_work_put(w, DW_WORK_INPUT, "depth", "of the chamber", "m", kiln->chamber.depth_m);
    dw_work_put(w, DW_WORK_INPUT, "height", "of the chamber", "m", kiln->chamber.height_m);
    dw_work_put(w, DW_WORK_INPUT, "packed", "share of the chamber that ware and shelves fill", "",
                kiln->chamber.packed_frac);
    dw_work_step_is(w, "", "V_ch", "volume of the chamber", "m3", "width*depth*height", NAN,
                    "definition");
    dw_work_step_is(w, "lighting.free_volume_m3", "V_free", "volume of the chamber less ware and "
                                                            "shelves", "m3",
                    "V_ch*(1 - packed)", l->free_volume_m3, "definition");
    dw_work_put(w, DW_WORK_INPUT, "V_corner", "volume of the corner or pit of the room", "m3",
                kiln->room.corner_volume_m3);
    dw_work_step_is(w, "", "rho_l", "density of the gas at room temperature", "kg/m3",
                    "p_air*M_f/(R*T_room)", NAN, "definition");
    for (int i = 0; i < l->burner_count; i++) put_burner(p, &l->burner[i], i);
    put_all_burners(p, l);
}

/* ---- purging ------------------------------------------------------------------------------ */

static void put_purge(const dw_work_point *p, const dw_lighting *l)
{
    dw_working *w = p->w;
    dw_work_section(w, "Lighting: purging");
    dw_work_put(w, DW_WORK_DATA, "n_v", "chamber volumes of air for a purge", "", l->purge_volumes);
    dw_work_step_is(w, "lighting.purge_volume_m3", "V_purge", "that is air", "m3", "n_v*V_ch",
                    l->purge_volume_m3, "nfpa86");
    if (!isfinite(l->fan_s)) return;
    dw_work_put(w, DW_WORK_INPUT, "Q_p", "air that the purge fan moves", "m3/s",
                p->solved->kiln.room.purge_fan_m3_s);
    dw_work_step_is(w, "lighting.fan_purge_s", "t_fan", "time of a purge by the fan", "s",
                    "V_purge/Q_p",
                    l->fan_s, "definition");
}

dw_status dw_working_lighting(const dw_model *model, const dw_kiln *kiln, const dw_solved *solved,
                              const dw_result *result, const dw_lighting *lighting, dw_working *w)
{
    if (!lighting->solved) return dw_working_status(w);
    const dw_work_point p = {w, model, kiln, solved, result};
    put_fuel_limits(&p, lighting);
    put_chamber_gas(&p, lighting);
    put_filling(&p, lighting);
    put_purge(&p, lighting);
    const dw_status status = dw_work_cold(&p, lighting);
    return status == DW_OK ? dw_working_status(w) : status;
}
