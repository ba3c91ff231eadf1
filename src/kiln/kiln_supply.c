#include "kiln_supply.h"

#include <math.h>

#include "format.h"

bool dw_supply_check(const dw_operating *o, char *message, size_t size)
{
    const bool no_static = isnan(o->supply_static_pa), no_running = isnan(o->supply_running_pa);
    if (no_static && no_running) {
        if (o->gauge == DW_GAUGE_JET) return true;
        (void)dw_print(message, size,
                       "'operating.gauge' is manifold, expected operating.supply with static and running too: they "
                       "say how much pressure is lost on the way to the jets");
        return false;
    }
    if (no_static || no_running) {
        (void)dw_print(message, size, "'operating.supply.%s' is missing, expected static and running together",
                       no_static ? "static" : "running");
        return false;
    }
    if (o->supply_running_pa > 0.0 && o->supply_running_pa < o->supply_static_pa &&
        isfinite(o->supply_static_pa)) {
        return true;
    }
    (void)dw_print(message, size,
                   "'operating.supply.running' is %.5g kPa, expected more than 0 and less than the static pressure, "
                   "%.5g kPa",
                   1e-3 * o->supply_running_pa, 1e-3 * o->supply_static_pa);
    return false;
}
