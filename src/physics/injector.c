#include "injector.h"

#include <math.h>
#include <stddef.h>

double dw_injector_kappa_m(double throat_friction, double diffuser_recovery, double port_loss,
                           double throat_to_port_ratio, double port_temperature_ratio)
{
    return 1.0 +
           0.5 * (throat_friction - diffuser_recovery +
                  port_temperature_ratio * port_loss * throat_to_port_ratio * throat_to_port_ratio);
}

double dw_injector_kappa_a(double inlet_loss) { return 0.5 * (1.0 - inlet_loss); }

double dw_injector_shutter_loss(double throat_area_m2, double shutter_area_m2,
                                double discharge_coeff)
{
    const double free_m2 = discharge_coeff * shutter_area_m2;
    if (free_m2 == 0.0) return INFINITY;
    const double ratio = throat_area_m2 / free_m2;
    return ratio * ratio - 1.0;
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
    injector->a = (input->kappa_m - input->kappa_a) / input->air_density_kg_m3;
    injector->b =
        input->kappa_m * (input->jet_mass_kg_s / input->air_density_kg_m3 + input->jet_volume_m3_s);
    injector->c0 =
        input->kappa_m * input->jet_mass_kg_s * input->jet_volume_m3_s - throat * input->thrust_n;
    injector->area_sq = throat * throat;
    injector->reversal_pa = -injector->c0 / injector->area_sq;
    return DW_OK;
}

void dw_injector_air(const dw_injector *injector, double chamber_pa, dw_injector_flow *flow)
{
    const double c = injector->c0 + injector->area_sq * chamber_pa;
    flow->reversed = c >= 0.0;
    if (flow->reversed) {
        flow->air_kg_s = 0.0;
        flow->slope_kg_s_pa = 0.0;
        return;
    }
    /* The root written so that no two near numbers are subtracted, also when the air is little. A
     * closed shutter has an infinite a: no air and no slope come out of it. */
    const double root = sqrt(injector->b * injector->b - 4.0 * injector->a * c);
    flow->air_kg_s = -2.0 * c / (injector->b + root);
    flow->slope_kg_s_pa = -injector->area_sq / root;
}

double dw_injector_unlit_area_m2(double throat_area_m2, double kappa_m, double kappa_a)
{
    if (!(kappa_m > kappa_a)) return NAN;
    return throat_area_m2 / sqrt(2.0 * (kappa_m - kappa_a));
}
