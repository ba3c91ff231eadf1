#include "kit.h"

#include <stdlib.h>
#include <string.h>

#include "check.h"
#include "kiln_kinds.h"
#include "kiln_schema.h"
#include "test_data.h"

const char *const kit_examples[] = {
    "juniper-flat", "fennelbank-school", "tollgate-car-kiln", "thistledown-raku",
    "gannet-quay",  "cottonwood-bench",  "tram-shed",         "oxides-candlewick-lane",
    "oxides-rushlight-hill",             NULL,
};

const dw_data *kit_data(void)
{
    static dw_data *data;
    if (data == NULL) data = test_data_load();
    assert_non_null(data);
    return data;
}

const dw_model *kit_model(void)
{
    static dw_model model;
    static bool ready;
    if (!ready) {
        assert_int_equal(dw_model_init(&model, kit_data()), DW_OK);
        ready = true;
    }
    return &model;
}

char *kit_read_file(const char *path, size_t *length)
{
    char full[1024];
    (void)snprintf(full, sizeof full, "%s/%s", DW_SOURCE_DIR, path);
    FILE *file = fopen(full, "rb");
    if (file == NULL) print_error("cannot open %s\n", full);
    assert_non_null(file);
    size_t capacity = 65536, size = 0;
    char *text = malloc(capacity);
    assert_non_null(text);
    for (;;) {
        const size_t got = fread(text + size, 1, capacity - size - 1, file);
        if (got == 0) break;
        size += got;
        if (size + 1 == capacity) {
            capacity *= 2;
            text = realloc(text, capacity);
            assert_non_null(text);
        }
    }
    (void)fclose(file);
    text[size] = '\0';
    if (length != NULL) *length = size;
    return text;
}

void kit_example(const char *name, dw_kiln_file *file)
{
    char path[256];
    (void)snprintf(path, sizeof path, "examples/%s.yaml", name);
    size_t length;
    char *text = kit_read_file(path, &length);
    dw_diag_list *diag = dw_diag_list_create();
    const dw_status status = dw_read_kiln(kit_data(), path, text, length, NULL, 0, diag, file);
    for (size_t i = 0; i < dw_diag_count(diag) && status != DW_OK; i++) {
        char line[512];
        (void)dw_diag_format(dw_diag_get(diag, i), line, sizeof line);
        print_error("%s\n", line);
    }
    dw_diag_list_destroy(diag);
    free(text);
    assert_int_equal(status, DW_OK);
}

dw_kiln *kit_in_a_room(dw_kiln_file *file, const char *name)
{
    kit_example(name, file);
    dw_room *r = &file->kiln.room;
    r->present = true;
    r->volume_m3 = 83.0;
    r->air_changes_per_hour = 1.7;
    r->ventilation_m3_s = NAN;
    r->leak_area_m2 = NAN;
    return &file->kiln;
}

kit_random kit_fixed(unsigned long long seed)
{
    return (kit_random){seed * 2654435769ULL + 88172645463325252ULL};
}

kit_random kit_seed(unsigned long long seed)
{
    const char *wanted = getenv("DW_SEED");
    if (wanted != NULL) seed = strtoull(wanted, NULL, 10);
    print_message("seed %llu (set DW_SEED to repeat another)\n", seed);
    return kit_fixed(seed);
}

double kit_uniform(kit_random *random)
{
    /* splitmix64 */
    unsigned long long z = (random->state += 0x9e3779b97f4a7c15ULL);
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9ULL;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebULL;
    z ^= z >> 31;
    return (double)(z >> 11) / 9007199254740992.0;
}

double kit_between(kit_random *random, double low, double high)
{
    return low + (high - low) * kit_uniform(random);
}

double kit_log_between(kit_random *random, double low, double high)
{
    return low * pow(high / low, kit_uniform(random));
}

int kit_pick(kit_random *random, int count)
{
    return (int)(kit_uniform(random) * count);
}

int kit_cases(const char *variable, int usual)
{
    const char *wanted = getenv(variable);
    const int count = wanted == NULL ? 0 : atoi(wanted);
    return count > 0 ? count : usual;
}

void kit_plain_kiln(dw_kiln *kiln)
{
    dw_kiln_init(kiln);
    kiln->site.pressure_pa_abs = 101325.0;
    kiln->site.relative_humidity = 0.0;
    kiln->fuel.x[dw_species_find(&kit_data()->species, "CH4")] = 1.0;
    kiln->chamber = (dw_chamber){.width_m = 0.8, .depth_m = 0.7, .height_m = 1.0, .packed_frac = 0.4,
                                 .setting_loss = NAN, .leak_discharge_coeff = 0.62, .leak_per_surface = 0.001};
    kiln->burner_count = 1;
    dw_burner *burner = &kiln->burner[0];
    (void)snprintf(burner->name, sizeof burner->name, "burner");
    burner->height_m = 0.1;
    burner->jet_diameter_m = 2.0e-3;
    burner->throat_diameter_m = 40.0e-3;
    kiln->opening_count = 1;
    dw_opening *opening = &kiln->opening[0];
    (void)snprintf(opening->name, sizeof opening->name, "port");
    opening->area_m2 = 40.0e-4;
    opening->height_m = 0.3;
    kiln->flue_count = 1;
    dw_flue *flue = &kiln->flue[0];
    (void)snprintf(flue->name, sizeof flue->name, "flue");
    flue->area_m2 = 200.0e-4;
    flue->height_m = 0.9;
    kiln->operating.gas_pressure_pa = 10.0e3;
    kiln->operating.chamber_temperature_k = 1473.15;
    dw_kiln_resolve(kiln);
}

static void random_burner(kit_random *r, double chamber_height_m, dw_burner *b)
{
    dw_burner_init(b);
    b->count = 1 + kit_pick(r, 4);
    b->kind = kit_uniform(r) < 0.75 ? DW_BURNER_INSPIRATING : DW_BURNER_BLOWN;
    b->height_m = kit_between(r, 0.0, 0.25 * chamber_height_m);
    b->jet_diameter_m = kit_log_between(r, 0.8e-3, 3.0e-3);
    b->jet_discharge_coeff = kit_between(r, 0.6, 0.98);
    b->throat_diameter_m = kit_between(r, 14.0, 26.0) * b->jet_diameter_m;
    b->port_diameter_m = kit_between(r, 1.0, 1.5) * b->throat_diameter_m;
    b->shutter_open_frac = kit_between(r, 0.2, 1.0);
    b->port_temperature_ratio = kit_between(r, 1.0, 3.0);
    if (b->kind == DW_BURNER_BLOWN) {
        b->air_restriction_area_m2 = kit_between(r, 60.0, 250.0) * b->jet_diameter_m *
                                     b->jet_diameter_m;
    } else if (kit_uniform(r) < 0.2) {
        b->air_jet_diameter_m = kit_between(r, 0.5, 1.2) * b->jet_diameter_m;
    }
}

static void random_opening(kit_random *r, double chamber_height_m, dw_opening *o)
{
    dw_opening_init(o);
    o->kind = (dw_opening_kind)kit_pick(r, 3);
    o->count = 1 + kit_pick(r, 3);
    o->area_m2 = kit_log_between(r, 0.3e-4, 30e-4);
    o->open_frac = kit_uniform(r) < 0.2 ? 0.0 : kit_uniform(r);
    o->height_m = kit_between(r, 0.0, chamber_height_m);
    o->from_m = kit_between(r, 0.0, 0.5 * chamber_height_m);
    o->to_m = o->from_m + kit_between(r, 0.05, 0.5) * chamber_height_m;
    o->discharge_coeff = kit_between(r, 0.6, 0.7);
}

void kit_random_kiln_without_joints(kit_random *r, dw_kiln *kiln)
{
    static const char *const fuels[] = {"CH4", "C3H8", "n-C4H10"};
    dw_kiln_init(kiln);
    (void)snprintf(kiln->name, sizeof kiln->name, "random");
    kiln->site.elevation_m = kit_between(r, 0.0, 3000.0);
    kiln->site.air_temperature_k = kit_between(r, 258.0, 308.0);
    kiln->site.relative_humidity = kit_uniform(r);
    kiln->site.room_pressure_pa = kit_uniform(r) < 0.2 ? kit_between(r, -8.0, 4.0) : 0.0;
    if (kiln->site.room_pressure_pa > 1.0) {
        /* and wind; no more random numbers than before, so that seeds keep their kilns */
        kiln->site.wind_speed_m_s = 2.0 * kiln->site.room_pressure_pa;
        kiln->room.wind_coeff = -0.1;
        kiln->stack.wind_coeff = 0.05 * kiln->site.room_pressure_pa;
    }
    const int fuel = dw_species_find(&kit_data()->species, fuels[kit_pick(r, 3)]);
    memset(kiln->fuel.x, 0, sizeof kiln->fuel.x);
    kiln->fuel.x[fuel] = 1.0;
    dw_chamber *c = &kiln->chamber;
    c->width_m = kit_between(r, 0.4, 1.8);
    c->depth_m = kit_between(r, 0.4, 1.8);
    c->height_m = kit_between(r, 0.5, 2.0);
    c->packed_frac = kit_between(r, 0.0, 0.6);

    kiln->burner_count = 1 + kit_pick(r, 4);
    double jets_m2 = 0.0;
    for (int i = 0; i < kiln->burner_count; i++) {
        dw_burner *b = &kiln->burner[i];
        random_burner(r, c->height_m, b);
        (void)snprintf(b->name, sizeof b->name, "burner %d", i);
        if (i > 0 && kit_uniform(r) < 0.15) b->lit = false;
        b->plugged = !b->lit && kit_uniform(r) < 0.5;
        if (b->lit) jets_m2 += b->count * b->jet_diameter_m * b->jet_diameter_m;
    }
    kiln->opening_count = kit_pick(r, 5);
    for (int i = 0; i < kiln->opening_count; i++) {
        random_opening(r, c->height_m, &kiln->opening[i]);
        (void)snprintf(kiln->opening[i].name, DW_NAME_SIZE, "opening %d", i);
    }
    kiln->stack.present = kit_uniform(r) < 0.75;
    kiln->flue_count = 1 + kit_pick(r, 3);
    double flues_m2 = 0.0;
    for (int i = 0; i < kiln->flue_count; i++) {
        dw_flue *f = &kiln->flue[i];
        dw_flue_init(f);
        (void)snprintf(f->name, sizeof f->name, "flue %d", i);
        f->area_m2 = kit_between(r, 700.0, 2500.0) * jets_m2;
        f->height_m = kiln->stack.present ? kit_between(r, 0.0, 0.3) * c->height_m : c->height_m;
        f->damper.kind = kit_uniform(r) < 0.7 ? DW_DAMPER_SLIDE : DW_DAMPER_BUTTERFLY;
        f->damper.open_frac = kit_between(r, 0.0, 1.0);
        f->damper.scale = kit_between(r, 0.8, 1.2);
        flues_m2 += f->area_m2;
        /* A pair of half the area is the same outlet: every third kiln has one. */
        if (i == 2) {
            f->count = 2;
            f->area_m2 *= 0.5;
        }
    }
    kiln->stack.height_m = kit_between(r, 1.5, 8.0);
    kiln->stack.area_m2 = kit_between(r, 1.0, 2.5) * flues_m2;
    kiln->stack.bend_count = kit_pick(r, 3);
    if (kit_uniform(r) < 0.3) kiln->stack.relief_area_m2 = kit_between(r, 0.0, 0.5) * flues_m2;
    kiln->stack.heat_loss_ntu = kit_between(r, 0.05, 1.0);
    if (kit_uniform(r) < 0.15) {
        kiln->stack.heat_loss_ntu = NAN;
        kiln->stack.heat_loss_ua_w_k = kit_log_between(r, 1.0, 60.0);
        if (kiln->stack.heat_loss_ua_w_k < 4.0) {
            /* by its wall: no more random numbers than before, so that seeds keep their kilns */
            kiln->stack.wall = (dw_stack_wall)(1 + (int)kiln->stack.heat_loss_ua_w_k % 3 * 2);
            kiln->stack.heat_loss_ua_w_k = NAN;
            dw_stack_take_kinds(&kiln->stack, &kit_data()->spreads);
        }
    }
    if (kit_uniform(r) < 0.1) {
        kiln->stack.hood_gap_height_m = kit_between(r, 0.2, 0.9) * kiln->stack.height_m;
    }
    kiln->operating.gas_pressure_pa = kit_log_between(r, 1e3, 1e5);
    kiln->operating.air_pressure_pa = kit_log_between(r, 200.0, 5e3);
    kiln->operating.chamber_temperature_k = kit_between(r, 350.0, 1600.0);
    kiln->settings.unmixedness = kit_uniform(r) < 0.2 ? 0.0 : kit_between(r, 0.02, 0.2);
    kiln->settings.quench_temperature_k = kit_between(r, 1000.0, 1300.0);
    /* Rich gas in half of the kilns with its own, by the last digits: no draw more, so that seeds stay the same. */
    const double digits = fmod(kiln->settings.quench_temperature_k, 1.0);
    if (digits < 0.5) kiln->settings.quench_temperature_rich_k = 1000.0 + 800.0 * digits;
}

/* Of each opening one in four is made a joint, and some holes are given by their depth, some
 * flues and settings lose something, by numbers of its own: whoever takes the same numbers without
 * joints gets the same kiln but for them. */
void kit_random_kiln(kit_random *r, dw_kiln *kiln)
{
    kit_random_kiln_without_joints(r, kiln);
    kit_random own = kit_fixed(r->state);
    if (kit_uniform(&own) < 0.3) kiln->chamber.setting_loss = kit_between(&own, 0.0, 60.0);
    for (int i = 0; i < kiln->flue_count; i++)
        if (kit_uniform(&own) < 0.3) kiln->flue[i].floor_loss = kit_between(&own, 0.0, 5.0);
    for (int i = 0; i < kiln->opening_count; i++) {
        dw_opening *o = &kiln->opening[i];
        const double which = kit_uniform(&own);
        if (o->kind == DW_OPENING_HOLE && which > 0.4 && which < 0.75) { /* a hole by its depth */
            o->depth_m = kit_log_between(&own, 1e-3, 0.3);
            o->discharge_coeff = NAN;
        }
        if (which < 0.75) continue;
        o->kind = DW_OPENING_JOINT;
        o->width_m = kit_log_between(&own, 0.3e-3, 8e-3);
        o->depth_m = kit_log_between(&own, 0.02, 0.35);
        o->area_m2 = NAN;
        if (kit_uniform(&own) < 0.3) { /* level */
            o->from_m = o->to_m = NAN;
            o->length_m = kit_between(&own, 0.1, 3.0);
        } else {
            o->height_m = NAN;
            if (kit_uniform(&own) < 0.5) o->length_m = kit_between(&own, 1.0, 4.0) * (o->to_m - o->from_m);
        }
    }
}

/* Moves some of an object's plain numbers to anywhere between the ends of their range. */
static void shake(kit_random *r, dw_object which, void *object, double share)
{
    const dw_keys *keys = dw_keys_of(which);
    const unsigned kind = dw_object_kind(keys, object);
    for (int i = 0; i < keys->count; i++) {
        const dw_key *key = &keys->key[i];
        if (key->kind != DW_KEY_NUMBER || !dw_key_is_plain_number(key) ||
            !dw_key_applies(key, kind)) {
            continue;
        }
        char *at = (char *)object + key->offset;
        double value;
        memcpy(&value, at, sizeof value);
        const double pick = kit_uniform(r), where = kit_uniform(r), how = kit_uniform(r);
        if (!(pick < share) || isnan(value)) continue;
        const double low = dw_key_limit(key, key->low), high = dw_key_limit(key, key->high);
        if (how < 0.25) {
            value = where < 0.5 ? low : high;
        } else if (how < 0.6 && low > 0.0) {
            value = low * pow(high / low, where);
        } else {
            value = low + (high - low) * where;
        }
        memcpy(at, &value, sizeof value);
    }
}

void kit_extreme_kiln(kit_random *r, dw_kiln *kiln)
{
    dw_kiln resolved;
    char message[200];
    do {
        kit_random_kiln(r, kiln);
        const double share = 0.15 * kit_uniform(r);
        shake(r, DW_OBJECT_SITE, &kiln->site, share);
        shake(r, DW_OBJECT_CHAMBER, &kiln->chamber, share);
        shake(r, DW_OBJECT_STACK, &kiln->stack, share);
        shake(r, DW_OBJECT_MODEL, &kiln->settings, share);
        shake(r, DW_OBJECT_OPERATING, &kiln->operating, share);
        for (int i = 0; i < kiln->burner_count; i++) {
            shake(r, DW_OBJECT_BURNER, &kiln->burner[i], share);
        }
        for (int i = 0; i < kiln->opening_count; i++) {
            shake(r, DW_OBJECT_OPENING, &kiln->opening[i], share);
        }
        for (int i = 0; i < kiln->flue_count; i++) {
            shake(r, DW_OBJECT_FLUE, &kiln->flue[i], share);
            shake(r, DW_OBJECT_DAMPER, &kiln->flue[i].damper, share);
        }
        resolved = *kiln;
        dw_kiln_resolve(&resolved);
    } while (dw_kiln_check(&resolved, &kit_data()->species, message, sizeof message) != DW_OK);
}
