#include "damper_words.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "chamber_gas.h"
#include "root1d.h"
#include "solved_point.h"

/* First positions; what is looked at where the kiln does something sudden; how exact a place is. */
enum { FIRST_STEPS = 20 };
static const double fine_step = 0.005, place_tol = 1e-4;

/* One position that was solved, or could not be. */
typedef struct spot {
    double x, phi;       /* phi NaN: not solved */
    int band;
    bool backwards;
} spot;

typedef struct search {
    const dw_model *model;
    dw_solved at;        /* set up once; its dampers are moved */
    dw_damper_words *words;
    double edge;         /* the ratio that look_for() aims at */
    spot last[2];        /* ends of its bracket: not to be solved again */
} search;

double dw_damper_mark(const dw_damper_words *words, int flue, double widest_frac)
{
    return fmin(words->share[flue] * widest_frac, 1.0);
}

static void marks(const dw_damper_words *words, double x, double open_frac[DW_FLUE_MAX])
{
    for (int i = 0; i < words->flue_count; i++) open_frac[i] = dw_damper_mark(words, i, x);
}

static spot solve_at(search *s, double x)
{
    dw_brief brief;
    double open_frac[DW_FLUE_MAX];
    char reason[DW_REASON_SIZE];
    dw_damper_words *words = s->words;
    marks(words, x, open_frac);
    words->points++;
    spot at = {x, NAN, -1, false};
    if (dw_point_move_dampers(&s->at, open_frac, reason) != DW_OK ||
        dw_point_brief(&s->at, &brief) != DW_OK) {
        return at;
    }
    at.phi = brief.equivalence_ratio;
    at.band = dw_band_of(s->model->data, at.phi);
    at.backwards = brief.backwards;
    if (!(words->leanest.equivalence_ratio <= at.phi)) {
        words->leanest = (dw_damper_end){at.phi, x, DW_LIMIT_NONE};
    }
    if (!(words->richest.equivalence_ratio >= at.phi)) {
        words->richest = (dw_damper_end){at.phi, x, DW_LIMIT_NONE};
    }
    return at;
}

/* The word changes at x to that of band. */
static void change(search *s, double x, int band)
{
    dw_damper_words *words = s->words;
    dw_damper_span *open = &words->span[words->count - 1];
    if (open->band == band) return;
    if (words->count == DW_DAMPER_SPAN_MAX) {
        words->complete = false;
        return;
    }
    open->to_frac = x;
    words->span[words->count++] = (dw_damper_span){band, x, 1.0};
}

static double off_edge(double x, void *context)
{
    search *s = context;
    for (int i = 0; i < 2; i++) {
        if (s->last[i].x == x) return s->last[i].phi - s->edge;
    }
    return solve_at(s, x).phi - s->edge;
}

/* Between neighbours that differ, by halves: for jumps, and for the ends of what can be solved. */
static void halve(search *s, spot low, spot high)
{
    while (low.band != high.band) {
        if (high.x - low.x <= place_tol) {
            change(s, 0.5 * (low.x + high.x), high.band);
            return;
        }
        const spot middle = solve_at(s, 0.5 * (low.x + high.x));
        if (middle.band != low.band) halve(s, low, middle);
        low = middle;
    }
}

/* Between two solved positions the ratio rises or falls steadily: each limit between is a root. */
static void cross(search *s, spot low, spot high)
{
    const dw_data *data = s->model->data;
    while (low.band != high.band) {
        const bool rising = high.band > low.band;
        s->edge = data->band[rising ? low.band : low.band - 1].phi_below;
        s->last[0] = low;
        s->last[1] = high;
        dw_root root;
        if (dw_root_find(off_edge, s, low.x, high.x, place_tol, 0.0, &root) != DW_OK) {
            halve(s, low, high);
            return;
        }
        low.band += rising ? 1 : -1;
        change(s, root.x, low.band);
        /* On from the root, which may be either side of the limit by its tolerance. */
        low.x = root.x;
        low.phi = s->edge;
        if (!(low.x < high.x)) {
            change(s, high.x, high.band);
            return;
        }
    }
}

static bool is_sudden(const spot *a, const spot *b)
{
    return isnan(a->phi) != isnan(b->phi) || a->backwards != b->backwards;
}

static void walk_finely(search *s, spot low, spot high)
{
    const int steps = (int)ceil((high.x - low.x) / fine_step - 1e-9);
    const double from = low.x;
    for (int i = 1; i <= steps; i++) {
        const spot next = i == steps ? high : solve_at(s, from + i * (high.x - from) / steps);
        if (is_sudden(&low, &next)) {
            halve(s, low, next);
        } else if (low.band != next.band) {
            cross(s, low, next);
        }
        low = next;
    }
}

/* Could a limit be passed and passed again between two positions? Only where the curve turns nearby, and
 * by no more than its neighbours moved. */
static bool may_hide_a_turn(const dw_data *data, const spot *at, int i)
{
    const double here = at[i + 1].phi - at[i].phi;
    double reach = 0.0;
    bool turns = false;
    for (int side = -1; side <= 1; side += 2) {
        const int k = i + side;
        if (k < 0 || k >= FIRST_STEPS || isnan(at[k].phi) || isnan(at[k + 1].phi)) continue;
        const double there = at[k + 1].phi - at[k].phi;
        turns = turns || here * there < 0.0;
        reach = fmax(reach, fabs(there));
    }
    if (!turns) return false;
    reach = fmax(reach, fabs(here));
    const double low = fmin(at[i].phi, at[i + 1].phi) - reach;
    const double high = fmax(at[i].phi, at[i + 1].phi) + reach;
    for (size_t e = 0; e + 1 < data->band_count; e++) {
        if (data->band[e].phi_below > low && data->band[e].phi_below < high) return true;
    }
    return false;
}

static void walk(search *s)
{
    spot at[FIRST_STEPS + 1];
    for (int i = 0; i <= FIRST_STEPS; i++) at[i] = solve_at(s, (double)i / FIRST_STEPS);
    s->words->span[0] = (dw_damper_span){at[0].band, 0.0, 1.0};
    s->words->count = 1;
    for (int i = 0; i < FIRST_STEPS; i++) {
        const spot *low = &at[i], *high = &at[i + 1];
        if (is_sudden(low, high) || may_hide_a_turn(s->model->data, at, i)) {
            walk_finely(s, *low, *high);
        } else if (low->band != high->band) {
            cross(s, *low, *high);
        }
    }
}

/* Where the ratio jumps, the words in between have no width: nobody can set them. At the stops a narrow
 * word is real: fully open can be set, and a slide's law is steep just there. */
static void drop_empty(dw_damper_words *words)
{
    int kept = 0;
    for (int i = 0; i < words->count; i++) {
        const dw_damper_span span = words->span[i];
        const bool inside = i > 0 && i + 1 < words->count;
        const bool empty = inside && span.to_frac - span.from_frac <= 3.0 * place_tol;
        if (empty || (kept > 0 && words->span[kept - 1].band == span.band)) {
            words->span[kept - 1].to_frac = span.to_frac;
        } else {
            words->span[kept++] = span;
        }
    }
    words->count = kept;
}

/* ---- what limits the ends ----------------------------------------------------------------- */

/* Where most of the draft goes at the leanest position. */
static dw_damper_limit limit_of_leanest(const dw_result *r)
{
    double flue_pa = 0.0;
    for (int i = 0; i < r->flow_count; i++) {
        if (r->flow[i].kind == DW_FLOW_FLUE) flue_pa = fmax(flue_pa, r->flow[i].dp_pa);
    }
    const double inlets_pa = -r->pressure_datum_pa;
    const double stack_pa =
        r->has_stack ? r->draft_theoretical_pa - r->draft_stack_base_pa : 0.0;
    if (inlets_pa >= flue_pa && inlets_pa >= stack_pa) return DW_LIMIT_INLETS;
    return flue_pa >= stack_pa ? DW_LIMIT_FLUES : DW_LIMIT_STACK;
}

/* By which way most of the air comes at the richest position. */
static dw_damper_limit limit_of_richest(const dw_result *r)
{
    double by[4] = {0.0};
    for (int i = 0; i < r->flow_count; i++) {
        const double kg_s = r->flow[i].mass_kg_s;
        switch (r->flow[i].kind) {
        case DW_FLOW_PRIMARY_AIR:
        case DW_FLOW_AIR_JET: by[0] += fmax(kg_s, 0.0); break;
        case DW_FLOW_OPENING:
        case DW_FLOW_TALL_IN:
        case DW_FLOW_UNLIT_BURNER: by[1] += fmax(kg_s, 0.0); break;
        case DW_FLOW_LEAK_IN: by[2] += fmax(kg_s, 0.0); break;
        case DW_FLOW_FLUE: by[3] += fmax(-kg_s, 0.0); break;
        default: break;
        }
    }
    int most = 0;
    for (int i = 1; i < 4; i++) {
        if (by[i] > by[most]) most = i;
    }
    static const dw_damper_limit limits[4] = {DW_LIMIT_BURNER_AIR, DW_LIMIT_OPENINGS, DW_LIMIT_LEAKS,
                                              DW_LIMIT_BACK_FLOW};
    return limits[most];
}

/* Next to the end lies a stretch that cannot be solved. */
static bool ends_unsolved(const dw_damper_words *words, const dw_damper_end *end)
{
    for (int i = 0; i < words->count; i++) {
        const dw_damper_span *span = &words->span[i];
        if (span->band < 0 && end->open_frac >= span->from_frac - 2.0 * place_tol &&
            end->open_frac <= span->to_frac + 2.0 * place_tol) {
            return true;
        }
    }
    return false;
}

static void find_limit(search *s, dw_damper_end *end, dw_damper_limit (*limit)(const dw_result *))
{
    if (isnan(end->equivalence_ratio)) return;
    if (ends_unsolved(s->words, end)) {
        end->limit = DW_LIMIT_UNSOLVED;
        return;
    }
    dw_result result;
    dw_kiln *kiln = &s->at.kiln;
    for (int i = 0; i < kiln->flue_count; i++) {
        kiln->flue[i].damper.open_frac = dw_damper_mark(s->words, i, end->open_frac);
    }
    s->words->points++;
    end->limit = dw_operating_point_to(s->model, kiln, DW_EXTENT_FLOWS, &result) == DW_OK
                     ? limit(&result)
                     : DW_LIMIT_UNSOLVED;
}

dw_status dw_damper_words_find(const dw_model *model, const dw_kiln *kiln, dw_damper_words *words)
{
    if (words == NULL) return DW_ERR_ARG;
    *words = (dw_damper_words){.complete = true,
                               .leanest = {NAN, NAN, DW_LIMIT_NONE},
                               .richest = {NAN, NAN, DW_LIMIT_NONE}};
    if (model == NULL || kiln == NULL || kiln->flue_count < 1) return DW_ERR_ARG;
    words->flue_count = kiln->flue_count;
    for (int i = 1; i < kiln->flue_count; i++) {
        const double open = kiln->flue[i].damper.open_frac;
        if (open > kiln->flue[words->widest].damper.open_frac) words->widest = i;
    }
    words->widest_frac = kiln->flue[words->widest].damper.open_frac;
    for (int i = 0; i < kiln->flue_count; i++) {
        const double open = kiln->flue[i].damper.open_frac;
        words->share[i] = words->widest_frac > 0.0 ? open / words->widest_frac : 1.0;
        words->together = words->together || open != words->widest_frac;
    }

    search s = {.model = model, .words = words};
    char reason[DW_REASON_SIZE];
    if (dw_point_set_up(model, kiln, &s.at, reason) == DW_OK) walk(&s);
    drop_empty(words);
    const int last_band = (int)model->data->band_count - 1;
    if (!isnan(words->leanest.equivalence_ratio)) {
        if (dw_band_of(model->data, words->leanest.equivalence_ratio) > 0) {
            find_limit(&s, &words->leanest, limit_of_leanest);
        }
        if (dw_band_of(model->data, words->richest.equivalence_ratio) < last_band) {
            find_limit(&s, &words->richest, limit_of_richest);
        }
    }
    return DW_OK;
}
