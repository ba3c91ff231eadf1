#include "doubt.h"

#include <math.h>
#include <stdlib.h>

#include "working_parts.h"

/* Range of each input, and what it is called. */
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
            dw_opening *o = &kiln->opening[i];
            /* Of a port through a wall the range is that of its own kind, 0.70 to 0.82 [idelchik-thick]. */
            const double deep = end < 0.65 ? 0.70 : 0.82;
            o->discharge_coeff = end + (deep - end) * dw_opening_depth_share(o);
            used = used || (o->kind != DW_OPENING_JOINT && o->open_frac > 0.0);
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

double dw_doubt_reach(double low, double high, double middle)
{
    /* What is not solved counts as no change. */
    return fmax(fmax(fabs(low - middle), fabs(high - middle)), 0.0);
}

static double reach(const dw_doubt_item *item, double phi)
{
    return dw_doubt_reach(item->phi_low, item->phi_high, phi);
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

void dw_doubt_sum(dw_doubt *doubt, double phi, dw_working *w)
{
    if (doubt->count == 0) return;
    double low[DW_DOUBT_COUNT], high[DW_DOUBT_COUNT], least[DW_DOUBT_COUNT], most[DW_DOUBT_COUNT];
    double down = 0.0, up = 0.0;
    dw_work_section(w, "How sure the equivalence ratio is");
    dw_work_text(w, "Each input that was not given is set to both ends of its usual range, one "
                    "input at a time, and the whole kiln is worked out again; you can do the same "
                    "with --set. An end that has no solution counts as no change.");
    dw_work_table_begin(w, "The equivalence ratio at the ends", "input", (size_t)doubt->count);
    for (int i = 0; i < doubt->count; i++) {
        const dw_doubt_item *item = &doubt->item[i];
        dw_work_row(w, (size_t)i, "%s", dw_doubt_input_text(item->input));
        low[i] = item->low;
        high[i] = item->high;
        least[i] = isnan(item->phi_low) ? phi : item->phi_low;
        most[i] = isnan(item->phi_high) ? phi : item->phi_high;
        const double fall = log(phi / fmin(phi, fmin(least[i], most[i])));
        const double rise = log(fmax(phi, fmax(least[i], most[i])) / phi);
        down += fall * fall;
        up += rise * rise;
    }
    doubt->phi_from = phi * exp(-sqrt(down));
    doubt->phi_to = phi * exp(sqrt(up));
    dw_work_column(w, DW_WORK_DATA, "low", "lower end, or factor", "", low);
    dw_work_column(w, DW_WORK_DATA, "high", "upper end, or factor", "", high);
    dw_work_column(w, DW_WORK_SOLVED, "ph_1", "phi at the lower end", "", least);
    dw_work_column(w, DW_WORK_SOLVED, "ph_2", "phi at the upper end", "", most);
    dw_work_step_is(w, "doubt.equivalence_ratio_low", "ph_low", "all inputs together: lower end", "",
                    "phi*exp(-sqrt(sum(ln(phi/min(phi, min(ph_1, ph_2)))^2)))", doubt->phi_from, "assumption");
    dw_work_step_is(w, "doubt.equivalence_ratio_high", "ph_high", "to", "",
                    "phi*exp(sqrt(sum(ln(max(phi, max(ph_1, ph_2))/phi)^2)))", doubt->phi_to, "assumption");
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
        dw_settle_add(&settle, &w->now, &w->opened, now_end, opened_end);
        insert(doubt, &item, phi);
    }
    if (doubt->count > 0) {
        dw_doubt_sum(doubt, phi, NULL);
        dw_settle_end(&settle, w->opening, &doubt->settled);
    }
    free(w);
    return DW_OK;
}
