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
    list[count++] = (dw_work_rename){"gas_wet.CO", "room.co_content_wet"};
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
static void put_unburnt(const dw_work_point *p, const double *x, const char *symbol,
                        const char *of_what, const char *share)
{
    dw_working *w = p->w;
    const dw_species_table *table = &p->model->data->species;
    const int co = dw_species_find(table, "CO"), h2 = dw_species_find(table, "H2");
    double column[DW_SPECIES_MAX];
    size_t rows = 0;
    int species[DW_SPECIES_MAX];
    for (int i = 0; i < (int)table->count; i++) {
        if (i == co || i == h2 || isnan(p->model->data->co.lean_x[i]) || !(x[i] > 0.0)) continue;
        species[rows] = i;
        column[rows++] = x[i];
    }
    const char *meaning = dw_work_keepf(w, "other gases that burn, share of %s", of_what);
    if (rows == 0) {
        dw_work_step_is(w, "", symbol, meaning, "", "0", 0.0, "definition");
        return;
    }
    dw_work_table_begin(w, dw_work_keepf(w, "Other gases that burn in %s", of_what), "gas", rows);
    for (size_t i = 0; i < rows; i++) dw_work_row(w, i, "%s", table->species[species[i]].name);
    dw_work_column(w, DW_WORK_STEP, share, "share, by moles", "", column);
    dw_work_step_is(w, "", symbol, meaning, "", dw_work_keepf(w, "sum(%s)", share), NAN,
                    "definition");
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

static bool is_fuel(const dw_room_place *place)
{
    return place->kind == DW_FLOW_GAS_JET;
}

/* A column that chamber gas and fuel fill each with its own number. */
static void put_kind(const dw_work_point *p, const dw_room_result *room, const char *symbol,
                     const char *meaning, const char *unit, double gas, double fuel)
{
    double column[DW_ROOM_PLACE_MAX];
    for (int i = 0; i < room->place_count; i++) {
        column[i] = is_fuel(&room->place[i]) ? fuel : gas;
    }
    dw_work_column(p->w, DW_WORK_STEP, symbol, meaning, unit, column);
}

static void put_place_table(const dw_work_point *p, const dw_room_result *room, double unburnt_gas,
                            double unburnt_fuel)
{
    dw_working *w = p->w;
    const dw_species_table *table = &p->model->data->species;
    const int co = dw_species_find(table, "CO"), h2 = dw_species_find(table, "H2");
    const double *gas = p->result->gas_wet.x, *fuel = p->solved->kiln.fuel.x;
    double column[4][DW_ROOM_PLACE_MAX];
    dw_work_table_begin(w, "Places", "place", (size_t)room->place_count);
    for (int i = 0; i < room->place_count; i++) {
        const dw_room_place *place = &room->place[i];
        dw_work_row(w, (size_t)i, "%.30s%s", name_of(p, place), is_fuel(place) ? ", fuel" : "");
        dw_work_row_key(w, (size_t)i, "%d", i);
        column[0][i] = place->mass_kg_s;
        column[1][i] = place->co_m3_s;
        column[2][i] = place->h2_m3_s;
        column[3][i] = place->unburnt_m3_s;
    }
    dw_work_column(w, DW_WORK_STEP, "m_p", "flow of hot gas or fuel, from the steps above", "kg/s",
                   column[0]);
    put_kind(p, room, "M_p", "molar mass of that flow", "kg/mol",
             p->result->gas_wet.molar_mass_kg_mol,
             dw_mixture_molar_mass(table, fuel));
    put_kind(p, room, "a_CO", "share of CO in that flow", "", gas[co], fuel[co]);
    put_kind(p, room, "a_H2", "share of H2 in that flow", "", gas[h2], fuel[h2]);
    put_kind(p, room, "a_un", "share of other gases that burn in that flow", "", unburnt_gas,
             unburnt_fuel);
    dw_work_column_is(w, "", "V_p", "volume of that flow in the air of the room", "m3/s",
                      "m_p/M_p*R*T_room/p_air", NULL, "definition");
    dw_work_column_is(w, "places.*.co_m3_s", "V_co", "CO", "m3/s", "V_p*a_CO", column[1],
                      "definition");
    dw_work_column_is(w, "places.*.h2_m3_s", "V_h2", "H2", "m3/s", "V_p*a_H2", column[2],
                      "definition");
    dw_work_column_is(w, "places.*.unburnt_m3_s", "V_un", "other gases that burn", "m3/s",
                      "V_p*a_un", column[3], "definition");
}

/* Sums over the places; without one all are nought. */
static void put_sums(const dw_work_point *p, const dw_room_result *room)
{
    dw_working *w = p->w;
    const dw_room *in = &p->solved->kiln.room;
    const bool any = room->place_count > 0;
    dw_work_step_is(w, "room.spill_kg_s", "m_all", "hot gas into the room", "kg/s",
                    any ? "sum(m_p)" : "0", room->spill_kg_s, "definition");
    dw_work_step_is(w, "room.co_leaves_kiln_m3_s", "G_0", "CO that leaves the kiln before the "
                                                          "hood and the flames at the openings",
                                                          "m3/s",
                    any ? "sum(V_co)" : "0", room->co_leaves_m3_s, "definition");
    dw_work_put(w, DW_WORK_INPUT, "hood", "share that the hood takes outside", "",
                in->hood_capture_frac);
    dw_work_put(w, DW_WORK_INPUT, "burnt", "share that burns at the openings", "", in->burnt_frac);
    dw_work_step_is(w, "", "stays", "share that stays in the room", "", "(1 - hood)*(1 - burnt)",
                    NAN, "definition");
    dw_work_step_is(w, "room.co_m3_s", "G", "CO into the room", "m3/s", "G_0*stays",
                    room->co_m3_s, "definition");
    dw_work_step_is(w, "room.h2_m3_s", "G_h2", "hydrogen into the room", "m3/s",
                    any ? "sum(V_h2)*stays" : "0", room->h2_m3_s, "definition");
    dw_work_step_is(w, "room.unburnt_m3_s", "G_un", "other gases that burn, into the room", "m3/s",
                    any ? "sum(V_un)*stays" : "0", room->unburnt_m3_s, "definition");
}

/* Sum over the gases that burn beside CO and H2, in the order of the table. */
static double unburnt_of(const dw_work_point *p, const double *x)
{
    const dw_species_table *table = &p->model->data->species;
    const int co = dw_species_find(table, "CO"), h2 = dw_species_find(table, "H2");
    double sum = 0.0;
    for (int i = 0; i < (int)table->count; i++) {
        if (i != co && i != h2 && !isnan(p->model->data->co.lean_x[i])) sum += x[i];
    }
    return sum;
}

static void put_places(const dw_work_point *p, const dw_room_result *room)
{
    dw_working *w = p->w;
    const double *fuel = p->solved->kiln.fuel.x;
    bool any_fuel = false;
    dw_work_section(w, "What comes into the room");
    for (int i = 0; i < room->place_count; i++) {
        if (room->place[i].kind == DW_FLOW_PRIMARY_AIR) put_pushed_back(p, &room->place[i], i);
        any_fuel = any_fuel || is_fuel(&room->place[i]);
    }
    if (room->place_count > 0) {
        dw_work_step_is(w, "", "M_wet", "molar mass of the gas in the chamber", "kg/mol",
                        "sum(x*M)", p->result->gas_wet.molar_mass_kg_mol, "definition");
        put_unburnt(p, p->result->gas_wet.x, "x_un", "share in the chamber gas", "x_b");
        if (any_fuel) put_unburnt(p, fuel, "xf_un", "the fuel", "xf_b");
        put_place_table(p, room, unburnt_of(p, p->result->gas_wet.x), unburnt_of(p, fuel));
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
