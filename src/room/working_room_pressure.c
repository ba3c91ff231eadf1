/* The working of a room's pressure: what fan, openings and kiln let settle. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "working_room_parts.h"

/* The formula of a law at a pressure, for a balance; lives as long as the working. */
static const char *formula(dw_working *w, const dw_law *law, const char *names)
{
    char text[200];
    (void)dw_law_formula(law->text, names, text, sizeof text);
    return dw_work_keepf(w, "%s", text);
}

/* The kiln's draw, flow by flow. */
static void put_draw(const dw_work_point *p, const dw_room_result *room)
{
    dw_working *w = p->w;
    const dw_kiln *kiln = &p->solved->kiln;
    double column[DW_FLOW_MAX];
    size_t rows = 0;
    for (int i = 0; i < p->result->flow_count; i++) {
        rows += dw_room_draw_sign(kiln, p->result->flow[i].kind) != 0;
    }
    const bool any = rows > 0;
    if (any) {
        dw_work_table_begin(w,
                            "What the kiln takes from the room (negative: brings into the room)",
                            "flow",
                            rows);
        rows = 0;
        for (int i = 0; i < p->result->flow_count; i++) {
            const dw_flow *f = &p->result->flow[i];
            const int sign = dw_room_draw_sign(kiln, f->kind);
            if (sign == 0) continue;
            dw_work_row(w, rows, "%s %s", dw_work_flow_symbol(p, f), dw_work_flow_name(p, f));
            column[rows++] = sign * f->mass_kg_s;
        }
        dw_work_column(w, DW_WORK_STEP, "m_k", "flow from the steps above, with its sign", "kg/s",
                       column);
    }
    dw_work_step_is(w, "room.kiln_draws_m3_s", "V_k", "what the kiln draws from the room, net",
                    "m3/s", any ? "sum(m_k)/rho_room" : "0", room->kiln_draws_m3_s, "definition");
}

static void put_openings(const dw_work_point *p)
{
    dw_working *w = p->w;
    const dw_room *in = &p->solved->kiln.room, *given = &p->given->room;
    dw_work_put(w, DW_WORK_INPUT, "V", "volume of the room", "m3", in->volume_m3);
    const double natural_m3_s = dw_room_ventilation_m3_s(given, w);
    (void)dw_room_leak_area_m2(given, natural_m3_s, w);
    dw_work_put(w, DW_WORK_INPUT, "A_m", "openings that let make-up air in", "m2",
                in->make_up_area_m2);
    dw_work_put(w, DW_WORK_INPUT, "Q_f", "air that the fan moves freely", "m3/s",
                in->exhaust_fan_m3_s);
    dw_work_put(w, DW_WORK_INPUT, "p_f", "pressure at which the fan moves no air", "Pa",
                in->exhaust_fan_pressure_pa);
}

static void put_balance(const dw_work_point *p, const dw_room_result *room)
{
    dw_working *w = p->w;
    if (room->pressure_given) {
        dw_work_text(w, "The pressure of the room is given, so no balance is made.");
        dw_work_step_is(w, "room.residual_pa", "rest", "error of the balance: none is made",
                        "Pa", "0", room->residual_pa, "definition");
        return;
    }
    if (room->turning) {
        dw_work_text(w, "At this pressure the stack reverses and the kiln's draw jumps, so no "
                        "pressure balances. The side of the jump with more carbon monoxide is "
                        "shown.");
        return;
    }
    const double balanced_pa = room->pressure_pa + room->residual_pa;
    dw_work_put(w, DW_WORK_SOLVED, "p_bal",
                "pressure at which the openings let in what the fan and the kiln take", "Pa",
                balanced_pa);
    /* The fan's side alone where there is one: a tight room has nothing on the other. */
    const char *in = formula(w, dw_room_make_up_law(balanced_pa), "p>p_bal");
    dw_work_balance(w, "", "p_bal", "what comes in goes out again",
                    dw_room_fan_m3_s(&p->solved->kiln.room, balanced_pa) > 0.0
                        ? dw_work_keepf(w, "%s - V_k = %s", in,
                                        formula(w, dw_room_fan_law, "p>p_bal"))
                        : dw_work_keepf(w, "%s = V_k", in),
                    "room-balance");
    dw_work_step_is(w, "room.residual_pa", "rest", "error that the search leaves", "Pa",
                    "p_bal - p_room", room->residual_pa, "definition");
    dw_work_balance(w, "room.pressure_pa", "p_room",
                    "the pressure at which the kiln was worked out is this one, but for that error",
                    "p_room + rest = p_bal", "definition");
}

/* The room without its fan: the kiln once more at that pressure. */
static void put_without_fan(const dw_work_point *p, const dw_room_result *room, dw_result *scratch)
{
    dw_working *w = p->w;
    const double pressure_pa = room->pressure_without_fan_pa;
    if (!isfinite(pressure_pa)) return;
    dw_kiln kiln = *p->given;
    kiln.site.room_pressure_pa = pressure_pa;
    if (dw_operating_point(p->model, &kiln, scratch) != DW_OK) return;
    const double draws = dw_room_kiln_draws_kg_s(&p->solved->kiln, scratch) /
                         p->solved->net.rho_room_kg_m3;
    const dw_room *in = &p->solved->kiln.room;
    const dw_network *net = &p->solved->net;
    const double rho = draws < 0.0 ? net->rho_room_kg_m3 : net->rho_out_kg_m3;
    const double openings_m2 = 0.62 * (in->make_up_area_m2 + in->leak_area_m2);
    const double speed = openings_m2 > 0.0 ? draws * net->rho_room_kg_m3 / openings_m2 : INFINITY;
    const double lets_in_pa = (draws < 0.0 ? 1.0 : -1.0) * speed * speed / (2.0 * rho);
    if (!(fabs(lets_in_pa - pressure_pa) < 1e-3)) {
        dw_work_text(w, "With the fan off the stack reverses, or the room lets nothing in: the "
                        "pressure does not follow from the openings.");
        return;
    }
    dw_work_put(w, DW_WORK_SOLVED, "p_nf", "pressure of the room with the fan off", "Pa",
                pressure_pa);
    dw_work_put(w, DW_WORK_SOLVED, "V_nf",
                "what the kiln then draws, with the whole kiln worked out again at p_nf", "m3/s",
                draws);
    dw_work_step_is(w, "", "p_nb", "pressure at which the openings let that flow through", "Pa",
                    draws < 0.0 ? "(V_nf*rho_room/(0.62*(A_m + A_l)))^2/(2*rho_room)"
                                : "-(V_nf*rho_room/(0.62*(A_m + A_l)))^2/(2*rho_out)",
                    NAN, "room-balance");
    dw_work_step_is(w, "", "rest_nf", "error that the search leaves", "Pa", "p_nb - p_nf", NAN,
                    "definition");
    dw_work_balance(w, "room.pressure_without_fan_pa", "p_nf",
                    "the pressure with the fan off is this one, but for the error of the search",
                    "p_nf + rest_nf = p_nb", "definition");
}

static void put_cost(const dw_work_point *p, const dw_room_result *room, dw_result *scratch)
{
    dw_working *w = p->w;
    if (isnan(room->draft_loss_pa)) return;
    dw_kiln kiln = *p->given;
    kiln.site.room_pressure_pa = 0.0;
    const bool compared = room->kiln_feels_it && !room->pressure_given &&
                          dw_operating_point(p->model, &kiln, scratch) == DW_OK;
    if (compared) {
        dw_work_put(w, DW_WORK_SOLVED, "D_free",
                    "draft at the floor with the room at the pressure outside, with the whole "
                    "kiln worked out again", "Pa", scratch->draft_floor_pa);
    }
    dw_work_step_is(w, "room.draft_loss_pa", "D_lost",
                    compared ? "draft lost to the room's own pressure"
                             : "draft lost to the room's own pressure: none is counted",
                    "Pa", compared ? "D_free - D_floor" : "0", room->draft_loss_pa, "definition");
    put_without_fan(p, room, scratch);
}

dw_status dw_work_room_pressure(const dw_work_point *p, const dw_room_result *room)
{
    dw_working *w = p->w;
    dw_work_section(w, "The pressure of the room");
    put_openings(p);
    dw_work_put(w, room->pressure_given ? DW_WORK_INPUT : DW_WORK_SOLVED, "p_room",
                "room pressure relative to outside at the datum", "Pa", room->pressure_pa);
    put_draw(p, room);
    dw_law_write(w, "room.fan_m3_s", "p>p_room", NULL, dw_room_fan_law, room->fan_m3_s);
    dw_law_write(w, "room.make_up_m3_s", "p>p_room", NULL, dw_room_make_up_law(room->pressure_pa),
                 room->make_up_m3_s);
    put_balance(p, room);
    dw_result *scratch = calloc(1, sizeof *scratch);
    if (scratch == NULL) return DW_ERR_NOMEM;
    put_cost(p, room, scratch);
    free(scratch);
    (void)dw_room_flow_m3_s(&p->solved->kiln.room, room->fan_m3_s, room->gas_m3_s,
                            "room.ventilation_m3_s", w);
    return DW_OK;
}
