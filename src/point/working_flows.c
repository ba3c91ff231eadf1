/* The working of the balance of the chamber, and of the air ratio that follows. */
#include <math.h>

#include "working_steps.h"

enum { IN, OUT, GAS, AIR, BURNER, FLUE, ROOM, COLUMNS };

/* Adds a flow of the report to its columns. */
static void add_row(const dw_flow *f, double share_fresh, double column[COLUMNS])
{
    const double m = fabs(f->mass_kg_s);
    const bool in = f->mass_kg_s >= 0.0;
    switch (f->kind) {
    case DW_FLOW_GAS_JET:
        column[IN] = column[GAS] = m;
        break;
    case DW_FLOW_AIR_JET:
    case DW_FLOW_PRIMARY_AIR:
        column[IN] = column[AIR] = column[BURNER] = m;
        break;
    case DW_FLOW_UNLIT_BURNER:
    case DW_FLOW_OPENING:
    case DW_FLOW_TALL_IN:
    case DW_FLOW_TALL_OUT:
    case DW_FLOW_LEAK_IN:
    case DW_FLOW_LEAK_OUT:
        if (in) {
            column[IN] = column[AIR] = m;
        } else {
            column[OUT] = column[ROOM] = m;
        }
        break;
    case DW_FLOW_FLUE:
        /* Here outwards is positive. */
        if (f->mass_kg_s < 0.0) {
            column[IN] = m;
            column[AIR] = share_fresh * m;
            column[FLUE] = -m;
        } else {
            column[OUT] = column[FLUE] = m;
        }
        break;
    case DW_FLOW_RELIEF:
        if (!in) column[ROOM] = m;
        break;
    case DW_FLOW_STACK: break;
    }
}

const char *dw_work_flow_symbol(const dw_work_point *p, const dw_flow *f)
{
    static const char *const begin[] = {
        [DW_FLOW_GAS_JET] = "m_gas", [DW_FLOW_AIR_JET] = "m_ajet", [DW_FLOW_PRIMARY_AIR] = "m_pa",
        [DW_FLOW_UNLIT_BURNER] = "m_un", [DW_FLOW_OPENING] = "m_o", [DW_FLOW_TALL_IN] = "m_in_o",
        [DW_FLOW_TALL_OUT] = "m_out_o", [DW_FLOW_FLUE] = "m_f"};
    switch (f->kind) {
    case DW_FLOW_LEAK_IN: return "m_in_leak";
    case DW_FLOW_LEAK_OUT: return "m_out_leak";
    case DW_FLOW_RELIEF: return "m_r";
    case DW_FLOW_STACK: return "m_st";
    default: return dw_work_keepf(p->w, "%s%d", begin[f->kind], f->index + 1);
    }
}

const char *dw_work_flow_name(const dw_work_point *p, const dw_flow *f)
{
    const dw_kiln *kiln = &p->solved->kiln;
    switch (f->kind) {
    case DW_FLOW_GAS_JET:
    case DW_FLOW_AIR_JET:
    case DW_FLOW_PRIMARY_AIR:
    case DW_FLOW_UNLIT_BURNER: return kiln->burner[f->index].name;
    case DW_FLOW_OPENING:
    case DW_FLOW_TALL_IN:
    case DW_FLOW_TALL_OUT: return kiln->opening[f->index].name;
    case DW_FLOW_FLUE: return kiln->flue[f->index].name;
    default: return "";
    }
}

void dw_work_flow_table(const dw_work_point *p)
{
    dw_working *w = p->w;
    const dw_result *r = p->result;
    const dw_network_sums *s = &p->solved->state.sums;
    const double fresh = dw_network_fresh_frac(&p->solved->net, s);
    double column[COLUMNS][DW_FLOW_MAX];
    size_t rows = 0;
    for (int i = 0; i < r->flow_count; i++) rows += r->flow[i].kind != DW_FLOW_STACK;
    dw_work_table_begin(w, "All flows of the steps above, by where they go", "flow", rows);
    rows = 0;
    for (int i = 0; i < r->flow_count; i++) {
        double entry[COLUMNS] = {0.0};
        if (r->flow[i].kind == DW_FLOW_STACK) continue;
        add_row(&r->flow[i], fresh, entry);
        for (int c = 0; c < COLUMNS; c++) column[c][rows] = entry[c];
        dw_work_row(w, rows, "%s %s", dw_work_flow_symbol(p, &r->flow[i]), dw_work_flow_name(p,
                                                                                             &r->flow[i]));
        rows++;
    }
    static const struct {
        const char *symbol, *meaning;
    } columns[COLUMNS] = {
        [IN] = {"in", "into the chamber"},
        [OUT] = {"out", "out of the chamber"},
        [GAS] = {"fuel", "of it fuel gas"},
        [AIR] = {"air", "fresh air in what comes in"},
        [BURNER] = {"prim", "air through lit burners"},
        [FLUE] = {"flue", "out by the flues, less what comes back"},
        [ROOM] = {"room", "kiln gas into the room"}};
    for (int c = 0; c < COLUMNS; c++) {
        dw_work_column(w, DW_WORK_STEP, columns[c].symbol, columns[c].meaning, "kg/s", column[c]);
    }
    dw_work_balance(w, "pressure_datum_pa closure.mass solver.worst_residual_kg_s", "p",
                    "p is the pressure at which as much goes in as comes out", "sum(in) = sum(out)",
                    "definition");
}

/* Kiln gas into the room: by openings, by flues that end there, together. */
static void put_into_room(const dw_work_point *p)
{
    dw_working *w = p->w;
    const dw_result *r = p->result;
    const dw_network_sums *s = &p->solved->state.sums;
    const bool flues = r->room_flue_kg_s > 0.0, relief = s->relief_kg_s < 0.0;
    /* Of flues that end in the room the relief opening lets out a part. */
    dw_work_step_is(w, "into_room_by_openings_kg_s", "m_open", "of it by openings", "kg/s",
                    flues && relief ? "m_spill + m_r" : "m_spill", r->room_opening_kg_s,
                    "definition");
    dw_work_step_is(w, "into_room_by_flues_kg_s", "m_end",
                    flues ? "by flues that end in the room"
                          : "by flues that end in the room: there are none, or nothing leaves by them",
                    "kg/s", flues ? "sum(max(flue, 0))" : "0", r->room_flue_kg_s, "definition");
    dw_work_step_is(w, "into_room_kg_s", "m_room", "kiln gas into the room, by all ways", "kg/s",
                    "m_open + m_end", r->room_opening_kg_s + r->room_flue_kg_s, "definition");
}

void dw_work_flows(const dw_work_point *p)
{
    dw_working *w = p->w;
    const dw_result *r = p->result;
    const dw_network_sums *s = &p->solved->state.sums;
    dw_work_section(w, "What goes in comes out");
    dw_work_text(w, "Of what comes back through a flue, the air in it counts as fresh. The first "
                    "screen adds up these rows: 'air by burners' is m_pa and m_ajet, 'leaks and "
                    "open burners' is m_in_leak (or m_out_leak) and m_un, and 'flue' is all m_f.");
    dw_work_flow_table(p);
    dw_work_step_is(w, "gas_flow_kg_s", "m_gas", "fuel gas", "kg/s", "sum(fuel)", r->gas_flow_kg_s,
                    "definition");
    dw_work_step_is(w, "air_flow_kg_s", "m_air", "air into the chamber by every way", "kg/s",
                    "sum(air)", r->air_flow_kg_s, "definition");
    dw_work_step_is(w, "", "m_prim", "primary air: the air through lit burners", "kg/s",
                    "sum(prim)",
                    s->burner_air_kg_s, "definition");
    dw_work_step_is(w, "flue_flow_kg_s", "m_flue", "gas out through all flues", "kg/s", "sum(flue)",
                    r->flue_flow_kg_s, "definition");
    dw_work_step_is(w, "spill_kg_s", "m_spill", "kiln gas into the room other than by flues", "kg/s",
                    "sum(room)", r->spill_kg_s, "definition");
    put_into_room(p);

    dw_work_section(w, "Air and fuel");
    dw_ratios_write(w, r);
}
