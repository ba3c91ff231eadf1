/* What the rows of cfk.csv, room_air.csv, flammability.csv and co_limits.csv are computed with.
 * The tables speak in the units of their sources: mL/min, mmHg, minutes, m3/h. */

#include "flame.h"
#include "reference.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "carboxyhaemoglobin.h"
#include "cohb_linear.h"
#include "read_data.h"
#include "room_air.h"

static const double mmhg_pa = 133.322387415, ml_m3 = 1.0e-6, minute_s = 60.0, hour_s = 3600.0;

/* The built-in data, read once. */
static const dw_data *built_in(void)
{
    static dw_data *data;
    if (data == NULL) {
        data = malloc(sizeof *data);
        if (data == NULL || dw_read_data(NULL, NULL, data) != DW_OK) abort();
    }
    return data;
}

/* ---- carboxyhaemoglobin ------------------------------------------------------------------- */

/* The person of co.yaml, at the ventilation and diffusing capacity of the row. */
static dw_cohb person_of(const ref_row *row)
{
    const dw_co_person *p = &built_in()->co.person;
    return (dw_cohb){
        .haldane_ratio = p->haldane_ratio,
        .endogenous_m3_s = p->endogenous_m3_s,
        .capillary_o2_pa = p->capillary_o2_pa,
        .capacity_m3_m3 = p->capacity_m3_m3,
        .blood_m3 = p->blood_m3,
        .ventilation_m3_s = ref_number(row, "ventilation_ml_min") * ml_m3 / minute_s,
        .diffusing_m3_s_pa =
            ref_number(row, "diffusing_ml_min_mmhg") * ml_m3 / minute_s / mmhg_pa,
        .barometric_pa_abs = p->barometric_pa_abs,
        .water_pa = p->water_pa,
    };
}

static double cohb_percent(const ref_row *row)
{
    const dw_cohb person = person_of(row);
    if (dw_cohb_check(&person) != DW_OK) return NAN;
    return 100.0 * dw_cohb_after(&person, 0.01 * ref_number(row, "start_percent"),
                                 ref_number(row, "co_ppm"),
                                 ref_number(row, "time_min") * minute_s);
}

static double cohb_linear_percent(const ref_row *row)
{
    const dw_cohb person = person_of(row);
    return 100.0 * cohb_after_linear(&person, 0.01 * ref_number(row, "start_percent"),
                                        ref_number(row, "co_ppm"),
                                        ref_number(row, "time_min") * minute_s);
}

static double cohb_equilibrium_percent(const ref_row *row)
{
    const dw_cohb person = person_of(row);
    return 100.0 * dw_cohb_after(&person, 0.0, ref_number(row, "co_ppm"), INFINITY);
}

/* Time constant of the linear form in clean air, without what the body makes. */
static double cohb_time_constant_min(const ref_row *row)
{
    dw_cohb person = person_of(row);
    person.endogenous_m3_s = 0.0;
    const double t = 100.0 * minute_s;
    return t / log(0.05 / cohb_after_linear(&person, 0.05, 0.0, t)) / minute_s;
}

static double cohb_half_life_min(const ref_row *row)
{
    return log(2.0) * cohb_time_constant_min(row);
}

static double blood_volume_ml(const ref_row *row)
{
    return dw_blood_volume_m3(ref_number(row, "height_m"), ref_number(row, "mass_kg"),
                              strcmp(ref_word(row, "sex", "male"), "female") == 0, NULL) /
           ml_m3;
}

/* ---- room --------------------------------------------------------------------------------- */

static dw_room_air room_of(const ref_row *row)
{
    return (dw_room_air){.volume_m3 = ref_number_or(row, "volume_m3", 60.0),
                         .flow_m3_s = ref_number_or(row, "flow_m3_h", 0.0) / hour_s,
                         .source_m3_s = ref_number(row, "source_m3_h") / hour_s,
                         .outside_ppm = ref_number_or(row, "outside_ppm", 0.0)};
}

static double room_ppm(const ref_row *row)
{
    const dw_room_air room = room_of(row);
    if (dw_room_air_check(&room) != DW_OK) return NAN;
    return dw_room_air_ppm(&room, ref_number_or(row, "start_ppm", 0.0),
                           ref_number(row, "time_h") * hour_s);
}

static double room_steady_ppm(const ref_row *row)
{
    const dw_room_air room = room_of(row);
    return dw_room_air_steady_ppm(&room);
}

static double room_flow_for_m3_h(const ref_row *row)
{
    const dw_room_air room = room_of(row);
    return dw_room_air_flow_for_ppm(&room, ref_number(row, "level_ppm")) * hour_s;
}

/* ---- flammability ------------------------------------------------------------------------- */

static double lean_limit_percent(const ref_row *row)
{
    const dw_data *data = built_in();
    double x[DW_SPECIES_MAX];
    for (size_t i = 0; i < data->species.count; i++) {
        x[i] = ref_number_or(row, data->species.species[i].name, 0.0);
    }
    const double factor = dw_lean_limit_factor(data->co.lean_falls_per_k,
                                               ref_number_or(row, "temperature_k", 298.15));
    return 100.0 * factor * dw_flammable_limit(x, data->co.lean_x, data->species.count);
}

static double rich_limit_percent(const ref_row *row)
{
    const dw_data *data = built_in();
    double x[DW_SPECIES_MAX];
    for (size_t i = 0; i < data->species.count; i++) {
        x[i] = ref_number_or(row, data->species.species[i].name, 0.0);
    }
    return 100.0 * dw_flammable_limit(x, data->co.rich_x, data->species.count);
}

/* ---- limits ------------------------------------------------------------------------------- */

static double limit_ppm(const ref_row *row)
{
    const dw_co_data *co = &built_in()->co;
    for (size_t i = 0; i < co->limit_count; i++) {
        const dw_co_limit *limit = &co->limit[i];
        if (strcmp(limit->body, ref_word(row, "body", "")) == 0 &&
            strcmp(limit->name, ref_word(row, "name", "")) == 0 &&
            strcmp(limit->year, ref_word(row, "year", "")) == 0 &&
            limit->over_s == ref_number(row, "over_s")) {
            return limit->ppm;
        }
    }
    return NAN;
}

static const dw_co_alarm *alarm_of(const ref_row *row)
{
    const dw_co_data *co = &built_in()->co;
    for (size_t i = 0; i < co->alarm_count; i++) {
        if (strcmp(co->alarm[i].standard, ref_word(row, "standard", "")) == 0 &&
            co->alarm[i].ppm == ref_number(row, "co_ppm")) {
            return &co->alarm[i];
        }
    }
    return NULL;
}

static double alarm_from_min(const ref_row *row)
{
    const dw_co_alarm *alarm = alarm_of(row);
    return alarm != NULL ? alarm->from_s / minute_s : NAN;
}

/* NaN, an error as rows go, when it never must sound. */
static double alarm_by_min(const ref_row *row)
{
    const dw_co_alarm *alarm = alarm_of(row);
    return alarm != NULL && isfinite(alarm->by_s) ? alarm->by_s / minute_s : NAN;
}

static double co_burns_in_s(const ref_row *row)
{
    return dw_co_burns_in_s(ref_number(row, "temperature_k"), ref_number(row, "pressure_pa_abs"), ref_number(row, "x_h2o"),
                            ref_number(row, "x_o2"), NULL);
}

/* How much longer it takes at a temperature than at another. */
static double co_burns_in_ratio(const ref_row *row)
{
    const double p = ref_number(row, "pressure_pa_abs"), h2o = ref_number(row, "x_h2o"), o2 = ref_number(row, "x_o2");
    return dw_co_burns_in_s(ref_number(row, "temperature_k"), p, h2o, o2, NULL) /
           dw_co_burns_in_s(ref_number(row, "to_k"), p, h2o, o2, NULL);
}

const ref_quantity ref_people_quantities[] = {
    {"co_burns_in_s", co_burns_in_s},
    {"co_burns_in_ratio", co_burns_in_ratio},
    {"cohb_percent", cohb_percent},
    {"cohb_linear_percent", cohb_linear_percent},
    {"cohb_equilibrium_percent", cohb_equilibrium_percent},
    {"cohb_time_constant_min", cohb_time_constant_min},
    {"cohb_half_life_min", cohb_half_life_min},
    {"blood_volume_ml", blood_volume_ml},
    {"room_ppm", room_ppm},
    {"room_steady_ppm", room_steady_ppm},
    {"room_flow_for_m3_h", room_flow_for_m3_h},
    {"lean_limit_percent", lean_limit_percent},
    {"rich_limit_percent", rich_limit_percent},
    {"co_limit_ppm", limit_ppm},
    {"co_alarm_from_min", alarm_from_min},
    {"co_alarm_by_min", alarm_by_min},
    {NULL, NULL},
};
