#include "doubt.h"

#include <math.h>
#include <stdlib.h>

/* Range of each input, and what it is called. Ends as in model.md 15. */
static const struct {
    double low, high;
    bool is_factor;
    const char *text;
} range[DW_DOUBT_COUNT] = {
    [DW_DOUBT_LEAK_AREA] = {0.4, 2.5, true, "leak area"},                       /* assumption */
    [DW_DOUBT_DAMPER_SCALE] = {0.8, 1.2, true, "loss of the damper"},           /* Re outside [idelchik1994] */
    [DW_DOUBT_JET_DISCHARGE] = {0.92, 1.08, true, "discharge of the jets"},     /* recalled */
    [DW_DOUBT_PORT_TEMPERATURE] = {1.0, 2.0, false, "hot burner ports"},        /* assumption */
    [DW_DOUBT_MIXING_LOSS] = {0.8, 1.25, true, "losses in the burners"},        /* assumption */
    [DW_DOUBT_OPENING_DISCHARGE] = {0.60, 0.70, false, "discharge of openings"}, /* [karlsson2000] */
    [DW_DOUBT_STACK_HEAT_LOSS] = {0.1, 1.0, false, "heat loss of the stack"},   /* assumption */
    [DW_DOUBT_DAMPER_LEAK] = {0.002, 0.05, false, "leak of a shut damper"},     /* assumption */
};

const char *dw_doubt_input_text(dw_doubt_input input)
{
    return input >= 0 && input < DW_DOUBT_COUNT ? range[input].text : "";
}

/* Puts an input to an end of its range; false when the kiln has no use for it. */
static bool put(dw_kiln *kiln, dw_doubt_input input, double end)
{
    bool used = false;
    switch (input) {
    case DW_DOUBT_LEAK_AREA:
        kiln->chamber.leak_area_m2 *= end;
        return kiln->chamber.leak_area_m2 > 0.0;
    case DW_DOUBT_DAMPER_SCALE:
    case DW_DOUBT_DAMPER_LEAK:
        for (int i = 0; i < kiln->flue_count; i++) {
            dw_damper *d = &kiln->flue[i].damper;
            if (input == DW_DOUBT_DAMPER_SCALE) {
                d->scale *= end;
                used = true;
            } else {
                used = used || d->open_frac < 0.05;
                d->leak_frac = end;
            }
        }
        return used;
    case DW_DOUBT_JET_DISCHARGE:
    case DW_DOUBT_PORT_TEMPERATURE:
    case DW_DOUBT_MIXING_LOSS:
        for (int i = 0; i < kiln->burner_count; i++) {
            dw_burner *b = &kiln->burner[i];
            if (!b->lit) continue;
            if (input == DW_DOUBT_JET_DISCHARGE) {
                b->jet_discharge_coeff = fmin(b->jet_discharge_coeff * end, 1.0);
                used = true;
            } else if (b->kind == DW_BURNER_INSPIRATING) {
                if (input == DW_DOUBT_PORT_TEMPERATURE) {
                    b->port_temperature_ratio = end;
                } else {
                    b->throat_friction *= end;
                    b->port_loss *= end;
                }
                used = true;
            }
        }
        return used;
    case DW_DOUBT_OPENING_DISCHARGE:
        for (int i = 0; i < kiln->opening_count; i++) {
            kiln->opening[i].discharge_coeff = end;
            used = used || kiln->opening[i].open_frac > 0.0;
        }
        return used;
    case DW_DOUBT_STACK_HEAT_LOSS:
        if (!kiln->stack.present || dw_stack_loses_by_ua(&kiln->stack)) return false;
        kiln->stack.heat_loss_ntu = end;
        return true;
    case DW_DOUBT_COUNT: break;
    }
    return false;
}

bool dw_doubt_put(dw_kiln *resolved, dw_doubt_input input, bool high)
{
    return put(resolved, input, high ? range[input].high : range[input].low);
}

/* How much an item moves the answer, for the order. */
static double reach(const dw_doubt_item *item, double phi)
{
    const double low = isnan(item->phi_low) ? 0.0 : fabs(item->phi_low - phi);
    const double high = isnan(item->phi_high) ? 0.0 : fabs(item->phi_high - phi);
    return fmax(low, high);
}

static void insert(dw_doubt *doubt, const dw_doubt_item *item, double phi)
{
    int at = doubt->count++;
    while (at > 0 && reach(&doubt->item[at - 1], phi) < reach(item, phi)) {
        doubt->item[at] = doubt->item[at - 1];
        at--;
    }
    doubt->item[at] = *item;
}

/* Kilns are some seventeen kilobytes, and a solved one more: not for the stack of a caller's thread. */
typedef struct work {
    const dw_model *model;
    dw_kiln middle, end;
    dw_solved at;                /* the one of them that is being solved */
    double opening;              /* for the oxygen reading; NaN: there is none */
    dw_brief now, opened;
} work;

/* A kiln at the setting, and with its dampers opened for the reading. */
static dw_status solve_both(work *w, const dw_kiln *kiln, dw_brief *now, dw_brief *opened)
{
    char reason[DW_REASON_SIZE];
    *now = (dw_brief){NAN, NAN, NAN, NAN, false};
    dw_status status = dw_point_set_up(w->model, kiln, &w->at, reason);
    if (status == DW_OK) status = dw_point_brief(&w->at, now);
    *opened = *now;
    if (isnan(w->opening)) {
        opened->x_o2_dry = NAN;
    } else if (w->opening > 0.0) {
        (void)!dw_settle_opened(&w->at, kiln, w->opening, opened);
    }
    return status;
}

static void widen(const dw_doubt_item *item, double phi, double *down, double *up)
{
    const double least = fmin(phi, fmin(item->phi_low, item->phi_high));
    const double most = fmax(phi, fmax(item->phi_low, item->phi_high));
    *down += log(phi / least) * log(phi / least);
    *up += log(most / phi) * log(most / phi);
}

dw_status dw_doubt_find(const dw_model *model, const dw_kiln *kiln, double phi,
                        const bool given[DW_DOUBT_COUNT], dw_doubt *doubt)
{
    if (doubt == NULL) return DW_ERR_ARG;
    *doubt = (dw_doubt){.phi_from = NAN, .phi_to = NAN, .settled = {DW_READING_NONE, 1.0, 0.0}};
    if (model == NULL || kiln == NULL || given == NULL || !(phi > 0.0)) return DW_ERR_ARG;
    work *w = malloc(sizeof *w);
    if (w == NULL) return DW_ERR_NOMEM;
    w->model = model;
    w->middle = *kiln;
    dw_kiln_resolve(&w->middle);
    char reason[DW_REASON_SIZE];
    w->opening = dw_point_set_up(model, &w->middle, &w->at, reason) == DW_OK
                     ? dw_settle_opening(&w->at, &w->middle)
                     : NAN;
    (void)!solve_both(w, &w->middle, &w->now, &w->opened);
    dw_settle settle;
    dw_settle_begin(&settle, &w->middle, &w->now, &w->opened);

    double down = 0.0, up = 0.0;
    for (int i = 0; i < DW_DOUBT_COUNT; i++) {
        if (given[i]) continue;
        dw_doubt_item item = {(dw_doubt_input)i, range[i].low, range[i].high, range[i].is_factor,
                              NAN, NAN};
        dw_brief now_end[2], opened_end[2];
        bool used = true;
        for (int side = 0; side < 2 && used; side++) {
            w->end = w->middle;
            used = put(&w->end, item.input, side == 0 ? item.low : item.high);
            if (!used) break;
            if (solve_both(w, &w->end, &now_end[side], &opened_end[side]) != DW_OK) {
                doubt->one_sided = true;
            }
        }
        if (!used) continue;
        item.phi_low = now_end[0].equivalence_ratio;
        item.phi_high = now_end[1].equivalence_ratio;
        widen(&item, phi, &down, &up);
        dw_settle_add(&settle, &w->now, &w->opened, now_end, opened_end);
        insert(doubt, &item, phi);
    }
    if (doubt->count > 0) {
        doubt->phi_from = phi * exp(-sqrt(down));
        doubt->phi_to = phi * exp(sqrt(up));
        dw_settle_end(&settle, w->opening, &doubt->settled);
    }
    free(w);
    return DW_OK;
}
