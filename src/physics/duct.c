#include "duct.h"

#include <math.h>

#define ROUGHEST 0.2

/* As they are shown; worked out with quick powers. */
static const dw_law viscosity_law = {"mu", "viscosity, as of air", "Pa s", "us1976",
                                     "1.458e-6*pow(T_m, 1.5)/(T_m + 110.4)"};
static const dw_law floor_law = {"Re_4",
                                 "Reynolds number, at least 4000 since the flow comes in disturbed", "",
                                 "assumption", "fmax(Re, 4000.0)"};
static const dw_law rough_law = {
    "F_1", "intermediate number of the friction formula", "", "churchill1977",
    "pow(2.457*log(1.0/(pow(7.0/Re_4, 0.9) + 0.27*rough/D_h)), 16.0)"};
static const dw_law smooth_law = {"F_2", "of the same", "", "churchill1977",
                                  "pow(37530.0/Re_4, 16.0)"};
static const dw_law friction_law = {
    "fric", "friction factor", "", "churchill1977",
    "8.0*pow(pow(8.0/Re_4, 12.0) + pow(F_1 + F_2, -1.5), 1.0/12.0)"};

double dw_air_viscosity_pa_s(double temperature_k, dw_working *w)
{
    if (!(temperature_k > 0.0)) return NAN;
    return dw_law_step(w, "", NULL, NULL, &viscosity_law,
                       1.458e-6 * temperature_k * sqrt(temperature_k) / (temperature_k + 110.4));
}

static double power16(double x)
{
    const double x2 = x * x;
    const double x4 = x2 * x2;
    const double x8 = x4 * x4;
    return x8 * x8;
}

double dw_friction_factor(double reynolds, double relative_roughness, double reynolds_floor,
                          dw_working *w)
{
    if (!(reynolds > 0.0 && reynolds_floor >= 0.0 && relative_roughness >= 0.0 &&
          relative_roughness <= ROUGHEST)) {
        return NAN;
    }
    const double re =
        dw_law_step(w, "", NULL, NULL, &floor_law, fmax(reynolds, reynolds_floor));
    /* Header's formula to the last digit here, and its powers would overflow further down. */
    if (re < 1.0) return 64.0 / re;
    const double a =
        dw_law_step(w, "", NULL, NULL, &rough_law,
                    power16(2.457 * -log(pow(7.0 / re, 0.9) + 0.27 * relative_roughness)));
    const double b = dw_law_step(w, "", NULL, NULL, &smooth_law, power16(37530.0 / re));
    const double ab = a + b;
    const double l = 8.0 / re;
    const double l3 = l * l * l;
    const double l12 = l3 * l3 * l3 * l3;
    return dw_law_step(w, "", NULL, NULL, &friction_law,
                       8.0 * cbrt(sqrt(sqrt(l12 + 1.0 / (ab * sqrt(ab))))));
}
