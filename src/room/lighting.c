#include "lighting.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "draft.h"
#include "flammability.h"
#include "fuel.h"
#include "moist_air.h"
#include "network.h"
#include "room_spill.h"

/* Less than this through a cold kiln is no purge [m3/s]: a third of a cubic metre an hour. */
static const double no_flow_m3_s = 1e-4;

typedef struct work {
    dw_kiln kiln;               /* resolved, changed */
    dw_network net;
    dw_network_at at;
    dw_network_state state;
    char reason[DW_REASON_SIZE];
} work;

/* Gases that neither burn nor feed on air. */
static bool is_inert(const char *name)
{
    static const char *const inert[] = {"N2", "CO2", "H2O", "O2", "Ar"};
    for (size_t i = 0; i < sizeof inert / sizeof inert[0]; i++) {
        if (strcmp(inert[i], name) == 0) return true;
    }
    return false;
}

bool dw_lighting_limits(const dw_data *data, const double *x_fuel, double lean[DW_SPECIES_MAX],
                        double rich[DW_SPECIES_MAX])
{
    const size_t count = data->species.count;
    double lowest = INFINITY, highest = 0.0;
    for (size_t i = 0; i < count; i++) {
        lowest = fmin(lowest, isnan(data->co.lean_x[i]) ? INFINITY : data->co.lean_x[i]);
        highest = fmax(highest, isnan(data->co.rich_x[i]) ? 0.0 : data->co.rich_x[i]);
    }
    bool guessed = false;
    for (size_t i = 0; i < count; i++) {
        lean[i] = data->co.lean_x[i];
        rich[i] = data->co.rich_x[i];
        if (x_fuel[i] > 0.0 && isnan(lean[i]) && !is_inert(data->species.species[i].name)) {
            lean[i] = lowest;
            rich[i] = highest;
            guessed = true;
        }
    }
    return guessed;
}

/* Limits of the fuel gas as a whole, inert part included, so that they hold for what comes out of the
 * pipe. */
static void fuel_limits(const dw_data *data, const dw_kiln *kiln, dw_lighting *l)
{
    const size_t count = data->species.count;
    double lean[DW_SPECIES_MAX], rich[DW_SPECIES_MAX], burns = 0.0;
    l->limit_guessed = dw_lighting_limits(data, kiln->fuel.x, lean, rich);
    for (size_t i = 0; i < count; i++) {
        if (!isnan(lean[i])) burns += kiln->fuel.x[i];
    }
    const double factor =
        dw_lean_limit_factor(data->co.lean_falls_per_k, kiln->site.room_temperature_k);
    l->lean_x = dw_flammable_limit(kiln->fuel.x, lean, count) * factor / burns;
    l->rich_x = fmin(dw_flammable_limit(kiln->fuel.x, rich, count) / burns, 1.0);
}

static void fill_times(const dw_kiln *kiln, const dw_lighting *l, dw_lighting_burner *b)
{
    b->chamber_s = dw_fill_time_s(l->lean_x, l->free_volume_m3, b->gas_m3_s);
    b->corner_s = dw_fill_time_s(l->lean_x, kiln->room.corner_volume_m3, b->gas_m3_s);
}

/* Gas of every burner with its valve open. */
static dw_status open_valves(const dw_model *model, work *w, dw_lighting *l)
{
    for (int i = 0; i < w->kiln.burner_count; i++) w->kiln.burner[i].lit = true;
    const dw_status status = dw_network_init(&w->net, model, &w->kiln, w->reason);
    if (status != DW_OK) return status;
    const double rho = dw_ideal_gas_density_kg_m3(w->net.fuel_molar_mass_kg_mol,
                                                  w->kiln.site.room_temperature_k,
                                                  w->net.pressure_pa_abs);
    l->relative_density = w->net.fuel_molar_mass_kg_mol / w->net.air.molar_mass_kg_mol;
    l->burner_count = w->kiln.burner_count;
    for (int i = 0; i < l->burner_count; i++) {
        const dw_burner_law *law = &w->net.burner[i];
        dw_lighting_burner *b = &l->burner[i];
        if (law->lit) {
            dw_jet_flow jet;
            dw_jet_discharge(&law->gas_jet, w->net.pressure_pa_abs, &jet);
            b->gas_kg_s = jet.mass_kg_s;
        }
        b->gas_m3_s = b->gas_kg_s / rho;
        l->all.gas_kg_s += b->gas_kg_s * law->pieces;
        l->all.gas_m3_s += b->gas_m3_s * law->pieces;
        fill_times(&w->kiln, l, b);
    }
    fill_times(&w->kiln, l, &l->all);
    return DW_OK;
}

void dw_lighting_cool(dw_kiln *resolved)
{
    for (int i = 0; i < resolved->burner_count; i++) {
        resolved->burner[i].lit = false;
        resolved->burner[i].plugged = false;
    }
    for (int i = 0; i < resolved->flue_count; i++) {
        dw_damper *d = &resolved->flue[i].damper;
        d->open_frac = d->kind == DW_DAMPER_TABLE ? d->row_open_frac[d->row_count - 1] : 1.0;
    }
    resolved->operating.chamber_temperature_k = resolved->site.room_temperature_k;
    resolved->settings.gas_minus_reading_dk = 0.0;
}

/* Air through the kiln with everything cold. */
static dw_status blow_cold(const dw_model *model, work *w, dw_lighting *l)
{
    dw_lighting_cool(&w->kiln);
    dw_status status = dw_network_init(&w->net, model, &w->kiln, w->reason);
    if (status != DW_OK) return status;
    l->natural_s = INFINITY;
    /* A column of room air in a room of the same air neither rises nor falls. */
    if (!dw_room_stack_ends_outside(&w->kiln)) return DW_OK;
    l->cold_draft_pa = dw_draft_theoretical_pa(w->net.rho_out_kg_m3, w->net.rho_room_kg_m3,
                                               w->net.stack.height_m);
    const double pull = l->cold_draft_pa + w->net.room_minus_far_pa;
    l->backwards = pull < -1e-9;
    if (!(pull > 1e-9)) return DW_OK;
    const dw_chamber_gas air = {w->net.air.molar_mass_kg_mol, w->net.x_air};
    status = dw_network_at_density(&w->net, air, &w->at);
    if (status != DW_OK) return status;
    w->state = (dw_network_state){.pressure_pa = 0.0, .stack_base_pa = NAN};
    if (dw_network_solve(&w->at, &w->state, w->reason) != DW_OK) return DW_OK;
    l->backwards = w->state.down;
    if (w->state.down) return DW_OK;
    const double m3_s = w->state.sums.air_kg_s / w->net.rho_room_kg_m3;
    if (m3_s < no_flow_m3_s) return DW_OK;
    l->natural_m3_s = m3_s;
    l->natural_s = l->purge_volume_m3 / m3_s;
    return DW_OK;
}

static void chamber_gas(const dw_data *data, const dw_result *r, dw_lighting *l)
{
    l->gas_ratio = l->gas_ratio_hot = l->gas_limit_x = NAN;
    if (r == NULL || !r->solved) return;
    const size_t count = data->species.count;
    l->gas_ratio = dw_flammable_ratio(r->gas_wet.x, data->co.lean_x, count);
    l->gas_limit_x = dw_flammable_limit(r->gas_wet.x, data->co.lean_x, count);
    l->gas_ratio_hot = l->gas_ratio / dw_lean_limit_factor(data->co.lean_falls_per_k,
                                                           r->gas_temperature_k);
}

dw_status dw_lighting_look(const dw_model *model, const dw_kiln *kiln, const dw_result *result,
                           dw_lighting *lighting)
{
    if (lighting == NULL) return DW_ERR_ARG;
    memset(lighting, 0, sizeof *lighting);
    if (model == NULL || kiln == NULL) return DW_ERR_ARG;
    work *w = malloc(sizeof *w);
    if (w == NULL) return DW_ERR_NOMEM;
    const dw_co_data *co = &model->data->co;
    w->reason[0] = '\0';
    w->kiln = *kiln;
    dw_kiln_resolve(&w->kiln);
    lighting->free_volume_m3 =
        dw_chamber_volume_m3(&w->kiln.chamber) * (1.0 - w->kiln.chamber.packed_frac);
    lighting->glows = w->kiln.operating.chamber_temperature_k >= co->glow_k;
    lighting->purge_volumes = co->purge_volumes;
    lighting->purge_volume_m3 = co->purge_volumes * dw_chamber_volume_m3(&w->kiln.chamber);
    lighting->fan_s = lighting->purge_volume_m3 / w->kiln.room.purge_fan_m3_s;
    fuel_limits(model->data, &w->kiln, lighting);
    chamber_gas(model->data, result, lighting);
    dw_status status = open_valves(model, w, lighting);
    if (status == DW_OK) status = blow_cold(model, w, lighting);
    lighting->solved = status == DW_OK;
    if (status == DW_ERR_DOMAIN || status == DW_ERR_NO_CONVERGE) {
        /* No answer about the cold kiln is no fault of the hot one. */
        *lighting = (dw_lighting){.solved = false};
        (void)snprintf(lighting->reason, sizeof lighting->reason, "%s", w->reason);
        status = DW_OK;
    }
    free(w);
    return status;
}
