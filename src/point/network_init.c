/* From a resolved kiln to laws: what does not depend on the unknown pressures. */
#include "network.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "constants.h"
#include "damper.h"
#include "format.h"

static dw_status init_air(dw_network *net)
{
    const dw_site *site = &net->kiln->site;
    const dw_species_table *table = &net->model->data->species;
    dw_status status = dw_moist_air_from_humidity(site->air_temperature_k, site->pressure_pa_abs,
                                                  site->relative_humidity, NULL, &net->air);
    if (status != DW_OK) return status;
    static const char *const name[5] = {"H2O", "N2", "O2", "Ar", "CO2"};
    const double x[5] = {net->air.x_h2o, net->air.x_n2, net->air.x_o2, net->air.x_ar,
                         net->air.x_co2};
    memset(net->x_air, 0, sizeof net->x_air);
    for (int i = 0; i < 5; i++) {
        const int s = dw_species_find(table, name[i]);
        if (s < 0) return DW_ERR_DOMAIN;
        net->x_air[s] = x[i];
    }
    /* Room air is outside air at another temperature. Colder than its dew point it would rain out;
     * that is reported, the water is kept. */
    dw_moist_air saturated;
    net->room_saturated =
        dw_moist_air_from_humidity(site->room_temperature_k, site->pressure_pa_abs, 1.0, NULL,
                                   &saturated) == DW_OK &&
        saturated.x_h2o < net->air.x_h2o;

    const double m = net->air.molar_mass_kg_mol, p = site->pressure_pa_abs;
    net->pressure_pa_abs = p;
    net->rho_room_kg_m3 = dw_ideal_gas_density_kg_m3(m, site->room_temperature_k, p);
    net->rho_out_kg_m3 = dw_ideal_gas_density_kg_m3(m, site->outside_temperature_k, p);
    return DW_OK;
}

DW_LAW(all_alike, "A_f", "area of all of them", "m2", "definition", (double n_f, double A_1), n_f * A_1)

static double flue_area_m2(const dw_flue *f, dw_working *w)
{
    if (f->count == 1) {
        return dw_law_given(w, DW_WORK_INPUT, "A_f", "area of the flue", "m2", f->area_m2);
    }
    const double n_f =
        dw_law_given(w, DW_WORK_INPUT, "n_f", "number of flues like this", "", f->count);
    const double A_1 = dw_law_given(w, DW_WORK_INPUT, "A_1", "area of one", "m2", f->area_m2);
    return DW_STEP(w, all_alike, (n_f, A_1));
}

static dw_status damper_loss(const dw_data *data, const dw_damper *d, double k, dw_working *w,
                             dw_damper_loss *loss)
{
    const dw_damper_setting setting = {d->open_frac, d->leak_frac, d->scale};
    switch (d->kind) {
    case DW_DAMPER_SLIDE: return dw_damper_slide(&setting, k, w, loss);
    case DW_DAMPER_BUTTERFLY:
        return dw_damper_butterfly(&setting, data->butterfly_angle_rad, data->butterfly_loss,
                                   (int)data->butterfly_count, w, loss);
    case DW_DAMPER_SHELF: {
        const dw_damper_plate plate = {d->thickness_m, d->mouth_width_m, data->thick_plate_ratio,
                                       data->thick_plate_factor, (int)data->thick_plate_count};
        return dw_damper_shelf(&setting, &plate, w, loss);
    }
    case DW_DAMPER_TABLE:
        return dw_damper_table(&setting, d->row_open_frac, d->row_loss, d->row_count, w, loss);
    }
    return DW_ERR_BUG;
}

/* A flue that ends in the room loses the speed it has there. The slide's formula has already taken what is
 * lost on the way into the area downstream, all of it into an open space. */
DW_LAW(slide_into_room, "zeta",
       "loss of the mouth, the damper and the speed left where the gas enters the room", "",
       "idelchik1994", (double zeta_e, double zeta_d, double k), zeta_e + zeta_d + pow(k, 2.0))
DW_LAW(into_room, "zeta", "loss of the mouth, the damper and the speed that is lost in the room", "",
       "idelchik1994", (double zeta_e, double zeta_d), zeta_e + zeta_d + 1.0)
/* Butterfly tables hold between equal ducts; what is wider beyond costs a sudden expansion. The slide's
 * formula has it already, and a user's table was measured with it. */
DW_LAW(butterfly_into_duct, "zeta",
       "loss of the mouth, the damper and the spreading into what follows", "", "idelchik1994",
       (double zeta_e, double zeta_d, double k), zeta_e + zeta_d + pow(1.0 - k, 2.0))
DW_LAW(into_duct, "zeta", "loss of the mouth and the damper together", "", "idelchik1994",
       (double zeta_e, double zeta_d), zeta_e + zeta_d)

/* All flues together take what passes the setting. Each of them is given the part of the plan area that its area is
 * of theirs, so that the speed in the setting is the same for all where they draw alike; then the loss is one on
 * the flue's own speed, exactly, whatever flows, and in both directions. */
DW_LAW(setting_on_flue, "zeta_s", "loss of the setting, on the speed in the flue", "", "judgement",
       (double heads, double A_all, double width, double depth), heads * pow(A_all / (width * depth), 2.0))
DW_LAW(before_damper, "zeta_e", "loss before the damper: of mouth, floor and setting", "", "definition",
       (double zeta_m, double zeta_fl, double zeta_s), zeta_m + zeta_fl + zeta_s)

/* What the gas loses before it reaches the damper. */
static double approach_loss(const dw_kiln *kiln, const dw_flue *f, dw_working *w)
{
    const dw_chamber *c = &kiln->chamber;
    const bool plain = !(f->floor_loss > 0.0 || c->setting_loss > 0.0);
    const double zeta_m = dw_law_given(w, DW_WORK_INPUT, plain ? "zeta_e" : "zeta_m",
                                       "loss of the flue's mouth", "", f->entry_loss);
    if (plain) return zeta_m;
    const double zeta_fl = dw_law_given(w, DW_WORK_INPUT, "zeta_fl",
                                        "loss between the setting and the flue's mouth", "",
                                        fmax(f->floor_loss, 0.0));
    const double heads = dw_law_given(w, DW_WORK_INPUT, "heads",
                                      "loss of the setting, on the speed in the empty chamber", "",
                                      fmax(c->setting_loss, 0.0));
    const double A_all = dw_law_given(w, DW_WORK_INPUT, "A_all", "area of all flues", "m2",
                                      dw_kiln_flue_area_m2(kiln));
    const double width = dw_law_given(w, DW_WORK_INPUT, "width", "of the chamber", "m", c->width_m);
    const double depth = dw_law_given(w, DW_WORK_INPUT, "depth", "of the chamber", "m", c->depth_m);
    const double zeta_s = DW_STEP(w, setting_on_flue, (heads, A_all, width, depth));
    return DW_STEP(w, before_damper, (zeta_m, zeta_fl, zeta_s));
}

dw_status dw_network_flue_law(const dw_network *net, const dw_kiln *given, int i, dw_working *w,
                              dw_flue_law *law)
{
    const dw_flue *f = &net->kiln->flue[i];
    const dw_damper *d = &f->damper;
    const dw_damper_setting setting = {d->open_frac, d->leak_frac, d->scale};
    const double area_m2 = flue_area_m2(f, w);
    const double zeta_e = approach_loss(net->kiln, f, w);
    (void)dw_damper_open_share(&setting, w);
    const double k = dw_flue_downstream_ratio(given, &given->flue[i], w);
    dw_damper_loss loss;
    const dw_status status = damper_loss(net->model->data, d, k, w, &loss);
    if (status != DW_OK) return status;
    const double zeta_d = loss.loss;
    double zeta;
    if (!net->has_stack) {
        const bool pushed = d->kind == DW_DAMPER_SLIDE || d->kind == DW_DAMPER_SHELF;
        zeta = pushed ? DW_STEP(w, slide_into_room, (zeta_e, zeta_d, k))
                      : DW_STEP(w, into_room, (zeta_e, zeta_d));
    } else {
        zeta = d->kind == DW_DAMPER_BUTTERFLY ? DW_STEP(w, butterfly_into_duct, (zeta_e, zeta_d, k))
                                              : DW_STEP(w, into_duct, (zeta_e, zeta_d));
    }
    if (!(zeta > 0.0)) return DW_ERR_DOMAIN;
    *law = (dw_flue_law){area_m2,        1.0 / sqrt(zeta), f->height_m, loss.outside_published,
                         loss.at_leak, loss.open_frac};
    return DW_OK;
}

dw_status dw_network_take_burners(dw_network *net, char *reason)
{
    for (int i = 0; i < net->kiln->burner_count; i++) {
        const dw_burner *b = &net->kiln->burner[i];
        const dw_status status = dw_network_burner_law(net, b, &net->burner[i]);
        if (status == DW_OK) continue;
        (void)snprintf(reason, DW_REASON_SIZE, "burner '%.60s' cannot work: %s", b->name,
                       dw_status_text(status));
        return DW_ERR_DOMAIN;
    }
    return DW_OK;
}

dw_status dw_network_take_dampers(dw_network *net, char *reason)
{
    for (int i = 0; i < net->kiln->flue_count; i++) {
        const dw_flue *f = &net->kiln->flue[i];
        const dw_status status = dw_network_flue_law(net, net->kiln, i, NULL, &net->flue[i]);
        if (status == DW_OK) continue;
        (void)snprintf(reason, DW_REASON_SIZE, "flue '%.60s' cannot be: %s", f->name,
                       dw_status_text(status));
        return DW_ERR_DOMAIN;
    }
    return DW_OK;
}

dw_status dw_network_init(dw_network *net, const dw_model *model, const dw_kiln *kiln,
                          char *reason)
{
    memset(net, 0, sizeof *net);
    net->kiln = kiln;
    net->model = model;
    net->datum_m = dw_kiln_datum_height_m(kiln);
    net->gas_temperature_k =
        kiln->operating.chamber_temperature_k + kiln->settings.gas_minus_reading_dk;
    net->fuel_molar_mass_kg_mol =
        dw_mixture_molar_mass(&model->data->species, kiln->fuel.x);
    net->has_stack = kiln->stack.present;
    if (!(net->gas_temperature_k >= 200.0 && net->gas_temperature_k <= 2500.0)) {
        (void)dw_print(reason, DW_REASON_SIZE,
                       "the gas temperature is %.0f K, expected 200 to 2500 K",
                       net->gas_temperature_k);
        return DW_ERR_DOMAIN;
    }
    dw_status status = init_air(net);
    if (status != DW_OK) {
        (void)snprintf(reason, DW_REASON_SIZE,
                       "the air holds more vapour than its pressure allows");
        return status;
    }
    if (dw_network_take_burners(net, reason) != DW_OK) return DW_ERR_DOMAIN;
    if (net->has_stack) {
        status = dw_network_take_stack(net);
        if (status != DW_OK) {
            (void)snprintf(reason, DW_REASON_SIZE, "the stack cannot be: %s",
                           dw_status_text(status));
            return DW_ERR_DOMAIN;
        }
    }
    return dw_network_take_dampers(net, reason);
}
