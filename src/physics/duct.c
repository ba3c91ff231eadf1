#include "duct.h"

#include <math.h>

#define ROUGHEST 0.2

double dw_air_viscosity_pa_s(double temperature_k)
{
    if (!(temperature_k > 0.0)) return NAN;
    return 1.458e-6 * temperature_k * sqrt(temperature_k) / (temperature_k + 110.4);
}

static double power16(double x)
{
    const double x2 = x * x;
    const double x4 = x2 * x2;
    const double x8 = x4 * x4;
    return x8 * x8;
}

double dw_friction_factor(double reynolds, double relative_roughness, double reynolds_floor)
{
    if (!(reynolds > 0.0 && reynolds_floor >= 0.0 && relative_roughness >= 0.0 &&
          relative_roughness <= ROUGHEST)) {
        return NAN;
    }
    const double re = fmax(reynolds, reynolds_floor);
    /* Header's formula to the last digit here, and its powers would overflow further down. */
    if (re < 1.0) return 64.0 / re;
    const double a = power16(2.457 * -log(pow(7.0 / re, 0.9) + 0.27 * relative_roughness));
    const double b = power16(37530.0 / re);
    const double ab = a + b;
    const double l = 8.0 / re;
    const double l3 = l * l * l;
    const double l12 = l3 * l3 * l3 * l3;
    return 8.0 * cbrt(sqrt(sqrt(l12 + 1.0 / (ab * sqrt(ab)))));
}

double dw_duct_friction_pa(double friction_factor, double length_m, double hydraulic_diameter_m,
                           double rho_kg_m3, double velocity_m_s)
{
    return 0.5 * friction_factor * length_m / hydraulic_diameter_m * rho_kg_m3 * velocity_m_s *
           velocity_m_s;
}
