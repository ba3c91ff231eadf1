#include "atmosphere.h"

#include <math.h>

/* ISO 2533, layer from -2 to 11 km of geopotential height. */
#define TEMPERATURE_SEA_K 288.15
#define LAPSE_K_M 0.0065
#define LOWEST_M (-2000.0)
#define HIGHEST_M 11000.0

double dw_atmosphere_temperature_k(double elevation_m)
{
    if (!(elevation_m >= LOWEST_M && elevation_m <= HIGHEST_M)) return NAN;
    return TEMPERATURE_SEA_K - LAPSE_K_M * elevation_m;
}

/* As it is shown: the temperature ratio is 1 - 0.0065 H/288.15. */
static const dw_law pressure_law = {"p_air", "pressure of the air here, absolute", "Pa", "iso2533",
                                    "101325.0*pow(1.0 - 0.0065*H/288.15, 5.25588)"};

double dw_atmosphere_pressure_pa(double elevation_m, const char *keys, dw_working *w)
{
    const double ratio = dw_atmosphere_temperature_k(elevation_m) / TEMPERATURE_SEA_K;
    (void)dw_law_given(w, DW_WORK_INPUT, "H", "height above the sea", "m", elevation_m);
    return dw_law_step(w, keys, NULL, NULL, &pressure_law, 101325.0 * pow(ratio, 5.25588));
}
