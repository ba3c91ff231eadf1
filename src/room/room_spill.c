/* What leaves a kiln into its room, place by place. */
#include "room_spill.h"

#include <math.h>
#include <stdlib.h>

#include "constants.h"
#include "moist_air.h"
#include "network.h"

/* Gas that leaves this near to a burner's height may be raw: it is named. */
static const double near_burner_m = 0.1;

/* Gas beside CO and H2 that burns: from here on it is no trace that equilibrium leaves. */
static const double raw_share = 0.01, raw_from_m3_s = 1e-6;

static int burner_near(const dw_kiln *kiln, double height_m)
{
    for (int i = 0; i < kiln->burner_count; i++) {
        const dw_burner *b = &kiln->burner[i];
        if (b->lit && fabs(b->height_m - height_m) <= near_burner_m) return i;
    }
    return -1;
}

/* Turns the mole fractions of the kiln gas into volumes of room air. */
typedef struct spill_maker {
    const dw_data *data;
    const dw_kiln *kiln;          /* resolved */
    const dw_result *result;
    dw_room_result *room;
    double m3_per_mol;            /* at room conditions */
    double x_co, x_h2, x_unburnt; /* of the averaged kiln gas */
    double all_m3_s;              /* of all places so far */
} spill_maker;

static void read_gas(spill_maker *m)
{
    const dw_species_table *table = &m->data->species;
    const int co = dw_species_find(table, "CO"), h2 = dw_species_find(table, "H2");
    m->x_co = m->result->gas_wet.x[co];
    m->x_h2 = m->result->gas_wet.x[h2];
    m->x_unburnt = 0.0;
    for (int i = 0; i < (int)table->count; i++) {
        if (i == co || i == h2 || isnan(m->data->co.lean_x[i])) continue;
        m->x_unburnt += m->result->gas_wet.x[i];
    }
}

static dw_room_place *add_place(spill_maker *m, dw_flow_kind kind, int index, double height_m,
                                double mass_kg_s)
{
    if (!(mass_kg_s > 0.0) || m->room->place_count >= DW_ROOM_PLACE_MAX) return NULL;
    dw_room_place *place = &m->room->place[m->room->place_count++];
    *place = (dw_room_place){.kind = kind,
                             .index = index,
                             .height_m = height_m,
                             .mass_kg_s = mass_kg_s,
                             .near_burner = burner_near(m->kiln, height_m)};
    return place;
}

static void add_gas(spill_maker *m, dw_flow_kind kind, int index, double height_m,
                    double mass_kg_s)
{
    dw_room_place *place = add_place(m, kind, index, height_m, mass_kg_s);
    if (place == NULL) return;
    const double m3_s = mass_kg_s / m->result->gas_wet.molar_mass_kg_mol * m->m3_per_mol;
    m->all_m3_s += m3_s;
    place->co_m3_s = m3_s * m->x_co;
    place->h2_m3_s = m3_s * m->x_h2;
    place->unburnt_m3_s = m3_s * m->x_unburnt;
}

/* All the gas of a burner that is pushed back, as the pipe brings it. */
static void add_fuel(spill_maker *m, int burner, double mass_kg_s)
{
    const dw_species_table *table = &m->data->species;
    dw_room_place *place = add_place(m, DW_FLOW_GAS_JET, burner,
                                     m->kiln->burner[burner].height_m, mass_kg_s);
    if (place == NULL) return;
    const double molar_mass = dw_mixture_molar_mass(table, m->kiln->fuel.x);
    const double m3_s = mass_kg_s / molar_mass * m->m3_per_mol;
    m->all_m3_s += m3_s;
    const int co = dw_species_find(table, "CO"), h2 = dw_species_find(table, "H2");
    for (int i = 0; i < (int)table->count; i++) {
        const double part = m3_s * m->kiln->fuel.x[i];
        if (i == co) {
            place->co_m3_s = part;
        } else if (i == h2) {
            place->h2_m3_s = part;
        } else if (!isnan(m->data->co.lean_x[i])) {
            place->unburnt_m3_s += part;
        }
    }
}

/* Size of a burner as a plain hole, whether it is lit or not. */
static double burner_hole_m2(const dw_model *model, const dw_kiln *kiln, int burner)
{
    struct work {
        dw_kiln kiln;
        dw_network net;
        char reason[DW_REASON_SIZE];
    } *w = malloc(sizeof *w);
    double area_m2 = NAN;
    if (w == NULL) return area_m2;
    w->kiln = *kiln;
    w->kiln.burner[burner].lit = false;
    w->kiln.burner[burner].plugged = false;
    if (dw_network_init(&w->net, model, &w->kiln, w->reason) == DW_OK) {
        area_m2 = w->net.burner[burner].unlit_area_m2 * w->net.burner[burner].pieces;
    }
    free(w);
    return area_m2;
}

/* A lit burner that is pushed back: the balance gives it no air; here its gas, and kiln gas through its
 * bore as if the jet did not hold it. */
static dw_status add_pushed_back(spill_maker *m, const dw_model *model, int i, double pressure_pa)
{
    const dw_result *r = m->result;
    for (int k = 0; k < r->flow_count; k++) {
        const dw_flow *f = &r->flow[k];
        if (f->kind == DW_FLOW_GAS_JET && f->index == i) add_fuel(m, i, f->mass_kg_s);
    }
    if (!(pressure_pa > 0.0)) return DW_OK;
    const double area_m2 = burner_hole_m2(model, m->kiln, i);
    if (isnan(area_m2)) return DW_ERR_NOMEM;
    const double rho =
        dw_ideal_gas_density_kg_m3(r->gas_mean.molar_mass_kg_mol, r->gas_temperature_k,
                                   m->kiln->site.pressure_pa_abs);
    add_gas(m, DW_FLOW_PRIMARY_AIR, i, m->kiln->burner[i].height_m,
            area_m2 * sqrt(2.0 * rho * pressure_pa));
    return DW_OK;
}

static dw_status add_places(spill_maker *m, const dw_model *model)
{
    const dw_result *r = m->result;
    const dw_kiln *kiln = m->kiln;
    const bool outside = dw_kiln_ends_outside(kiln);
    for (int i = 0; i < r->flow_count; i++) {
        const dw_flow *f = &r->flow[i];
        switch (f->kind) {
        case DW_FLOW_UNLIT_BURNER:
        case DW_FLOW_OPENING:
        case DW_FLOW_TALL_OUT:
        case DW_FLOW_LEAK_OUT: add_gas(m, f->kind, f->index, f->height_m, -f->mass_kg_s); break;
        case DW_FLOW_RELIEF:
            if (outside) add_gas(m, f->kind, f->index, f->height_m, -f->mass_kg_s);
            break;
        case DW_FLOW_FLUE:
            /* No stack, or a gap under a hood: all of it comes into the room, the relief opening's
             * part too; what the hood takes is said by hood_capture. */
            if (!outside) add_gas(m, f->kind, f->index, f->height_m, f->mass_kg_s);
            break;
        default: break;
        }
    }
    for (int i = 0; i < r->finding_count; i++) {
        const dw_finding *found = &r->finding[i];
        if (found->code != DW_FIND_BURNER_PUSHED_BACK || !kiln->burner[found->index].lit) continue;
        const dw_status status = add_pushed_back(m, model, found->index, found->value);
        if (status != DW_OK) return status;
    }
    return DW_OK;
}

dw_status dw_room_add_up(const dw_model *model, const dw_kiln *kiln, const dw_result *result,
                         dw_room_result *room)
{
    const dw_site *site = &kiln->site;
    spill_maker m = {.data = model->data,
                     .kiln = kiln,
                     .result = result,
                     .room = room,
                     .m3_per_mol = DW_R_J_MOL_K * site->room_temperature_k / site->pressure_pa_abs};
    read_gas(&m);
    room->x_co_wet = m.x_co;
    const dw_status status = add_places(&m, model);
    if (status != DW_OK) return status;
    double co = 0.0, h2 = 0.0, unburnt = 0.0;
    for (int i = 0; i < room->place_count; i++) {
        room->spill_kg_s += room->place[i].mass_kg_s;
        if (room->place[i].kind == DW_FLOW_FLUE) room->by_flues_kg_s += room->place[i].mass_kg_s;
        co += room->place[i].co_m3_s;
        h2 += room->place[i].h2_m3_s;
        unburnt += room->place[i].unburnt_m3_s;
    }
    const double stays = 1.0 - kiln->room.hood_capture_frac;
    room->gas_m3_s = m.all_m3_s * (1.0 - kiln->room.hood_capture_frac);
    room->co_leaves_m3_s = co;
    room->co_m3_s = co * stays;
    room->h2_m3_s = h2 * stays;
    room->unburnt_m3_s = unburnt * stays;
    room->raw_gas = room->unburnt_m3_s > raw_share * room->co_m3_s && room->unburnt_m3_s > raw_from_m3_s;
    return DW_OK;
}

double dw_room_richest_co_frac(const dw_data *data, const dw_fuel *fuel)
{
    const dw_species_table *table = &data->species;
    double carbon = 0.0, hydrogen = 0.0, oxygen = 0.0, rest = 0.0;
    for (size_t i = 0; i < table->count; i++) {
        const double *atoms = table->species[i].atoms;
        carbon += fuel->x[i] * atoms[DW_C];
        hydrogen += fuel->x[i] * 0.5 * atoms[DW_H];
        oxygen += fuel->x[i] * atoms[DW_O];
        rest += fuel->x[i] * (0.5 * atoms[DW_N] + atoms[DW_AR]);
    }
    const double nitrogen_per_o2 = 0.79 / 0.21;
    const double burnt = carbon + hydrogen + rest +
                         nitrogen_per_o2 * 0.5 * fmax(carbon - oxygen, 0.0);
    const double own = fuel->x[dw_species_find(table, "CO")];
    return burnt > 0.0 ? fmax(carbon / burnt, own) : own;
}
