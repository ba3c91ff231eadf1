#include "atmosphere.h"

#include <math.h>

/* ISO 2533, layer from -2 to 11 km of geopotential height. */
#define PRESSURE_SEA_PA 101325.0
#define TEMPERATURE_SEA_K 288.15
#define LAPSE_K_M 0.0065
#define EXPONENT 5.25588
#define LOWEST_M (-2000.0)
#define HIGHEST_M 11000.0

double dw_atmosphere_temperature_k(double elevation_m)
{
    if (!(elevation_m >= LOWEST_M && elevation_m <= HIGHEST_M)) return NAN;
    return TEMPERATURE_SEA_K - LAPSE_K_M * elevation_m;
}

double dw_atmosphere_pressure_pa(double elevation_m)
{
    const double temperature_k = dw_atmosphere_temperature_k(elevation_m);
    return PRESSURE_SEA_PA * pow(temperature_k / TEMPERATURE_SEA_K, EXPONENT);
}
