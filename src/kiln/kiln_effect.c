#include "kiln_effect.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "diag.h"
#include "kiln_typed.h"

static double air_pressure_pa(const dw_kiln *kiln, const dw_burner *b)
{
    return isnan(b->air_pressure_pa) ? kiln->operating.air_pressure_pa : b->air_pressure_pa;
}

static bool takes_air(const dw_burner *b)
{
    return b->kind == DW_BURNER_BLOWN ? isnan(b->air_flow_m3_s) : b->air_jet_diameter_m > 0.0;
}

static const char *no_top_outside(const dw_kiln *kiln)
{
    return kiln->stack.present ? "the stack ends at a hood gap in the room"
                               : "there is no stack, so the flues end in the room";
}

static const char *burner_lacks(const dw_kiln *kiln, const dw_burner *b, unsigned need)
{
    switch (need) {
    case DW_NEEDS_LIT: return b->lit ? NULL : "this burner is not lit";
    case DW_NEEDS_UNLIT: return b->lit ? "this burner is lit" : NULL;
    case DW_NEEDS_UNPLUGGED: return b->lit || !b->plugged ? NULL : "this burner is plugged";
    case DW_NEEDS_JET:
        return b->lit || (!b->plugged && b->kind == DW_BURNER_INSPIRATING)
                   ? NULL
                   : "this burner is not lit";
    case DW_NEEDS_SHUTTER: return b->shutter_open_frac > 0.0 ? NULL : "the shutter is closed";
    case DW_NEEDS_AIR_JET:
        return b->air_jet_diameter_m > 0.0 ? NULL : "this burner has no air_jet.diameter";
    case DW_NEEDS_AIR_USER:
        if (takes_air(b)) return NULL;
        return b->kind == DW_BURNER_BLOWN ? "the air flow of this burner is given"
                                          : "this burner has no air_jet.diameter";
    case DW_NEEDS_AIR_PRESSURE:
        return air_pressure_pa(kiln, b) > 0.0 ? NULL : "there is no air_pressure";
    case DW_NEEDS_RESTRICTION:
        return isnan(b->air_flow_m3_s) ? NULL : "the air flow of this burner is given";
    case DW_NEEDS_JET_KIND:
        return b->jet_coeffs_given ? "the coefficients of the jet are given" : NULL;
    case DW_NEEDS_SHUTTER_AREA:
        return isnan(b->shutter_area_m2) ? "shutter_area is not given" : NULL;
    default: return NULL;
    }
}

static const char *opening_lacks(const dw_opening *o, unsigned need)
{
    if (need == DW_NEEDS_NO_DISCHARGE) {
        if (o->kind == DW_OPENING_JOINT || isnan(o->discharge_coeff)) return NULL;
        return isnan(o->depth_m) ? "no depth is given in the description" : "discharge_coefficient is given";
    }
    return o->open_frac > 0.0 ? NULL : "this opening is closed (open: 0 %)";
}

static const char *flue_lacks(const dw_kiln *kiln, const dw_flue *f, unsigned need)
{
    if (need == DW_NEEDS_NO_FLOOR_LOSS) return f->floor_loss_given ? "floor_loss is given" : NULL;
    if (need == DW_NEEDS_PLATE_SIZE) {
        return f->damper.thickness_m > 0.0 && f->damper.mouth_width_m > 0.0
                   ? NULL
                   : "it is used only when thickness and mouth_width are both given";
    }
    if (need != DW_NEEDS_BEHIND || f->damper.kind == DW_DAMPER_SLIDE) return NULL;
    if (f->damper.kind == DW_DAMPER_SHELF) return "a wide space is behind a shelf";
    if (f->damper.kind == DW_DAMPER_TABLE)
        return "the rows of a damper table include what is behind it";
    return kiln->stack.present ? NULL : "behind a butterfly without a stack is the room";
}

/* The shared pressure of gas or air: some lit burner must use it. */
static const char *shared_lacks(const dw_kiln *kiln, unsigned need)
{
    const bool gas = need == DW_NEEDS_SHARED_GAS;
    bool user = false;
    for (int i = 0; i < kiln->burner_count; i++) {
        const dw_burner *b = &kiln->burner[i];
        if (!b->lit || (!gas && !takes_air(b))) continue;
        user = true;
        if (isnan(gas ? b->gas_pressure_pa : b->air_pressure_pa)) return NULL;
    }
    if (user) {
        return gas ? "every lit burner has a gas_pressure of its own"
                   : "every lit burner that takes air has an air_pressure of its own";
    }
    return gas ? "no burner is lit"
               : "no lit burner has an air jet or is blown through a restriction";
}

static const char *kiln_lacks(const dw_kiln *kiln, unsigned need)
{
    const dw_room *room = &kiln->room;
    switch (need) {
    case DW_NEEDS_LEAK: return kiln->chamber.leak_area_m2 == 0.0 ? "leak_area is 0" : NULL;
    case DW_NEEDS_NO_LEAK_AREA:
        return isnan(kiln->chamber.leak_area_m2) ? NULL : "leak_area is given";
    case DW_NEEDS_RELIEF:
        return kiln->stack.relief_area_m2 > 0.0 ? NULL : "there is no relief_opening";
    case DW_NEEDS_NO_HOOD:
        return isnan(kiln->stack.hood_gap_height_m) ? NULL
                                                    : "the open hood gap is where the stack ends";
    case DW_NEEDS_NO_WALL:
        return kiln->stack.wall == DW_WALL_UNKNOWN ? NULL : "the wall of the stack is given";
    case DW_NEEDS_BENDS: return kiln->stack.bend_count > 0.0 ? NULL : "bends is 0";
    case DW_NEEDS_NO_PRESSURE:
        return isnan(kiln->site.pressure_pa_abs) ? NULL : "site.pressure is given";
    case DW_NEEDS_OUTSIDE:
    case DW_NEEDS_OUTSIDE_AIR:
        return dw_kiln_ends_outside(kiln) || room->present ? NULL : no_top_outside(kiln);
    case DW_NEEDS_MANIFOLD:
        return kiln->operating.gauge == DW_GAUGE_MANIFOLD ? NULL : "gas_pressure is read at the jets (gauge: jet)";
    case DW_NEEDS_OUTSIDE_TOP: return dw_kiln_ends_outside(kiln) ? NULL : no_top_outside(kiln);
    case DW_NEEDS_WIND: return kiln->site.wind_speed_m_s > 0.0 ? NULL : "there is no wind_speed";
    case DW_NEEDS_FAN: return room->exhaust_fan_m3_s > 0.0 ? NULL : "there is no exhaust_fan_flow";
    case DW_NEEDS_PERSON:
        return !isnan(room->person_height_m) && !isnan(room->person_mass_kg)
                   ? NULL
                   : "it is used only when person.height and person.mass are both given";
    default: return shared_lacks(kiln, need);
    }
}

static const char *lacking(const dw_kiln *kiln, dw_object object, int index, unsigned need)
{
    switch (object) {
    case DW_OBJECT_BURNER: return burner_lacks(kiln, &kiln->burner[index], need);
    case DW_OBJECT_DAMPER:
    case DW_OBJECT_FLUE: return flue_lacks(kiln, &kiln->flue[index], need);
    case DW_OBJECT_OPENING:
        if (need == DW_NEEDS_ROOM) return kiln->room.present ? NULL : "there is no room";
        return opening_lacks(&kiln->opening[index], need);
    default: return kiln_lacks(kiln, need);
    }
}

bool dw_key_idle(const dw_kiln *kiln, dw_object object, int index, const dw_key *key,
                 char reason[DW_IDLE_SIZE], unsigned *lacks)
{
    const dw_keys *keys = dw_keys_of(object);
    const unsigned kind =
        dw_object_kind(keys, (const char *)kiln + dw_object_offset(object, index));
    if (lacks != NULL) *lacks = 0;
    if (!dw_key_applies(key, kind)) {
        (void)snprintf(reason, DW_IDLE_SIZE, "the kind is %s",
                       keys->key[keys->kind_row].words[kind]);
        return true;
    }
    for (unsigned bit = 1; bit != 0 && bit <= key->needs; bit <<= 1) {
        const char *text = (key->needs & bit) != 0 ? lacking(kiln, object, index, bit) : NULL;
        if (text == NULL) continue;
        (void)snprintf(reason, DW_IDLE_SIZE, "%s", text);
        if (lacks != NULL) *lacks = bit;
        return true;
    }
    return false;
}

/* ---- overrides and fields ------------------------------------------------------------------ */

/* Idle in every variant. The reason is that of the first. */
static bool idle_in_all(const dw_kiln *const *variants, size_t count, dw_object object, int index,
                        const dw_key *key, char reason[DW_IDLE_SIZE])
{
    char other[DW_IDLE_SIZE];
    for (size_t i = 0; i < count; i++) {
        if (!dw_key_idle(variants[i], object, index, key, i == 0 ? reason : other, NULL))
            return false;
    }
    return count > 0;
}

dw_status dw_kiln_overrides(const dw_kiln_file *file, const dw_kiln *const *variants, size_t count,
                            dw_diag_list *diag)
{
    if (file == NULL || variants == NULL) return DW_ERR_ARG;
    int settings = 0;
    for (int i = 0; i < file->typed_count; i++) {
        if (file->typed[i].setting > settings) settings = file->typed[i].setting;
    }
    dw_status status = DW_OK;
    for (int n = 1; n <= settings; n++) {
        const dw_typed *idle = NULL;
        char reason[DW_IDLE_SIZE], why[DW_IDLE_SIZE] = "", path[DW_PATH_SIZE];
        bool reaches = false;
        for (int i = 0; i < file->typed_count && !reaches; i++) {
            const dw_typed *t = &file->typed[i];
            if (t->setting != n) continue;
            const dw_object object = (dw_object)t->object;
            const dw_key *key = &dw_keys_of(object)->key[t->row];
            reaches = t->repeated || !idle_in_all(variants, count, object, t->index, key, reason);
            if (reaches || idle != NULL) continue;
            idle = t;
            memcpy(why, reason, sizeof why);
        }
        if (reaches || idle == NULL) continue;
        const dw_object object = (dw_object)idle->object;
        dw_typed_path(&file->kiln, object, idle->index, &dw_keys_of(object)->key[idle->row], path);
        dw_diag_add(diag, DW_ERROR, "no-effect", (dw_place){"--set", 0, 0},
                    "'%s' has no effect: %s", path, why);
        status = DW_ERR_INPUT;
    }
    return status;
}

dw_status dw_kiln_field_reaches(const dw_kiln_field *field, const dw_kiln *const *variants,
                                size_t count, dw_diag_list *diag)
{
    if (field == NULL || variants == NULL) return DW_ERR_ARG;
    const dw_object object = (dw_object)field->object;
    const dw_key *key = &dw_keys_of(object)->key[field->row];
    char reason[DW_IDLE_SIZE], why[DW_IDLE_SIZE] = "";
    for (int i = 0; i < field->place_count; i++) {
        if (!idle_in_all(variants, count, object, field->index[i], key, reason)) return DW_OK;
        if (i == 0) memcpy(why, reason, sizeof why);
    }
    if (field->place_count == 0) return DW_OK;
    dw_diag_add(diag, DW_ERROR, "no-effect", (dw_place){"--vary", 0, 0},
                "'%.150s' has no effect: %s", field->path, why);
    return DW_ERR_INPUT;
}
