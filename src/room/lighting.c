/* Lighting: limits of the gas, how fast it fills the kiln, how long a purge takes; with w the same as steps. */
#include "lighting.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "stack.h"
#include "flame.h"
#include "fuel.h"
#include "room.h"
#include "working_steps.h"

/* Less than this through a cold kiln is no purge [m3/s]: a third of a cubic metre an hour. */
static const double no_flow_m3_s = 1e-4;

typedef struct look {
    const dw_model *model;
    const dw_kiln *as_read;
    dw_working *w;              /* NULL while solving */
    dw_kiln given;              /* at the pressure of the room with the kiln off */
    dw_solved solved;           /* its kiln changed; net, and of the cold one at and state */
    dw_result cold;             /* flows, for the working */
    char reason[DW_REASON_SIZE];
} look;

/* ---- limits ------------------------------------------------------------------------------- */

/* Gases that neither burn nor feed on air. */
static bool is_inert(const char *name)
{
    static const char *const inert[] = {"N2", "CO2", "H2O", "O2", "Ar"};
    for (size_t i = 0; i < sizeof inert / sizeof inert[0]; i++) {
        if (strcmp(inert[i], name) == 0) return true;
    }
    return false;
}

/* Limits of every gas as they count for a fuel: NaN for what does not burn; a gas of the fuel without a known
 * limit gets the lowest lean and the highest rich one of all. True when one did. */
static bool limits_for(const dw_data *data, const double *x_fuel, double lean[DW_SPECIES_MAX],
                       double rich[DW_SPECIES_MAX])
{
    const size_t count = data->species.count;
    double lowest = INFINITY, highest = 0.0;
    for (size_t i = 0; i < count; i++) {
        lowest = fmin(lowest, isnan(data->co.lean_x[i]) ? INFINITY : data->co.lean_x[i]);
        highest = fmax(highest, isnan(data->co.rich_x[i]) ? 0.0 : data->co.rich_x[i]);
    }
    bool guessed = false;
    for (size_t i = 0; i < count; i++) {
        lean[i] = data->co.lean_x[i];
        rich[i] = data->co.rich_x[i];
        if (x_fuel[i] > 0.0 && isnan(lean[i]) && !is_inert(data->species.species[i].name)) {
            lean[i] = lowest;
            rich[i] = highest;
            guessed = true;
        }
    }
    return guessed;
}

/* Rows for the gases of x that have a limit. Leaves columns of the letter: a_ share, l_ lean, and r_ rich where
 * asked. */
static void put_limits(const look *m, const char *title, char letter, const double *x,
                       const double *lean, const double *rich)
{
    dw_working *w = m->w;
    const dw_species_table *table = &m->model->data->species;
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
    if (rows == 0) return;
    dw_work_table_begin(w, title, "gas", rows);
    for (size_t i = 0; i < rows; i++) dw_work_row(w, i, "%s", name[i]);
    dw_work_column(w, rich != NULL ? DW_WORK_INPUT : DW_WORK_STEP, dw_work_keepf(w, "a_%c", letter),
                   "share, by moles", "", column[0]);
    dw_work_column(w, DW_WORK_DATA, dw_work_keepf(w, "l_%c", letter), "lean limit in air", "",
                   column[1]);
    if (rich == NULL) return;
    dw_work_column(w, DW_WORK_DATA, dw_work_keepf(w, "r_%c", letter), "rich limit in air", "",
                   column[2]);
}

DW_LAW(relative_density, "d_rel", "density of the gas / density of air", "", "definition",
       (double M_f, double M_air), M_f / M_air)

/* Limits of the fuel gas as a whole, inert part included, so that they hold for what comes out of the
 * pipe. */
static void look_at_fuel(const look *m, dw_lighting *l)
{
    dw_working *w = m->w;
    const dw_data *data = m->model->data;
    const dw_kiln *kiln = &m->solved.kiln;
    const size_t count = data->species.count;
    double lean[DW_SPECIES_MAX], rich[DW_SPECIES_MAX];
    l->limit_guessed = limits_for(data, kiln->fuel.x, lean, rich);
    dw_work_section(w, "Lighting: how much gas in air burns");
    const double slope_per_k =
        dw_law_given(w, DW_WORK_DATA, "slope", "how much the lean limit falls for each kelvin", "1/K",
                     data->co.lean_falls_per_k);
    if (w != NULL) put_limits(m, "Gases of the fuel that burn", 'f', kiln->fuel.x, lean, rich);
    l->lean_x = dw_lean_limit(kiln->fuel.x, lean, count, slope_per_k, kiln->site.room_temperature_k,
                              "lighting.lean_limit", w);
    l->rich_x = dw_rich_limit(kiln->fuel.x, rich, count, "lighting.rich_limit", w);
    l->relative_density =
        DW_STEP_FOR(w, "lighting.relative_density", relative_density,
                    (m->solved.net.fuel_molar_mass_kg_mol, m->solved.net.air.molar_mass_kg_mol));
}

static void look_at_chamber_gas(const look *m, const dw_result *r, dw_lighting *l)
{
    dw_working *w = m->w;
    const dw_co_data *co = &m->model->data->co;
    l->gas_ratio = l->gas_ratio_hot = l->gas_limit_x = NAN;
    if (r == NULL || !r->solved) return;
    const double *x = r->gas_wet.x;
    const size_t count = m->model->data->species.count;
    l->gas_ratio = dw_flammable_ratio(x, co->lean_x, count);
    l->gas_limit_x = dw_flammable_limit(x, co->lean_x, count);
    const bool burns = isfinite(l->gas_limit_x);
    dw_work_section(w, "Lighting: the gas in the chamber");
    if (w != NULL) put_limits(m, "Gases in the chamber that burn", 'c', x, co->lean_x, NULL);
    dw_work_step_is(w, "lighting.chamber_gas_over_limit", "r_lim", "chamber gas / its lean limit at 25 degC",
                    "", burns ? "sum(a_c/l_c)" : "0", l->gas_ratio, "le-chatelier");
    if (burns) {
        dw_law_write(w, "lighting.chamber_gas_limit", "a>sum(a_c) r>r_lim", NULL, dw_flammable_limit_law,
                     l->gas_limit_x);
    }
    l->gas_ratio_hot = dw_flammable_ratio_hot(l->gas_ratio, co->lean_falls_per_k, r->gas_temperature_k,
                                              "lighting.chamber_gas_over_limit_hot", w);
}

/* ---- filling ------------------------------------------------------------------------------ */

DW_LAW(by_volume, "q", "gas by volume, at room temperature", "m3/s", "definition",
       (double m, double rho_l), m / rho_l)
DW_LAW(a_minute, "q_min", "gas in litres a minute", "L/min", "definition", (double q), 60000.0 * q)
DW_LAW(free_volume, "V_free", "volume of the chamber less ware and shelves", "m3", "definition",
       (double V_ch, double packed), V_ch * (1.0 - packed))

/* Times from a flow of gas, of a row of the report's burners and with the flow's symbol. */
static void fill(const look *m, const dw_lighting *l, int row, const char *flow, dw_lighting_burner *b)
{
    dw_working *w = m->w;
    (void)DW_STEP_AS(w, "", DW_LAW_TEXT(w, "q>%s", flow), NULL, a_minute, (b->gas_m3_s));
    b->chamber_s = dw_fill_time_s(l->lean_x, l->free_volume_m3, b->gas_m3_s,
                                  DW_LAW_TEXT(w, "lighting.burners.%d.chamber_at_limit_s", row),
                                  DW_LAW_TEXT(w, "t>t_ch V>V_free q>%s", flow),
                                  "time until the chamber is at the lean limit", w);
    b->corner_s = dw_fill_time_s(l->lean_x, m->solved.kiln.room.corner_volume_m3, b->gas_m3_s,
                                 DW_LAW_TEXT(w, "lighting.burners.%d.corner_at_limit_s", row),
                                 DW_LAW_TEXT(w, "t>t_co V>V_corner q>%s", flow),
                                 "time until the corner of the room is at the lean limit", w);
}

static void put_jet(const look *m, const dw_burner *b)
{
    const dw_work_point p = {m->w, m->model, &m->given, &m->solved, NULL};
    dw_work_put(m->w, DW_WORK_INPUT, "p_g", "gas pressure at the jet", "Pa", b->gas_pressure_pa);
    dw_work_step_is(m->w, "", "p_1", "gas pressure before the jet, absolute", "Pa", "p_air + p_g", NAN,
                    "definition");
    dw_work_step_is(m->w, "", "p_2", "pressure that the jet blows into, absolute", "Pa", "p_air", NAN,
                    "definition");
    dw_work_jet(&p, 'g', "gas", b->jet_diameter_m, b->jet_discharge_coeff);
}

/* One burner with its valve open. */
static void open_valve(const look *m, int i, double rho_kg_m3, dw_lighting *l)
{
    dw_working *w = m->w;
    const dw_burner_law *law = &m->solved.net.burner[i];
    const dw_burner *b = &m->solved.kiln.burner[i];
    dw_lighting_burner *open = &l->burner[i];
    if (law->lit) {
        dw_jet_flow jet;
        dw_jet_discharge(&law->gas_jet, m->solved.net.pressure_pa_abs, &jet);
        open->gas_kg_s = jet.mass_kg_s;
        if (w != NULL) put_jet(m, b);
    }
    const char *mass = DW_LAW_TEXT(w, "m_l%d", i + 1), *flow = DW_LAW_TEXT(w, "q_l%d", i + 1);
    dw_work_step_is(w, DW_LAW_TEXT(w, "lighting.burners.%d.gas_kg_s", i), mass,
                    DW_LAW_TEXT(w, "gas of one '%.40s' with its valve open%s", b->name,
                                law->lit ? "" : ": none, because there is no pressure"),
                    "kg/s", law->lit ? "m_g" : "0", open->gas_kg_s, "definition");
    open->gas_m3_s = DW_STEP_AS(w, DW_LAW_TEXT(w, "lighting.burners.%d.gas_m3_s", i),
                                DW_LAW_TEXT(w, "q>%s m>%s", flow, mass), NULL, by_volume,
                                (open->gas_kg_s, rho_kg_m3));
    fill(m, l, i, flow, open);
}

/* Every valve open: pieces times the flow of one, added up. */
static void add_up(const look *m, dw_lighting *l)
{
    dw_working *w = m->w;
    const char *mass = "", *flow = "";
    for (int i = 0; i < l->burner_count; i++) {
        const dw_burner *b = &m->solved.kiln.burner[i];
        const char *plus = i > 0 ? " + " : "";
        l->all.gas_kg_s += l->burner[i].gas_kg_s * b->count;
        l->all.gas_m3_s += l->burner[i].gas_m3_s * b->count;
        if (w == NULL) continue;
        dw_work_put(w, DW_WORK_INPUT, dw_work_keepf(w, "n_l%d", i + 1),
                    dw_work_keepf(w, "pieces of '%.40s'", b->name), "", b->count);
        mass = dw_work_keepf(w, "%s%sn_l%d*m_l%d", mass, plus, i + 1, i + 1);
        flow = dw_work_keepf(w, "%s%sn_l%d*q_l%d", flow, plus, i + 1, i + 1);
    }
    const int row = l->burner_count;
    if (row == 0) w = NULL;
    dw_work_step_is(w, DW_LAW_TEXT(w, "lighting.burners.%d.gas_kg_s", row), "m_lall", "gas of all burners",
                    "kg/s", mass, l->all.gas_kg_s, "definition");
    dw_work_step_is(w, DW_LAW_TEXT(w, "lighting.burners.%d.gas_m3_s", row), "q_lall",
                    "volume that the jets bring", "m3/s", flow, l->all.gas_m3_s, "definition");
    fill(m, l, row, "q_lall", &l->all);
}

/* Gas of every burner with its valve open. Leaves V_ch. */
static void look_at_filling(const look *m, dw_lighting *l)
{
    dw_working *w = m->w;
    const dw_kiln *kiln = &m->solved.kiln;
    dw_work_section(w, "Lighting: valves open and no flame");
    const double volume_m3 = dw_chamber_volume_m3(&kiln->chamber, w);
    const double packed =
        dw_law_given(w, DW_WORK_INPUT, "packed", "share of the chamber that ware and shelves fill", "",
                     kiln->chamber.packed_frac);
    l->free_volume_m3 = DW_STEP_FOR(w, "lighting.free_volume_m3", free_volume, (volume_m3, packed));
    dw_work_put(w, DW_WORK_INPUT, "V_corner", "volume of the corner or pit of the room", "m3",
                kiln->room.corner_volume_m3);
    const double rho = dw_law_step(
        w, "", "rho>rho_l M>M_f T>T_room", "density of the gas at room temperature", dw_ideal_gas_density_law,
        dw_ideal_gas_density_kg_m3(m->solved.net.fuel_molar_mass_kg_mol, kiln->site.room_temperature_k,
                                   m->solved.net.pressure_pa_abs));
    l->burner_count = kiln->burner_count;
    for (int i = 0; i < l->burner_count; i++) open_valve(m, i, rho, l);
    add_up(m, l);
}

/* ---- purging ------------------------------------------------------------------------------ */

DW_LAW(purge_volume, "V_purge", "that is air", "m3", "nfpa86", (double n_v, double V_ch), n_v * V_ch)
DW_LAW(purge_time, "t", "purge by it alone", "s", "definition", (double V_purge, double Q), V_purge / Q)
DW_LAW(cold_air, "Q_nat", "air through the cold kiln by the draft of its stack", "m3/s", "definition",
       (double air, double rho_room), air / rho_room)

static void look_at_fan(const look *m, dw_lighting *l)
{
    dw_working *w = m->w;
    dw_work_section(w, "Lighting: purging");
    l->purge_volumes = dw_law_given(w, DW_WORK_DATA, "n_v", "chamber volumes of air for a purge", "",
                                    m->model->data->co.purge_volumes);
    l->purge_volume_m3 =
        DW_STEP_FOR(w, "lighting.purge_volume_m3", purge_volume,
                    (l->purge_volumes, dw_chamber_volume_m3(&m->solved.kiln.chamber, NULL)));
    l->fan_s = NAN;
    if (isnan(m->solved.kiln.room.purge_fan_m3_s)) return;
    const double fan_m3_s = dw_law_given(w, DW_WORK_INPUT, "Q_p", "air that the purge fan moves", "m3/s",
                                         m->solved.kiln.room.purge_fan_m3_s);
    l->fan_s = DW_STEP_AS(w, "lighting.fan_purge_s", "t>t_fan Q>Q_p", "time of a purge by the fan", purge_time,
                          (l->purge_volume_m3, fan_m3_s));
}

void dw_lighting_cool(dw_kiln *resolved)
{
    for (int i = 0; i < resolved->burner_count; i++) {
        resolved->burner[i].lit = false;
        resolved->burner[i].plugged = false;
    }
    for (int i = 0; i < resolved->flue_count; i++) {
        dw_damper *d = &resolved->flue[i].damper;
        d->open_frac = d->kind == DW_DAMPER_TABLE ? d->row_open_frac[d->row_count - 1] : 1.0;
    }
    resolved->operating.chamber_temperature_k = resolved->site.room_temperature_k;
    resolved->settings.gas_minus_reading_dk = 0.0;
}

/* The room's pressure with the kiln off. */
static void put_idle(const look *m)
{
    dw_working *w = m->w;
    const double pressure_pa = m->given.site.room_pressure_pa;
    if (m->as_read->site.room_pressure_pa != 0.0 || isnan(dw_room_idle_pressure_pa(m->as_read))) {
        dw_work_put(w, DW_WORK_INPUT, "p_idle", "room pressure relative to outside, as given", "Pa",
                    pressure_pa);
        return;
    }
    dw_work_put(w, DW_WORK_SOLVED, "p_idle", "room pressure relative to outside with the kiln off", "Pa",
                pressure_pa);
    char comes_in[200], goes_out[200];
    (void)dw_law_formula(dw_room_make_up_law(-1.0)->text, "p>p_idle", comes_in, sizeof comes_in);
    (void)dw_law_formula(dw_room_fan_law->text, "p>p_idle", goes_out, sizeof goes_out);
    dw_work_balance(w, "", "p_idle", "the fan takes out what comes in through the openings",
                    dw_work_keepf(w, "%s = %s", comes_in, goes_out), "room-balance");
}

/* The flows of the cold kiln, which is full of air of the room. Symbols of flows and pressures mean those of
 * the cold kiln from here on. */
static void put_cold_flows(look *m)
{
    dw_working *w = m->w;
    const dw_network *net = &m->solved.net;
    m->cold.datum_height_m = net->datum_m;
    dw_network_report(&m->solved.at, &m->solved.state, &m->cold);
    const dw_work_point p = {w, m->model, &m->given, &m->solved, &m->cold};
    dw_work_section(w, "Lighting: air through the cold kiln");
    dw_work_text(w, "Burners are off and open, dampers are open, and everything is at room "
                    "temperature: the flows of the kiln are worked out again, with air alone.");
    put_idle(m);
    dw_work_step_is(w, "", "T_gas", "temperature in the chamber, the same as in the room", "K", "T_room", NAN,
                    "definition");
    dw_work_step_is(w, "", "M_gas", "molar mass of the air in the chamber", "kg/mol", "M_air", NAN,
                    "definition");
    dw_work_step_is(w, "", "rho_gas", "its density", "kg/m3", "rho_room", NAN, "definition");
    (void)dw_draft_gradient_pa_m(net->rho_room_kg_m3, net->rho_room_kg_m3, w);
    dw_work_put(w, DW_WORK_SOLVED, "p", "pressure in the chamber at the datum", "Pa",
                m->solved.state.pressure_pa);
    dw_work_put(w, DW_WORK_INPUT, "z_0", "height of the datum, which is the lowest burner", "m", net->datum_m);
    dw_work_drop_keys(w);
    dw_work_burners(&p);
    dw_work_openings(&p);
    dw_work_flues(&p);
    dw_work_stack(&p);
    dw_work_section(w, "Lighting: purge by draft");
    dw_work_flow_table(&p);
    dw_work_rename_keys(w, NULL, 0);
}

/* Draft of the stack full of room air. */
static double cold_draft_pa(const look *m)
{
    dw_working *w = m->w;
    const dw_network *net = &m->solved.net;
    /* A column of room air in a room of the same air neither rises nor falls. */
    if (!dw_kiln_ends_outside(&m->solved.kiln)) {
        dw_work_step_is(w, "lighting.cold_draft_pa", "D_cold",
                        "draft of the cold stack: none, because room air inside a room does not pull", "Pa",
                        "0", 0.0, "draft-law");
        return 0.0;
    }
    return dw_law_step(w, "lighting.cold_draft_pa", "D_th>D_cold rho_top>rho_out rho_st>rho_room",
                       "draft of the stack full of room air (negative: the air falls)", dw_draft_theoretical_law,
                       dw_draft_theoretical_pa(net->rho_out_kg_m3, net->rho_room_kg_m3,
                                               dw_network_stack_height_m(net, w)));
}

/* Whether the draft makes air rise through the cold kiln; its flows then. */
static dw_status draw_cold(look *m, dw_lighting *l, bool *rises)
{
    dw_solved *s = &m->solved;
    const double pull = l->cold_draft_pa + s->net.room_minus_far_pa;
    *rises = false;
    if (!dw_kiln_ends_outside(&s->kiln)) return DW_OK;
    l->backwards = pull < -1e-9;
    if (!(pull > 1e-9)) return DW_OK;
    const dw_chamber_gas air = {s->net.air.molar_mass_kg_mol, s->net.x_air};
    const dw_status status = dw_network_at_density(&s->net, air, &s->at);
    if (status != DW_OK) return status;
    s->state = (dw_network_state){.pressure_pa = 0.0, .stack_base_pa = NAN};
    if (dw_network_solve(&s->at, &s->state, m->reason) != DW_OK) return DW_OK;
    l->backwards = s->state.down;
    *rises = !s->state.down && !(s->state.sums.air_kg_s / s->net.rho_room_kg_m3 < no_flow_m3_s);
    return DW_OK;
}

/* Air through the kiln with everything cold. */
static dw_status look_at_cold(look *m, dw_lighting *l)
{
    dw_working *w = m->w;
    dw_lighting_cool(&m->solved.kiln);
    dw_status status = dw_network_init(&m->solved.net, m->model, &m->solved.kiln, m->reason);
    if (status != DW_OK) return status;
    l->natural_s = INFINITY;
    l->cold_draft_pa = cold_draft_pa(m);
    bool rises;
    status = draw_cold(m, l, &rises);
    if (status != DW_OK) return status;
    if (!rises) {
        dw_work_step_is(w, "lighting.natural_purge_m3_s", "Q_nat",
                        "air through the cold kiln: too little to count, or backwards", "m3/s", "0", 0.0,
                        "definition");
        return DW_OK;
    }
    if (w != NULL) put_cold_flows(m);
    l->natural_m3_s = DW_STEP_AS(w, "lighting.natural_purge_m3_s", "air>sum(air)", NULL, cold_air,
                                 (m->solved.state.sums.air_kg_s, m->solved.net.rho_room_kg_m3));
    l->natural_s = DW_STEP_AS(w, "lighting.natural_purge_s", "t>t_nat Q>Q_nat", NULL, purge_time,
                              (l->purge_volume_m3, l->natural_m3_s));
    return DW_OK;
}

static dw_status look_at_all(look *m, const dw_result *result, dw_lighting *l)
{
    dw_kiln *kiln = &m->solved.kiln;
    for (int i = 0; i < kiln->burner_count; i++) kiln->burner[i].lit = true;
    const dw_status status = dw_network_init(&m->solved.net, m->model, kiln, m->reason);
    if (status != DW_OK) return status;
    look_at_fuel(m, l);
    look_at_chamber_gas(m, result, l);
    look_at_filling(m, l);
    look_at_fan(m, l);
    return look_at_cold(m, l);
}

dw_status dw_lighting_look(const dw_model *model, const dw_kiln *kiln, const dw_result *result,
                           dw_working *w, dw_lighting *lighting)
{
    if (lighting == NULL) return DW_ERR_ARG;
    memset(lighting, 0, sizeof *lighting);
    if (model == NULL || kiln == NULL) return DW_ERR_ARG;
    look *m = calloc(1, sizeof *m);
    if (m == NULL) return DW_ERR_NOMEM;
    m->model = model;
    m->as_read = kiln;
    m->w = w;
    m->given = *kiln;
    const double idle_pa = dw_room_idle_pressure_pa(kiln);
    if (!isnan(idle_pa)) m->given.site.room_pressure_pa = idle_pa;
    m->solved.kiln = m->given;
    dw_kiln_resolve(&m->solved.kiln);
    lighting->glows = m->solved.kiln.operating.chamber_temperature_k >= model->data->co.glow_k;
    dw_status status = look_at_all(m, result, lighting);
    lighting->solved = status == DW_OK;
    if (status == DW_ERR_DOMAIN || status == DW_ERR_NO_CONVERGE) {
        /* The hot kiln is answered even where the cold one is not. */
        *lighting = (dw_lighting){.solved = false};
        (void)snprintf(lighting->reason, sizeof lighting->reason, "%s", m->reason);
        status = DW_OK;
    }
    free(m);
    return status == DW_OK && w != NULL ? dw_working_status(w) : status;
}
