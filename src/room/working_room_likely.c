/* The working of what likely burns where gas comes into a room. */
#include "working_room.h"

#include <math.h>

/* Each place: its mouth, the speed in it, what burns, what is left of its CO. */
static void put_places(const dw_room_result *room, const dw_room_likely *likely, bool flame, dw_working *w)
{
    double column[6][DW_ROOM_PLACE_MAX];
    dw_work_table_begin(w, "What likely burns", "place", (size_t)room->place_count);
    for (int i = 0; i < room->place_count; i++) {
        const dw_likely_place *l = &likely->place[i];
        dw_work_row(w, (size_t)i, "%d", i + 1);
        dw_work_row_key(w, (size_t)i, "%d", i);
        column[0][i] = room->place[i].mass_kg_s;
        column[1][i] = l->area_m2;
        column[2][i] = l->width_m;
        column[3][i] = l->by == DW_BURNT_GIVEN ? l->burnt_frac : 0.0;
        column[4][i] = room->place[i].co_m3_s;
        column[5][i] = l->burnt_frac;
    }
    dw_work_column(w, DW_WORK_STEP, "m_p", "flow of hot gas, from the places above", "kg/s", column[0]);
    dw_work_column(w, DW_WORK_STEP, "V_co", "CO, from there", "m3/s", column[4]);
    dw_work_column(w, DW_WORK_INPUT, "said", "share that the description says burns there; 0: it does not say", "",
                   column[3]);
    if (flame) {
        dw_work_column(w, DW_WORK_DATA, "A_o", "area of its mouths; 1 where none is asked for", "m2", column[1]);
        dw_work_column(w, DW_WORK_DATA, "d",
                       "hydraulic diameter of a mouth; 0 for a crack, where nothing burns, and where the description "
                       "says what does", "m", column[2]);
        dw_law_column(w, "", NULL, NULL, dw_mouth_speed_law, NULL);
        dw_law_column(w, "", NULL, NULL, dw_port_da_law, NULL);
        dw_law_column(w, "", NULL, NULL, dw_port_fast_law, NULL);
        dw_law_column(w, "", NULL, NULL, dw_port_burnt_law, NULL);
    }
    dw_work_column_is(w, "places.*.likely_burnt_share", "b", "share of its CO that likely burns there", "",
                      flame ? "said + burnt" : "said", column[5], "judgement");
}

dw_status dw_working_room_likely(const dw_model *model, const dw_kiln *kiln, const dw_result *result,
                                 const dw_room_result *room, const dw_room_likely *likely, dw_working *w)
{
    const bool any = room->place_count > 0;
    dw_work_section(w, "What likely burns where gas comes out");
    dw_work_text(w, "None of this enters the verdict, the limits or the alarms. Cracks burn nothing: their gas has lost "
                    "its heat. At a hole the gas takes in air; of all mixtures that are hot enough the one that "
                    "burns its CO fastest decides.");
    if (any) {
        const bool flame = !isnan(likely->flame.temperature_k);
        if (flame) {
            double x_air[DW_SPECIES_MAX];
            dw_port_meeting meeting;
            dw_port_flame found;
            dw_status status = dw_room_meeting(model, kiln, result, x_air, &meeting);
            if (status == DW_OK) status = dw_port_flame_find(&meeting, w, &found);
            if (status != DW_OK) return status;
            (void)dw_port_hot(found.temperature_k, w);
            dw_work_step_is(w, "", "rho_w", "density of the gas in the chamber", "kg/m3", "p_air*M_wet/(R*T_gas)", NAN,
                            "definition");
        } else {
            dw_work_text(w, "The gas is colder than 610 degC: no mixture of it burns.");
        }
        put_places(room, likely, flame, w);
    }
    dw_work_step_is(w, "", "G_left", "CO that is left of it, before the hood", "m3/s", any ? "sum(V_co*(1 - b))" : "0",
                    NAN, "definition");
    dw_work_step_is(w, "room.likely_burnt_share", "b_all", "of the CO that leaves the kiln, likely burnt", "",
                    room->co_leaves_m3_s > 0.0 ? "max(1 - G_left/G_0, 0)" : "0", likely->burnt_frac, "definition");
    dw_work_step_is(w, "room.likely_co_m3_s", "G_likely", "CO into the room, likely", "m3/s", "min(G_left*stays, G)",
                    likely->co_m3_s, "definition");
    return dw_working_status(w);
}
