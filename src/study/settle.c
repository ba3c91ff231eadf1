#include "settle.h"

#include <math.h>

/* Leaner than this there is enough oxygen to be read; so lean must the opened kiln be at least. */
static const double lean_now = 0.95, lean_opened = 0.97, further = 0.2;

/* How far a reading is off, as half its width from 10 to 90 % (judgement): a portable analyser 0.25 %
 * and its place in the flue 0.35 % of oxygen together; a scale or meter 1.5 %; a stick 6 cm. */
static const double reading_error[DW_READING_COUNT] = {
    [DW_READING_OXYGEN] = 0.0043, [DW_READING_GAS] = 0.015, [DW_READING_SMOKE] = 0.06};

dw_status dw_settle_opened(dw_solved *at, const dw_kiln *kiln, double opening, dw_brief *brief)
{
    double open_frac[DW_FLUE_MAX];
    char reason[DW_REASON_SIZE];
    *brief = (dw_brief){NAN, NAN, NAN, NAN, false};
    for (int i = 0; i < kiln->flue_count; i++) {
        open_frac[i] = fmin(kiln->flue[i].damper.open_frac + opening, 1.0);
    }
    const dw_status status = dw_point_move_dampers(at, open_frac, reason);
    return status == DW_OK ? dw_point_brief(at, brief) : status;
}

double dw_settle_opening(dw_solved *at, const dw_kiln *kiln)
{
    const double openings[3] = {0.0, further, 1.0}, lean[3] = {lean_now, lean_opened, lean_opened};
    for (int i = 0; i < 3; i++) {
        dw_brief brief;
        if (dw_settle_opened(at, kiln, openings[i], &brief) == DW_OK &&
            brief.equivalence_ratio <= lean[i]) {
            return openings[i];
        }
    }
    return NAN;
}

void dw_settle_begin(dw_settle *settle, const dw_kiln *kiln, const dw_brief *now, const dw_brief *opened)
{
    *settle = (dw_settle){.ratio2 = 0.0};
    settle->possible[DW_READING_OXYGEN] = isfinite(opened->x_o2_dry);
    settle->possible[DW_READING_GAS] = true;
    settle->possible[DW_READING_SMOKE] =
        now->neutral_plane_m > 0.0 && now->neutral_plane_m < kiln->chamber.height_m;
}

static double value_of(dw_reading reading, const dw_brief *now, const dw_brief *opened)
{
    switch (reading) {
    case DW_READING_OXYGEN: return opened->x_o2_dry;
    case DW_READING_GAS: return log(now->gas_flow_kg_s);
    case DW_READING_SMOKE: return now->neutral_plane_m;
    case DW_READING_NONE: break;
    }
    return NAN;
}

static double half_span(double low, double high, double middle)
{
    if (!isfinite(low) && !isfinite(high)) return 0.0;
    if (!isfinite(low)) return high - middle;
    if (!isfinite(high)) return middle - low;
    return 0.5 * (high - low);
}

void dw_settle_add(dw_settle *settle, const dw_brief *now, const dw_brief *opened,
                   const dw_brief now_end[2], const dw_brief opened_end[2])
{
    const double ratio =
        half_span(log(now_end[0].equivalence_ratio), log(now_end[1].equivalence_ratio),
                  log(now->equivalence_ratio));
    settle->ratio2 += ratio * ratio;
    for (int k = 0; k < DW_READING_COUNT; k++) {
        const dw_reading reading = (dw_reading)k;
        if (!settle->possible[k]) continue;
        const double moved = half_span(value_of(reading, &now_end[0], &opened_end[0]),
                                       value_of(reading, &now_end[1], &opened_end[1]),
                                       value_of(reading, now, opened));
        settle->reading2[k] += moved * moved;
        settle->product[k] += ratio * moved;
    }
}

void dw_settle_end(const dw_settle *settle, double opening, dw_settled *settled)
{
    *settled = (dw_settled){DW_READING_NONE, 1.0, 0.0};
    if (!(settle->ratio2 > 0.0)) return;
    for (int k = 0; k < DW_READING_COUNT; k++) {
        if (!settle->possible[k]) continue;
        const double error2 = reading_error[k] * reading_error[k];
        const double known = settle->product[k] * settle->product[k] / (settle->reading2[k] + error2);
        const double left = sqrt(fmax(settle->ratio2 - known, 0.0) / settle->ratio2);
        if (left < settled->left_share) {
            *settled = (dw_settled){(dw_reading)k, left, k == DW_READING_OXYGEN ? opening : 0.0};
        }
    }
}
