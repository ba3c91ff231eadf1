#include "draft.h"

#include <math.h>

#include "constants.h"

DW_LAW(column_pull, "D_th", "theoretical draft", "Pa", "draft-law",
       (double rho_top, double rho_st, double g, double H_st), (rho_top - rho_st) * g * H_st)
DW_LAW(gradient, "grad", "rise of chamber pressure with height, relative to the room", "Pa/m",
       "draft-law", (double rho_room, double rho_gas, double g), (rho_room - rho_gas) * g)
DW_LAW(pressure_at, "p_z", "pressure at a height", "Pa", "draft-law",
       (double p, double grad, double z, double z_0), p + grad * (z - z_0))
DW_LAW(pressure_beside, "p_z", "pressure at a height", "Pa", "draft-law",
       (double p, double rho_1, double rho_2, double g, double z, double z_0),
       p + (rho_1 - rho_2) * g * (z - z_0))

DW_LAW(wind_push, "p_wind", "how much more the wind presses on the room than on the top of the stack", "Pa",
       "wind-head", (double Cp_r, double Cp_s, double rho_out, double v_w),
       (Cp_r - Cp_s) * rho_out * pow(v_w, 2.0) / 2.0)

DW_LAW(neutral_height, "z_n", "height where the pressure is zero", "m", "neutral-plane",
       (double z_0, double p, double grad), z_0 - p / grad)

const dw_law *const dw_draft_theoretical_law = &column_pull_law;
const dw_law *const dw_draft_pressure_law = &pressure_at_law;
const dw_law *const dw_draft_neutral_law = &neutral_height_law;

double dw_draft_theoretical_pa(double rho_out_kg_m3, double rho_gas_kg_m3, double height_m)
{
    return column_pull(rho_out_kg_m3, rho_gas_kg_m3, DW_G_M_S2, height_m);
}

double dw_draft_wind_pa(double rho_out_kg_m3, double speed_m_s, double room_coeff, double stack_coeff,
                        dw_working *w)
{
    return DW_STEP_FOR(w, "wind_pressure_pa", wind_push, (room_coeff, stack_coeff, rho_out_kg_m3, speed_m_s));
}

double dw_draft_gradient_pa_m(double rho_room_kg_m3, double rho_gas_kg_m3, dw_working *w)
{
    return DW_STEP(w, gradient, (rho_room_kg_m3, rho_gas_kg_m3, DW_G_M_S2));
}

double dw_draft_pressure_at_pa(double pressure_datum_pa, double rho_room_kg_m3,
                               double rho_gas_kg_m3, double height_m, double datum_m)
{
    return pressure_at(pressure_datum_pa, gradient(rho_room_kg_m3, rho_gas_kg_m3, DW_G_M_S2),
                       height_m, datum_m);
}

double dw_draft_pressure_beside_pa(double pressure_datum_pa, double rho_1_kg_m3, double rho_2_kg_m3,
                                   double height_m, double datum_m, const char *names,
                                   const char *meaning, dw_working *w)
{
    return DW_STEP_AS(w, "", names, meaning, pressure_beside,
                      (pressure_datum_pa, rho_1_kg_m3, rho_2_kg_m3, DW_G_M_S2, height_m, datum_m));
}

double dw_draft_neutral_plane_m(double pressure_datum_pa, double rho_room_kg_m3,
                                double rho_gas_kg_m3, double datum_m)
{
    const double gradient_pa_m = gradient(rho_room_kg_m3, rho_gas_kg_m3, DW_G_M_S2);
    if (gradient_pa_m == 0.0) return NAN;
    return neutral_height(datum_m, pressure_datum_pa, gradient_pa_m);
}
