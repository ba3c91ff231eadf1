#include "room_air.h"

#include <math.h>
#include <stddef.h>

static const double million = 1.0e6;

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
    return room->outside_ppm + million * room->source_m3_s / room->flow_m3_s;
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
    return room_for_ppm > 0.0 ? million * room->source_m3_s / room_for_ppm : INFINITY;
}
