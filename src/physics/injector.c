#include "injector.h"

#include <math.h>
#include <stddef.h>

/* As they are shown; worked out with the areas that are to hand. */
static const dw_law kappa_m_law = {"kappa_m", "coefficient of what the mixture's speed costs", "",
                                   "momentum-balance",
                                   "1.0 + (zeta_f - C_pd + tau*zeta_p*pow(d_t/d_p, 4.0))/2.0"};
static const dw_law shutter_law = {"zeta_in", "loss of the inlet, referred to the speed in the throat", "",
                                   "momentum-balance", "pow(A_t/(Cd_s*open_s*A_s), 2.0) - 1.0"};
DW_LAW(kappa_air, "kappa_a", "coefficient of what the air's speed gives back", "", "momentum-balance",
       (double zeta_in), (1.0 - zeta_in) / 2.0)

/* The balance a*m^2 + b*m + c = 0. */
DW_LAW(of_square, "a", "of the balance a*m^2 + b*m + c = 0", "m3/kg", "momentum-balance",
       (double kappa_m, double kappa_a, double rho_room), (kappa_m - kappa_a) / rho_room)
DW_LAW(of_air, "b", "of the same", "m3/s", "momentum-balance",
       (double kappa_m, double M_0, double rho_room, double V_0), kappa_m * (M_0 / rho_room + V_0))
static const dw_law rest_law = {
    "c", "thrust and chamber pressure, less what the jets' own flow costs", "kg m3/s2",
    "momentum-balance", "kappa_m*M_0*V_0 - A_t*J + pow(A_t, 2.0)*p_b"};
static const dw_law air_drawn_law = {
    "m_a1", "air drawn in by one burner: the root of the momentum balance", "kg/s", "momentum-balance",
    "-2.0*c/(b + sqrt(pow(b, 2.0) - 4.0*a*c))"};
const dw_law dw_injector_unlit_law = {
    "A_u", "opening that the unlit burners are, all of this entry", "m2", "momentum-balance",
    "n*A_t/sqrt(2.0*(kappa_m - kappa_a))"};

double dw_injector_kappa_m(double throat_friction, double diffuser_recovery, double port_loss,
                           double throat_to_port_ratio, double port_temperature_ratio, dw_working *w)
{
    /* Shown as the formula gives it: with round inputs the last digit shown hangs on rounding. */
    if (w != NULL) dw_law_write(w, "", NULL, NULL, &kappa_m_law, NAN);
    return 1.0 +
           0.5 * (throat_friction - diffuser_recovery +
                  port_temperature_ratio * port_loss * throat_to_port_ratio * throat_to_port_ratio);
}

double dw_injector_kappa_a(double inlet_loss, dw_working *w) { return DW_STEP(w, kappa_air, (inlet_loss)); }

double dw_injector_shutter_loss(double throat_area_m2, double shutter_area_m2, double discharge_coeff,
                                dw_working *w)
{
    const double free_m2 = discharge_coeff * shutter_area_m2;
    if (free_m2 == 0.0) return INFINITY;
    const double ratio = throat_area_m2 / free_m2;
    return dw_law_step(w, "", NULL, NULL, &shutter_law, ratio * ratio - 1.0);
}

static dw_status check_inputs(const dw_injector_input *in)
{
    const bool closed = isinf(in->kappa_a) && in->kappa_a < 0.0;
    if (!isfinite(in->throat_area_m2) || !isfinite(in->kappa_m) ||
        !(isfinite(in->kappa_a) || closed) || !isfinite(in->jet_mass_kg_s) ||
        !isfinite(in->jet_volume_m3_s) || !isfinite(in->thrust_n) ||
        !isfinite(in->air_density_kg_m3)) {
        return DW_ERR_ARG;
    }
    const bool in_domain = in->throat_area_m2 > 0.0 && in->kappa_m > 0.0 &&
                           in->kappa_m > in->kappa_a && in->jet_mass_kg_s > 0.0 &&
                           in->jet_volume_m3_s > 0.0 && in->thrust_n >= 0.0 &&
                           in->air_density_kg_m3 > 0.0;
    return in_domain ? DW_OK : DW_ERR_DOMAIN;
}

dw_status dw_injector_init(const dw_injector_input *input, dw_injector *injector)
{
    if (injector == NULL) return DW_ERR_ARG;
    *injector = (dw_injector){NAN, NAN, NAN, NAN, NAN, false};
    if (input == NULL) return DW_ERR_ARG;
    const dw_status status = check_inputs(input);
    if (status != DW_OK) return status;

    const double throat = input->throat_area_m2;
    injector->shutter_closed = isinf(input->kappa_a) != 0;
    injector->a = of_square(input->kappa_m, input->kappa_a, input->air_density_kg_m3);
    injector->b = of_air(input->kappa_m, input->jet_mass_kg_s, input->air_density_kg_m3,
                         input->jet_volume_m3_s);
    injector->c0 =
        input->kappa_m * input->jet_mass_kg_s * input->jet_volume_m3_s - throat * input->thrust_n;
    injector->area_sq = throat * throat;
    injector->reversal_pa = -injector->c0 / injector->area_sq;
    return DW_OK;
}

void dw_injector_air(const dw_injector *injector, double chamber_pa, dw_working *w,
                     dw_injector_flow *flow)
{
    const double c = dw_law_step(w, "", NULL, NULL, &rest_law,
                                 injector->c0 + injector->area_sq * chamber_pa);
    flow->reversed = c >= 0.0;
    if (flow->reversed) {
        flow->air_kg_s = 0.0;
        flow->slope_kg_s_pa = 0.0;
        return;
    }
    const double a = dw_law_step(w, "", NULL, NULL, &of_square_law, injector->a);
    const double b = dw_law_step(w, "", NULL, NULL, &of_air_law, injector->b);
    /* The root written so that no two near numbers are subtracted, also when the air is little. A
     * closed shutter has an infinite a: no air and no slope come out of it. */
    const double root = sqrt(b * b - 4.0 * a * c);
    flow->air_kg_s = dw_law_step(w, "", NULL, NULL, &air_drawn_law, -2.0 * c / (b + root));
    flow->slope_kg_s_pa = -injector->area_sq / root;
}

double dw_injector_unlit_area_m2(double throat_area_m2, double kappa_m, double kappa_a)
{
    if (!(kappa_m > kappa_a)) return NAN;
    return throat_area_m2 / sqrt(2.0 * (kappa_m - kappa_a));
}
