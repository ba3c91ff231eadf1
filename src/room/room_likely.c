#include "room_likely.h"

#include <math.h>
#include <string.h>

#include "moist_air.h"

/* Narrower than this a hole is a crack: through a wall its gas loses its heat (judgement). */
static const double crack_below_m = 0.010;

DW_LAW(mouth_speed, "v", "speed of the gas in the mouth", "m/s", "definition",
       (double m_p, double rho_w, double A_o), m_p / (rho_w * A_o))
const dw_law *const dw_mouth_speed_law = &mouth_speed_law;

/** A mouth that gas comes out of: all pieces together, and the hydraulic diameter of one. */
typedef struct mouth {
    double area_m2, width_m;
    bool crack;
} mouth;

/* Of a rectangle: four times its area over its circumference. */
static double hydraulic_m(double width_m, double height_m)
{
    return 2.0 * width_m * height_m / (width_m + height_m);
}

/* The upper part of a tall opening, whose middle is known. A hole is taken as square: a round one is wider. */
static mouth opening_mouth(const dw_opening *o, double middle_m)
{
    const double each_m2 = o->area_m2 * o->open_frac;
    if (o->kind != DW_OPENING_TALL) {
        const double side_m = sqrt(each_m2);
        return (mouth){o->count * each_m2, side_m, o->kind == DW_OPENING_CRACK || side_m < crack_below_m};
    }
    const double wide_m = each_m2 / (o->to_m - o->from_m), out_m = 2.0 * (o->to_m - middle_m);
    return (mouth){o->count * wide_m * out_m, hydraulic_m(wide_m, out_m), wide_m < crack_below_m};
}

/* What the damper leaves free of a square flue. */
static mouth flue_mouth(const dw_flue *f)
{
    const double side_m = sqrt(f->area_m2), open = fmax(f->damper.open_frac, f->damper.leak_frac);
    return (mouth){f->count * f->area_m2 * open, hydraulic_m(side_m, open * side_m), open * side_m < crack_below_m};
}

static dw_likely_place look_at(const dw_kiln *kiln, const dw_room_place *p, const dw_port_flame *flame,
                               double rho_kg_m3)
{
    dw_likely_place l = {.by = DW_BURNT_NEVER, .width_m = 0.0, .area_m2 = 1.0, .burnt_frac = 0.0};
    const bool flue = p->kind == DW_FLOW_FLUE;
    if (!flue && p->kind != DW_FLOW_OPENING && p->kind != DW_FLOW_TALL_OUT) return l;
    const dw_opening *opening = flue ? NULL : &kiln->opening[p->index];
    if (!flue && opening->kind == DW_OPENING_JOINT) return l;
    const mouth m = flue ? flue_mouth(&kiln->flue[p->index]) : opening_mouth(opening, p->height_m);
    /* What a person said of this very opening counts, but not of a crack. */
    double given = flue || opening->kind == DW_OPENING_CRACK ? NAN : opening->burnt_frac;
    if (isnan(given) && !m.crack) given = kiln->room.burnt_frac;
    if (!isnan(given)) {
        l.by = DW_BURNT_GIVEN;
        l.burnt_frac = given;
    } else if (!m.crack && !(flue && kiln->stack.present)) {
        l.by = DW_BURNT_BY_LAW;
        l.width_m = m.width_m;
        l.area_m2 = m.area_m2;
        l.burnt_frac = dw_port_burnt_frac(flame, l.width_m, mouth_speed(p->mass_kg_s, rho_kg_m3, m.area_m2));
    }
    return l;
}

dw_status dw_room_meeting(const dw_model *model, const dw_kiln *kiln, const dw_result *result,
                          double x_air[DW_SPECIES_MAX], dw_port_meeting *meeting)
{
    const dw_site *site = &kiln->site;
    const dw_species_table *table = &model->data->species;
    dw_moist_air air;
    const dw_status status = dw_moist_air_from_humidity(site->air_temperature_k, site->pressure_pa_abs,
                                                        site->relative_humidity, NULL, &air);
    if (status != DW_OK) return status;
    static const char *const name[5] = {"H2O", "N2", "O2", "Ar", "CO2"};
    const double x[5] = {air.x_h2o, air.x_n2, air.x_o2, air.x_ar, air.x_co2};
    memset(x_air, 0, DW_SPECIES_MAX * sizeof x_air[0]);
    for (int i = 0; i < 5; i++) {
        const int s = dw_species_find(table, name[i]);
        if (s < 0) return DW_ERR_DOMAIN;
        x_air[s] = x[i];
    }
    *meeting = (dw_port_meeting){.table = table,
                                 .x_gas = result->gas_wet.x,
                                 .x_air = x_air,
                                 .gas_temperature_k = result->gas_temperature_k,
                                 .air_temperature_k = site->room_temperature_k,
                                 .pressure_pa_abs = site->pressure_pa_abs};
    return DW_OK;
}

dw_status dw_room_likely_find(const dw_model *model, const dw_kiln *kiln, const dw_result *result,
                              const dw_room_result *room, dw_room_likely *likely)
{
    double x_air[DW_SPECIES_MAX];
    dw_port_meeting meeting;
    dw_status status = dw_room_meeting(model, kiln, result, x_air, &meeting);
    if (status == DW_OK) status = dw_port_flame_find(&meeting, NULL, &likely->flame);
    if (status != DW_OK) return status;
    const double rho_kg_m3 = dw_ideal_gas_density_kg_m3(result->gas_wet.molar_mass_kg_mol, result->gas_temperature_k,
                                                        kiln->site.pressure_pa_abs);
    double left_m3_s = 0.0;
    for (int i = 0; i < room->place_count; i++) {
        const dw_room_place *p = &room->place[i];
        likely->place[i] = look_at(kiln, p, &likely->flame, rho_kg_m3);
        left_m3_s += p->co_m3_s * (1.0 - likely->place[i].burnt_frac);
    }
    likely->co_m3_s = fmin(left_m3_s * (1.0 - kiln->room.hood_capture_frac), room->co_m3_s);
    likely->burnt_frac = room->co_leaves_m3_s > 0.0 ? fmax(1.0 - left_m3_s / room->co_leaves_m3_s, 0.0) : 0.0;
    return DW_OK;
}
