/* The working of the places where gas comes into a room. */
#include "working_room.h"

#include <math.h>
#include <string.h>

#include "fuel.h"

#include "working_room_parts.h"

/* ---- keys --------------------------------------------------------------------------------- */

/* The flow that a place is; -1: one of its own, such as a burner that is pushed back. */
static int flow_of(const dw_room_place *place, const dw_result *r)
{
    if (place->kind == DW_FLOW_PRIMARY_AIR) return -1;
    for (int i = 0; i < r->flow_count; i++) {
        if (r->flow[i].kind == place->kind && r->flow[i].index == place->index) return i;
    }
    return -1;
}

size_t dw_working_room_keys(const dw_room_result *room, const dw_result *result, dw_working *w,
                            dw_work_rename list[DW_WORK_ROOM_KEY_MAX])
{
    size_t count = 0;
    if (room->unknown == DW_CO_KNOWN) {
        list[count++] = (dw_work_rename){"gas_wet.CO", "room.co_content_wet"};
    }
    for (int i = 0; i < room->place_count; i++) {
        const int flow = flow_of(&room->place[i], result);
        if (flow < 0) continue;
        list[count++] = (dw_work_rename){dw_work_keepf(w, "flows.%d.mass_kg_s", flow),
                                         dw_work_keepf(w, "places.%d.mass_kg_s", i)};
    }
    return count;
}

/* ---- gases that burn ---------------------------------------------------------------------- */

/* The sum of shares of gases that burn beside CO and H2, as a step. */
static void put_unburnt(const dw_work_point *p)
{
    dw_working *w = p->w;
    const dw_species_table *table = &p->model->data->species;
    const int co = dw_species_find(table, "CO"), h2 = dw_species_find(table, "H2");
    const double *x = p->result->gas_wet.x;
    double column[DW_SPECIES_MAX];
    size_t rows = 0;
    int species[DW_SPECIES_MAX];
    for (int i = 0; i < (int)table->count; i++) {
        if (i == co || i == h2 || isnan(p->model->data->co.lean_x[i]) || !(x[i] > 0.0)) continue;
        species[rows] = i;
        column[rows++] = x[i];
    }
    const char *meaning = "other gases that burn, share of the gas in the chamber";
    if (rows == 0) {
        dw_work_step_is(w, "", "x_un", meaning, "", "0", 0.0, "definition");
        return;
    }
    dw_work_table_begin(w, "Other gases that burn in the gas in the chamber", "gas", rows);
    for (size_t i = 0; i < rows; i++) dw_work_row(w, i, "%s", table->species[species[i]].name);
    dw_work_column(w, DW_WORK_STEP, "x_b", "share, by moles", "", column);
    dw_work_step_is(w, "", "x_un", meaning, "", "sum(x_b)", NAN, "definition");
}

/* ---- places ------------------------------------------------------------------------------- */

static const char *name_of(const dw_work_point *p, const dw_room_place *place)
{
    const dw_kiln *kiln = &p->solved->kiln;
    switch (place->kind) {
    case DW_FLOW_OPENING:
    case DW_FLOW_TALL_OUT: return kiln->opening[place->index].name;
    case DW_FLOW_LEAK_OUT: return "cracks";
    case DW_FLOW_RELIEF: return "relief opening";
    case DW_FLOW_FLUE: return kiln->flue[place->index].name;
    default: return kiln->burner[place->index].name;
    }
}

/* Chamber gas through a lit burner that is pushed back, as if its bore were a plain hole. */
static void put_pushed_back(const dw_work_point *p, const dw_room_place *place, int index)
{
    dw_working *w = p->w;
    const dw_burner *b = &p->solved->kiln.burner[place->index];
    dw_work_text(w, "The chamber pushes '%s' back: all its gas comes out into the room, and "
                    "chamber gas comes out through the burner as through a plain hole.", b->name);
    dw_work_put(w, DW_WORK_INPUT, "n", "pieces", "", b->count);
    dw_work_put(w, DW_WORK_INPUT, "z_b", "height of the port", "m", b->height_m);
    dw_work_step_is(w, "", "p_b", "pressure in the chamber at the port", "Pa",
                    "p + grad*(z_b - z_0)", NAN, "draft-law");
    dw_work_unlit_area(p, place->index);
    dw_work_step_is(w, dw_work_keepf(w, "places.%d.mass_kg_s", index), "m_back",
                    "chamber gas through the burner", "kg/s", "A_u*sqrt(2*rho_gas*p_b)",
                    place->mass_kg_s,
                    "orifice-equation");
}

/* Masses, and of the gas of the chamber what it holds; of gas that comes out by ways where nobody knows how it
 * burns, masses alone. */
static void put_place_table(const dw_work_point *p, const dw_room_result *room)
{
    dw_working *w = p->w;
    const dw_species_table *table = &p->model->data->species;
    double column[6][DW_ROOM_PLACE_MAX];
    dw_work_table_begin(w, "Places", "place", (size_t)room->place_count);
    for (int i = 0; i < room->place_count; i++) {
        const dw_room_place *place = &room->place[i];
        dw_work_row(w, (size_t)i, "%.30s%s", name_of(p, place),
                    place->kind == DW_FLOW_GAS_JET ? ", fuel" : "");
        dw_work_row_key(w, (size_t)i, "%d", i);
        column[0][i] = place->mass_kg_s;
        column[1][i] = place->kind == DW_FLOW_FLUE ? 1.0 : 0.0;
        column[2][i] = place->co_m3_s;
        column[3][i] = place->h2_m3_s;
        column[4][i] = place->unburnt_m3_s;
        column[5][i] = place->kind == DW_FLOW_GAS_JET
                           ? dw_mixture_molar_mass(table, p->solved->kiln.fuel.x)
                           : p->result->gas_wet.molar_mass_kg_mol;
    }
    dw_work_column(w, DW_WORK_STEP, "m_p", "flow of hot gas or fuel, from the steps above", "kg/s",
                   column[0]);
    dw_work_column(w, DW_WORK_STEP, "by_flue", "1: by a flue that ends in the room", "", column[1]);
    dw_work_column(w, DW_WORK_STEP, "M_p", "molar mass of that flow", "kg/mol", column[5]);
    dw_work_column_is(w, "", "V_p", "volume of that flow in the air of the room", "m3/s",
                      "m_p/M_p*R*T_room/p_air", NULL, "definition");
    if (room->unknown != DW_CO_KNOWN) return;
    const double *x = p->result->gas_wet.x;
    dw_work_put(w, DW_WORK_STEP, "x_CO", "CO in the gas of the chamber", "", x[dw_species_find(table, "CO")]);
    dw_work_put(w, DW_WORK_STEP, "x_H2", "H2 in it", "", x[dw_species_find(table, "H2")]);
    dw_work_column_is(w, "places.*.co_m3_s", "V_co", "CO", "m3/s", "V_p*x_CO", column[2],
                      "definition");
    dw_work_column_is(w, "places.*.h2_m3_s", "V_h2", "H2", "m3/s", "V_p*x_H2", column[3],
                      "definition");
    dw_work_column_is(w, "places.*.unburnt_m3_s", "V_un", "other gases that burn", "m3/s",
                      "V_p*x_un", column[4], "definition");
}

/* Sums over the places; without one all are nought. */
static void put_sums(const dw_work_point *p, const dw_room_result *room)
{
    dw_working *w = p->w;
    const dw_room *in = &p->solved->kiln.room;
    const bool any = room->place_count > 0;
    dw_work_step_is(w, "room.into_room_kg_s room.spill_kg_s", "m_all", "gas out of the kiln", "kg/s",
                    any ? "sum(m_p)" : "0", room->spill_kg_s, "definition");
    dw_work_step_is(w, "room.into_room_by_flues_kg_s", "m_fl", "of that by flues that end in the room",
                    "kg/s", any ? "sum(m_p*by_flue)" : "0", room->by_flues_kg_s, "definition");
    dw_work_step_is(w, "room.into_room_by_openings_kg_s", "m_op",
                    "and by openings, and burners that are pushed back", "kg/s", "m_all - m_fl",
                    room->spill_kg_s - room->by_flues_kg_s, "definition");
    dw_work_put(w, DW_WORK_INPUT, "hood", "share that the hood takes outside", "",
                in->hood_capture_frac);
    dw_work_step_is(w, "room.gas_m3_s", "V_in",
                    "volume of gas that comes into the room and takes the place of as much air", "m3/s",
                    any ? "sum(V_p)*(1 - hood)" : "0", room->gas_m3_s, "definition");
    if (room->unknown != DW_CO_KNOWN) return;
    dw_work_step_is(w, "room.co_leaves_kiln_m3_s", "G_0", "CO that leaves the kiln", "m3/s",
                    any ? "sum(V_co)" : "0", room->co_leaves_m3_s, "definition");
    dw_work_step_is(w, "", "stays", "share that stays in the room", "", "1 - hood", NAN, "definition");
    dw_work_step_is(w, "room.co_m3_s", "G", "CO into the room", "m3/s", "G_0*stays",
                    room->co_m3_s, "definition");
    dw_work_step_is(w, "room.h2_m3_s", "G_h2", "hydrogen into the room", "m3/s",
                    any ? "sum(V_h2)*stays" : "0", room->h2_m3_s, "definition");
    dw_work_step_is(w, "room.unburnt_m3_s", "G_un", "other gases that burn, into the room", "m3/s",
                    any ? "sum(V_un)*stays" : "0", room->unburnt_m3_s, "definition");
}

static void put_places(const dw_work_point *p, const dw_room_result *room)
{
    dw_working *w = p->w;
    const bool known = room->unknown == DW_CO_KNOWN;
    dw_work_section(w, "What comes into the room");
    for (int i = 0; i < room->place_count; i++) {
        if (room->place[i].kind == DW_FLOW_PRIMARY_AIR) put_pushed_back(p, &room->place[i], i);
    }
    if (!known) {
        dw_work_text(w, "How much carbon monoxide comes with it is not known in this state: no step of "
                        "it follows, nor of the air of the room and of people in it.");
    }
    if (room->place_count > 0) {
        dw_work_step_is(w, "", "M_wet", "molar mass of the gas in the chamber", "kg/mol",
                        "sum(x*M)", p->result->gas_wet.molar_mass_kg_mol, "definition");
        if (known) put_unburnt(p);
        put_place_table(p, room);
    } else {
        dw_work_text(w, "No gas comes out of the kiln into the room.");
    }
    put_sums(p, room);
}

dw_status dw_working_room(const dw_model *model, const dw_kiln *kiln, const dw_solved *solved,
                          const dw_result *result, const dw_room_result *room, dw_working *w)
{
    const dw_work_point p = {w, model, kiln, solved, result};
    put_places(&p, room);
    const dw_status status = dw_work_room_pressure(&p, room);
    return status == DW_OK ? dw_working_status(w) : status;
}
