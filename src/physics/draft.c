#include "draft.h"

#include <math.h>

#include "constants.h"

double dw_draft_theoretical_pa(double rho_out_kg_m3, double rho_gas_kg_m3, double height_m)
{
    return (rho_out_kg_m3 - rho_gas_kg_m3) * DW_G_M_S2 * height_m;
}

double dw_draft_pressure_at_pa(double pressure_datum_pa, double rho_room_kg_m3,
                               double rho_gas_kg_m3, double height_above_datum_m)
{
    return pressure_datum_pa +
           dw_draft_theoretical_pa(rho_room_kg_m3, rho_gas_kg_m3, height_above_datum_m);
}

double dw_draft_neutral_plane_m(double pressure_datum_pa, double rho_room_kg_m3,
                                double rho_gas_kg_m3)
{
    const double gradient_pa_m = (rho_room_kg_m3 - rho_gas_kg_m3) * DW_G_M_S2;
    if (gradient_pa_m == 0.0) return NAN;
    return -pressure_datum_pa / gradient_pa_m;
}
