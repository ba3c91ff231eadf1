#include "kiln_typed.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "constants.h"
#include "damper.h"
#include "format.h"

void dw_typed_path(const dw_kiln *kiln, dw_object object, int index, const dw_key *key,
                   char out[DW_PATH_SIZE])
{
    char at[DW_PATH_SIZE] = "", item[DW_PATH_SIZE];
    const char *plain = "";
    switch (object) {
    case DW_OBJECT_KILN: plain = "kiln"; break;
    case DW_OBJECT_SITE: plain = "kiln.site"; break;
    case DW_OBJECT_CHAMBER: plain = "kiln.chamber"; break;
    case DW_OBJECT_STACK: plain = "kiln.stack"; break;
    case DW_OBJECT_MODEL: plain = "kiln.model"; break;
    case DW_OBJECT_OPERATING: plain = "operating"; break;
    case DW_OBJECT_ROOM: plain = "room"; break;
    case DW_OBJECT_BURNER:
        (void)dw_path_join(at, sizeof at, "kiln.burners", kiln->burner[index].name);
        break;
    case DW_OBJECT_OPENING:
        (void)dw_path_join(at, sizeof at, "kiln.openings", kiln->opening[index].name);
        break;
    case DW_OBJECT_FLUE:
        (void)dw_path_join(at, sizeof at, "kiln.flues", kiln->flue[index].name);
        break;
    case DW_OBJECT_DAMPER:
        (void)dw_path_join(item, sizeof item, "kiln.flues", kiln->flue[index].name);
        (void)dw_path_join_keys(at, sizeof at, item, "damper");
        break;
    case DW_OBJECT_FILE:
    case DW_OBJECT_COUNT: break;
    }
    (void)dw_path_join_keys(out, DW_PATH_SIZE, plain[0] != '\0' ? plain : at, key->name);
}

static const char *unit_at(const dw_kiln_file *file, size_t offset)
{
    for (int i = 0; i < file->typed_count; i++) {
        const dw_typed *t = &file->typed[i];
        const dw_object object = (dw_object)t->object;
        const dw_key *key = &dw_keys_of(object)->key[t->row];
        if (dw_key_is_plain_number(key) &&
            dw_object_offset(object, t->index) + key->offset == offset) {
            return t->unit;
        }
    }
    return NULL;
}

/* Where a number that was not given is taken from as it is; the offset itself when nowhere. */
static size_t taken_from(size_t offset)
{
    const size_t first = offsetof(dw_kiln, burner);
    if (offset >= first && offset < first + sizeof(dw_burner) * DW_BURNER_MAX) {
        switch ((offset - first) % sizeof(dw_burner)) {
        case offsetof(dw_burner, gas_pressure_pa):
            return offsetof(dw_kiln, operating.gas_pressure_pa);
        case offsetof(dw_burner, air_pressure_pa):
            return offsetof(dw_kiln, operating.air_pressure_pa);
        case offsetof(dw_burner, port_diameter_m):
            return offset - offsetof(dw_burner, port_diameter_m) +
                   offsetof(dw_burner, throat_diameter_m);
        default: return offset;
        }
    }
    switch (offset) {
    case offsetof(dw_kiln, operating.gas_temperature_k):
    case offsetof(dw_kiln, site.room_temperature_k):
    case offsetof(dw_kiln, site.outside_temperature_k):
        return offsetof(dw_kiln, site.air_temperature_k);
    default: return offset;
    }
}

const char *dw_typed_unit(const dw_kiln_file *file, size_t offset)
{
    const char *own = unit_at(file, offset);
    return own != NULL ? own : unit_at(file, taken_from(offset));
}

/* The number that a person typed, from the one it was turned into. */
static double typed_si(const dw_key *key, double stored)
{
    switch (key->kind) {
    case DW_KEY_DIAMETER: return sqrt(4.0 * stored / DW_PI);
    case DW_KEY_ANGLE: return dw_butterfly_angle_rad(stored);
    default: return stored;
    }
}

bool dw_typed_as(const dw_kiln_file *file, dw_object object, int index, int row,
                 char out[DW_TYPED_AS_SIZE])
{
    const dw_keys *keys = dw_keys_of(object);
    for (int i = 0; i < file->typed_count; i++) {
        const dw_typed *t = &file->typed[i];
        if (t->object != (unsigned char)object || t->index != index || t->row == row ||
            t->unit == NULL || dw_keys_target(keys, t->row) != row) {
            continue;
        }
        const dw_key *key = &keys->key[t->row];
        if (key->kind != DW_KEY_DIAMETER && key->kind != DW_KEY_ANGLE) {
            (void)snprintf(out, DW_TYPED_AS_SIZE, "%s %s", key->name, t->unit);
            return true;
        }
        double stored;
        memcpy(&stored, (const char *)&file->kiln + dw_object_offset(object, index) + key->offset,
               sizeof stored);
        (void)dw_print(out, DW_TYPED_AS_SIZE, "%s %.6g %s", key->name,
                       dw_quantity_in(typed_si(key, stored), key->dim, t->unit), t->unit);
        return true;
    }
    return false;
}

void dw_typed_put(dw_kiln_file *file, const dw_kiln_field *field)
{
    for (int p = 0; p < field->place_count; p++) {
        int at = 0;
        /* Another form of the same number is no longer what holds. */
        const dw_keys *keys = dw_keys_of((dw_object)field->object);
        while (at < file->typed_count &&
               !(file->typed[at].object == (unsigned char)field->object &&
                 file->typed[at].index == field->index[p] &&
                 dw_keys_target(keys, file->typed[at].row) == field->row)) {
            at++;
        }
        if (at == DW_TYPED_MAX) return;
        if (at == file->typed_count) file->typed_count++;
        file->typed[at] = (dw_typed){.object = (unsigned char)field->object,
                                     .index = (short)field->index[p],
                                     .row = (short)field->row,
                                     .unit = field->unit};
    }
}
