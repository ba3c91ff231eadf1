#include "working_cold.h"

#include <math.h>
#include <stdlib.h>

#include "room.h"
#include "room_spill.h"

/** The cold kiln with its insides. */
typedef struct cold {
    dw_kiln given;
    dw_solved solved;
    dw_result result;
} cold;

/* The room's pressure with the kiln off. */
static void put_idle(const dw_work_point *p, const cold *c)
{
    dw_working *w = p->w;
    const double idle_pa = dw_room_idle_pressure_pa(p->given);
    const double pressure_pa = c->given.site.room_pressure_pa;
    if (p->given->site.room_pressure_pa != 0.0 || isnan(idle_pa)) {
        dw_work_put(w, DW_WORK_INPUT, "p_idle", "room pressure relative to outside, as given", "Pa",
                    pressure_pa);
        return;
    }
    dw_work_put(w, DW_WORK_SOLVED, "p_idle", "room pressure relative to outside with the kiln off",
                "Pa",
                pressure_pa);
    char comes_in[200], goes_out[200];
    (void)dw_law_formula(dw_room_make_up_law(-1.0)->text, "p>p_idle", comes_in, sizeof comes_in);
    (void)dw_law_formula(dw_room_fan_law->text, "p>p_idle", goes_out, sizeof goes_out);
    dw_work_balance(w, "", "p_idle", "the fan takes out what comes in through the openings",
                    dw_work_keepf(w, "%s = %s", comes_in, goes_out), "room-balance");
}

/* What the chamber is full of: air of the room. */
static void put_chamber(const dw_work_point *p)
{
    dw_working *w = p->w;
    const dw_result *r = p->result;
    dw_work_step_is(w, "", "T_gas", "temperature in the chamber, the same as in the room", "K",
                    "T_room",
                    NAN, "definition");
    dw_work_step_is(w, "", "M_gas", "molar mass of the air in the chamber", "kg/mol", "M_air", NAN,
                    "definition");
    dw_work_step_is(w, "", "rho_gas", "its density", "kg/m3", "rho_room", NAN, "definition");
    dw_work_step_is(w, "", "grad", "rise of chamber pressure with height, relative to the room",
                    "Pa/m",
                    "(rho_room - rho_gas)*g", NAN, "draft-law");
    dw_work_put(w, DW_WORK_SOLVED, "p", "pressure in the chamber at the datum", "Pa",
                p->solved->state.pressure_pa);
    dw_work_put(w, DW_WORK_INPUT, "z_0", "height of the datum, which is the lowest burner", "m",
                r->datum_height_m);
}

/* Network, flows and pressures of the cold kiln. False when it has no balance or runs backwards. */
static bool solve(const dw_work_point *p, cold *c)
{
    char reason[DW_REASON_SIZE];
    dw_solved *s = &c->solved;
    c->given = *p->given;
    const double idle_pa = dw_room_idle_pressure_pa(p->given);
    if (!isnan(idle_pa)) c->given.site.room_pressure_pa = idle_pa;
    s->kiln = c->given;
    dw_kiln_resolve(&s->kiln);
    dw_lighting_cool(&s->kiln);
    if (dw_network_init(&s->net, p->model, &s->kiln, reason) != DW_OK) return false;
    const dw_chamber_gas air = {s->net.air.molar_mass_kg_mol, s->net.x_air};
    s->state = (dw_network_state){.pressure_pa = 0.0, .stack_base_pa = NAN};
    if (dw_network_at_density(&s->net, air, &s->at) != DW_OK ||
        dw_network_solve(&s->at, &s->state, reason) != DW_OK) {
        return false;
    }
    c->result.datum_height_m = s->net.datum_m;
    dw_network_report(&s->at, &s->state, &c->result);
    return true;
}

static void put_flow(const dw_work_point *p, cold *c, const dw_lighting *l)
{
    dw_working *w = p->w;
    const dw_work_point q = {w, p->model, &c->given, &c->solved, &c->result};
    dw_work_section(w, "Lighting: air through the cold kiln");
    dw_work_text(w, "Burners are off and open, dampers are open, and everything is at room "
                    "temperature: the flows of the kiln are worked out again, with air alone.");
    put_idle(p, c);
    put_chamber(&q);
    dw_work_drop_keys(w);
    dw_work_burners(&q);
    dw_work_openings(&q);
    dw_work_flues(&q);
    dw_work_stack(&q);
    dw_work_section(w, "Lighting: purge by draft");
    dw_work_flow_table(&q);
    dw_work_rename_keys(w, NULL, 0);
    dw_work_step_is(w, "lighting.natural_purge_m3_s", "Q_nat",
                    "air through the cold kiln by the draft of its stack", "m3/s",
                    "sum(air)/rho_room", l->natural_m3_s, "definition");
    dw_work_step_is(w, "lighting.natural_purge_s", "t_nat", "purge by it alone", "s",
                    "V_purge/Q_nat", l->natural_s, "definition");
}

static void put_draft(const dw_work_point *p, const dw_lighting *l)
{
    dw_working *w = p->w;
    const dw_network *net = &p->solved->net;
    if (!dw_room_stack_ends_outside(&p->solved->kiln)) {
        dw_work_step_is(w, "lighting.cold_draft_pa", "D_cold",
                        "draft of the cold stack: none, because room air inside a room does not "
                        "pull",
                        "Pa", "0", l->cold_draft_pa, "draft-law");
        return;
    }
    dw_work_put(w, DW_WORK_INPUT, "H_st", "height of the stack above its base", "m",
                net->stack.height_m);
    dw_work_step_is(w, "lighting.cold_draft_pa", "D_cold",
                    "draft of the stack full of room air (negative: the air falls)", "Pa",
                    "(rho_out - rho_room)*g*H_st", l->cold_draft_pa, "draft-law");
}

dw_status dw_work_cold(const dw_work_point *p, const dw_lighting *l)
{
    put_draft(p, l);
    if (!(l->natural_m3_s > 0.0)) {
        dw_work_step_is(p->w, "lighting.natural_purge_m3_s", "Q_nat",
                        "air through the cold kiln: too little to count, or backwards", "m3/s",
                        "0", l->natural_m3_s, "definition");
        return DW_OK;
    }
    cold *c = calloc(1, sizeof *c);
    if (c == NULL) return DW_ERR_NOMEM;
    if (solve(p, c)) put_flow(p, c, l);
    free(c);
    return DW_OK;
}
