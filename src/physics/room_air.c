#include "room_air.h"

#include <math.h>
#include <stdbool.h>
#include <stddef.h>

static const double million = 1.0e6;

/* For a working: below so many changes of air in a time its mean is shown as that of its ends and a term for the
 * bend (what is left out is a 720th of the cube), below so many in all a room as nearly closed. The exact formulas,
 * which are worked out here with expm1 and log1p, would lose their digits there as they are written. */
static const double still_changes = 2.5e-3, closed_changes = 1e-4;

DW_LAW(steady_level, "C_s", "what it settles at", "ppm", "room-balance", (double C_out, double G, double Q),
       C_out + 1000000.0 * G / Q)
DW_LAW(flow_needed, "Q_L", "ventilation at which the air settles at the limit", "m3/s", "room-balance",
       (double G, double L, double C_out), 1000000.0 * G / (L - C_out))

#define ROOM_LAW(name, symbol, meaning, unit, text) \
    static const dw_law name = {symbol, meaning, unit, "room-balance", text};
ROOM_LAW(outside_law, "C_s", "what it settles at", "ppm", "C_out")
ROOM_LAW(level_law, "C", "level", "ppm", "C_out + 1000000.0*G/Q*(1.0 - exp(-Q*t/V))")
ROOM_LAW(level_closed_law, "C", "level", "ppm", "C_out + 1000000.0*G*t/V")
ROOM_LAW(mean_law, "C_m", "mean of the stretch: (what came in less what is stored) / what goes out", "ppm",
         "C_out + 1000000.0*G/Q - (C_1 - C_0)*V/(Q*(t_1 - t_0))")
ROOM_LAW(mean_still_law, "C_m", "mean of the stretch: the mean of its ends, and what the curve adds", "ppm",
         "(C_0 + C_1)/2.0 + Q*(t_1 - t_0)/V*(C_1 - C_0)/12.0")
ROOM_LAW(mean_outside_law, "C_m", "mean of the stretch: (what came in less what is stored) / what goes out", "ppm", "C_out")
ROOM_LAW(time_law, "t_L", "when the air reaches it", "s", "V/Q*log(1.0 + (L - C_out)/(C_s - L))")
ROOM_LAW(time_still_law, "t_L", "when the air reaches it", "s",
         "V*(L - C_out)/(1000000.0*G - Q*(L - C_out)/2.0)")
ROOM_LAW(time_closed_law, "t_L", "when the air reaches it", "s", "(L - C_out)*V/(1000000.0*G)")
ROOM_LAW(source_law, "G", "source that brings the air to a level", "m3/s",
         "(C - C_out)/(1000000.0/Q*(1.0 - exp(-Q*t/V)))")
ROOM_LAW(source_closed_law, "G", "source that brings the air to a level", "m3/s",
         "(C - C_out)*V/(1000000.0*t)")

const dw_law *dw_room_air_law(dw_room_air_term term, const dw_room_air *room, double time_s)
{
    const double changed_m3 = room->flow_m3_s * time_s;
    const bool closed = !(room->flow_m3_s > 0.0), source = room->source_m3_s > 0.0;
    switch (term) {
    case DW_ROOM_AIR_STEADY: return source ? &steady_level_law : &outside_law;
    case DW_ROOM_AIR_LEVEL: return closed ? &level_closed_law : &level_law;
    case DW_ROOM_AIR_MEAN:
        if (!(changed_m3 > still_changes * room->volume_m3)) return &mean_still_law;
        return source ? &mean_law : &mean_outside_law;
    case DW_ROOM_AIR_TIME:
        if (closed) return &time_closed_law;
        return changed_m3 > closed_changes * room->volume_m3 ? &time_law : &time_still_law;
    case DW_ROOM_AIR_FLOW: return &flow_needed_law;
    case DW_ROOM_AIR_SOURCE: break;
    }
    return closed ? &source_closed_law : &source_law;
}

dw_status dw_room_air_check(const dw_room_air *room)
{
    if (room == NULL) return DW_ERR_ARG;
    if (!isfinite(room->volume_m3) || !isfinite(room->flow_m3_s) || !isfinite(room->source_m3_s) ||
        !isfinite(room->outside_ppm)) {
        return DW_ERR_ARG;
    }
    const int in_domain = room->volume_m3 > 0.0 && room->flow_m3_s >= 0.0 &&
                          room->source_m3_s >= 0.0 && room->outside_ppm >= 0.0;
    return in_domain ? DW_OK : DW_ERR_DOMAIN;
}

/* (1 - e^-x)/x, which is 1 at x = 0. */
static double mean_decay(double x)
{
    return x > 0.0 ? -expm1(-x) / x : 1.0;
}

double dw_room_air_steady_ppm(const dw_room_air *room)
{
    if (!(room->source_m3_s > 0.0)) return room->outside_ppm;
    if (!(room->flow_m3_s > 0.0)) return INFINITY;
    return steady_level(room->outside_ppm, room->source_m3_s, room->flow_m3_s);
}

double dw_room_air_ppm(const dw_room_air *room, double start_ppm, double time_s)
{
    /* A closed room without a source keeps what it has for ever. */
    const double changes = room->flow_m3_s > 0.0 ? room->flow_m3_s * time_s / room->volume_m3 : 0.0;
    if (isinf(time_s) && (room->flow_m3_s > 0.0 || room->source_m3_s > 0.0)) {
        return dw_room_air_steady_ppm(room);
    }
    const double above = start_ppm - room->outside_ppm;
    const double added =
        room->source_m3_s > 0.0
            ? million * room->source_m3_s * time_s / room->volume_m3 * mean_decay(changes)
            : 0.0;
    return room->outside_ppm + added + above * exp(-changes);
}

double dw_room_air_mean_ppm(const dw_room_air *room, double start_ppm, double time_s)
{
    const double changes = room->flow_m3_s * time_s / room->volume_m3;
    const double mean = mean_decay(changes);
    const double above = start_ppm - room->outside_ppm;
    /* (1 - mean)/changes, which is 1/2 - x/6 + x^2/24 near x = 0 where the difference cancels. */
    const double rest = changes > 1.0e-3
                            ? (1.0 - mean) / changes
                            : 0.5 - changes / 6.0 + changes * changes / 24.0 -
                                  changes * changes * changes / 120.0;
    return room->outside_ppm + million * room->source_m3_s * time_s / room->volume_m3 * rest +
           above * mean;
}

double dw_room_air_time_to_ppm(const dw_room_air *room, double start_ppm, double level_ppm)
{
    if (start_ppm >= level_ppm) return 0.0;
    const double steady = dw_room_air_steady_ppm(room);
    if (!(room->flow_m3_s > 0.0)) {
        if (!(room->source_m3_s > 0.0)) return INFINITY;
        return (level_ppm - start_ppm) * room->volume_m3 / (million * room->source_m3_s);
    }
    if (!(steady > level_ppm)) return INFINITY;
    return room->volume_m3 / room->flow_m3_s *
           log1p((level_ppm - start_ppm) / (steady - level_ppm));
}

double dw_room_air_flow_for_ppm(const dw_room_air *room, double level_ppm)
{
    if (!(room->source_m3_s > 0.0)) return 0.0;
    const double room_for_ppm = level_ppm - room->outside_ppm;
    return room_for_ppm > 0.0 ? flow_needed(room->source_m3_s, level_ppm, room->outside_ppm) : INFINITY;
}
