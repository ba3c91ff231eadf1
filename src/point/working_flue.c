/* The working of dampers and flues. */
#include <math.h>

#include "constants.h"
#include "damper.h"
#include "working_steps.h"

/* Open fraction that counts, and what follows the damper. Leaves f, scale, k. */
static void put_setting(const dw_work_point *p, int i)
{
    dw_working *w = p->w;
    const dw_kiln *kiln = &p->solved->kiln;
    const dw_flue *flue = &kiln->flue[i];
    dw_work_put(w, DW_WORK_INPUT, "open", "open share of the damper", "", flue->damper.open_frac);
    dw_work_put(w, DW_WORK_INPUT, "leak",
                "smallest open share of a real plate, which always leaks", "",
                flue->damper.leak_frac);
    dw_work_put(w, DW_WORK_INPUT, "scale", "factor on the loss", "", flue->damper.scale);
    dw_work_step_is(w, "", "f", "open share that counts", "", "max(open, leak)",
                    p->solved->net.flue[i].open_frac, "definition");
    if (flue->downstream_is_plenum) {
        dw_work_put(w, DW_WORK_INPUT, "k", "flue area / area behind the damper: 0, since an open "
                                           "space follows", "",
                    0.0);
    } else if (isnan(p->given->flue[i].downstream_area_m2)) {
        dw_work_put(w, DW_WORK_INPUT, "A_all", "area of all flues", "m2",
                    dw_kiln_flue_area_m2(kiln));
        dw_work_put(w, DW_WORK_INPUT, "A_st", "area of the stack", "m2", kiln->stack.area_m2);
        dw_work_step_is(w, "", "k", "area of the flues / area of the stack, at most 1", "",
                        "min(1, A_all/A_st)", NAN, "assumption");
    } else {
        dw_work_put(w, DW_WORK_INPUT, "A_d", "area just after the damper", "m2",
                    flue->downstream_area_m2);
        dw_work_step_is(w, "", "k", "flue area / area after the damper", "",
                        flue->count > 1 ? "A_1/A_d" : "A_f/A_d", NAN, "definition");
    }
}

static void put_slide(const dw_work_point *p)
{
    dw_working *w = p->w;
    dw_work_step_is(w, "", "Cc", "contraction of the jet under the plate", "",
                    "1/(1 + 0.707*(1 - f)^0.375)", NAN, "idelchik1994");
    dw_work_step_is(w, "", "zeta_d", "loss of the damper, referred to the speed in the full flue",
                    "",
                    "scale*(1/(Cc*f) - k)^2", NAN, "idelchik1994");
}

static void put_butterfly(const dw_work_point *p, int i)
{
    dw_working *w = p->w;
    const dw_data *data = p->model->data;
    const double end_rad = 75.0 * DW_PI / 180.0;
    const double f = p->solved->net.flue[i].open_frac;
    const double end_frac = dw_butterfly_open_frac(end_rad);
    const bool past = f < end_frac;
    const double at = dw_butterfly_angle_rad(fmax(f, end_frac));
    const int last = (int)data->butterfly_count - 1;
    if (past) {
        dw_work_put(w, DW_WORK_DATA, "f_75", "open share at 75 deg", "", end_frac);
        dw_work_step_is(w, "", "theta", "angle of the plate, at most where the table ends", "rad",
                        "asin(1 - f_75)", NAN, "butterfly-extended");
    } else {
        dw_work_step_is(w, "", "theta", "angle of the plate", "rad", "asin(1 - f)", NAN,
                        "definition");
    }
    int row = 1;
    while (row < last && at > data->butterfly_angle_rad[row]) row++;
    dw_work_put(w, DW_WORK_DATA, "th_1", "angle in the table row before", "rad",
                data->butterfly_angle_rad[row - 1]);
    dw_work_put(w, DW_WORK_DATA, "ze_1", "loss there", "", data->butterfly_loss[row - 1]);
    dw_work_put(w, DW_WORK_DATA, "th_2", "angle in the table row after", "rad",
                data->butterfly_angle_rad[row]);
    dw_work_put(w, DW_WORK_DATA, "ze_2", "loss there", "", data->butterfly_loss[row]);
    if (!past) {
        dw_work_step_is(w, "", "zeta_d", "loss of the damper, referred to the speed in the full "
                                         "flue", "",
                        "scale*ze_1*(ze_2/ze_1)^(max(theta - th_1, 0)/(th_2 - th_1))", NAN,
                        "butterfly-loglinear");
        return;
    }
    dw_work_step_is(w, "", "ze_75", "loss at 75 deg", "",
                    "ze_1*(ze_2/ze_1)^((theta - th_1)/(th_2 - th_1))", NAN, "butterfly-loglinear");
    dw_work_step_is(w, "", "zeta_d", "loss of the damper further shut: it grows as that of a "
                                     "slide does", "",
                    "scale*ze_75*(((1 + 0.707*(1 - f)^0.375)/f - 1)/"
                    "((1 + 0.707*(1 - f_75)^0.375)/f_75 - 1))^2",
                    NAN, "butterfly-extended");
}

static void put_table(const dw_work_point *p, int i)
{
    dw_working *w = p->w;
    const dw_damper *d = &p->solved->kiln.flue[i].damper;
    const double f = p->solved->net.flue[i].open_frac;
    const int last = d->row_count - 1;
    int row = 0;
    while (row < last && f > d->row_open_frac[row]) row++;
    if (f >= d->row_open_frac[last]) {
        dw_work_put(w, DW_WORK_INPUT, "ze_2", "loss in the last row of the damper's table", "",
                    d->row_loss[last]);
        dw_work_step_is(w, "", "zeta_d", "loss of the damper", "", "scale*ze_2", NAN, "definition");
        return;
    }
    dw_work_put(w, DW_WORK_INPUT, "f_2", "open share in the table row after", "",
                d->row_open_frac[row]);
    dw_work_put(w, DW_WORK_INPUT, "ze_2", "loss there", "", d->row_loss[row]);
    dw_work_step_is(w, "", "e_2", "share of the flue that the jet fills in that row", "",
                    "1/(1 + sqrt(ze_2))", NAN,
                    "idelchik1994");
    if (row > 0) {
        dw_work_put(w, DW_WORK_INPUT, "f_1", "open share in the table row before", "",
                    d->row_open_frac[row - 1]);
        dw_work_put(w, DW_WORK_INPUT, "ze_1", "loss there", "", d->row_loss[row - 1]);
        dw_work_step_is(w, "", "e_1", "share of the flue that the jet fills in that row", "",
                        "1/(1 + sqrt(ze_1))",
                        NAN, "idelchik1994");
        dw_work_step_is(w, "", "e", "share that the jet fills here, in a straight line between "
                                    "the rows", "",
                        "e_1 + (e_2 - e_1)*(f - f_1)/(f_2 - f_1)", NAN, "definition");
    } else {
        dw_work_step_is(w, "", "e", "share that the jet fills here, in proportion below the first "
                                    "row", "", "e_2*f/f_2", NAN,
                        "definition");
    }
    dw_work_step_is(w, "", "zeta_d", "loss of the damper", "", "scale*(1/e - 1)^2", NAN,
                    "idelchik1994");
}

/* Loss of flue and damper together. */
static void put_loss(const dw_work_point *p, int i)
{
    dw_working *w = p->w;
    const dw_flue *flue = &p->solved->kiln.flue[i];
    const bool stack = p->solved->net.has_stack;
    if (flue->count > 1) {
        dw_work_put(w, DW_WORK_INPUT, "n_f", "number of flues like this", "", flue->count);
        dw_work_put(w, DW_WORK_INPUT, "A_1", "area of one", "m2", flue->area_m2);
        dw_work_step_is(w, "", "A_f", "area of all of them", "m2", "n_f*A_1",
                        p->solved->net.flue[i].area_m2, "definition");
    } else {
        dw_work_put(w, DW_WORK_INPUT, "A_f", "area of the flue", "m2", flue->area_m2);
    }
    dw_work_put(w, DW_WORK_INPUT, "zeta_e", "loss of the flue's mouth", "", flue->entry_loss);
    put_setting(p, i);
    switch (flue->damper.kind) {
    case DW_DAMPER_SLIDE: put_slide(p); break;
    case DW_DAMPER_BUTTERFLY: put_butterfly(p, i); break;
    case DW_DAMPER_TABLE: put_table(p, i); break;
    }
    const bool slide = flue->damper.kind == DW_DAMPER_SLIDE;
    const char *meaning = "loss of the mouth and the damper together", *formula = "zeta_e + zeta_d";
    if (!stack && slide) {
        meaning = "loss of the mouth, the damper and the speed left where the gas enters the room";
        formula = "zeta_e + zeta_d + k^2";
    } else if (!stack) {
        meaning = "loss of the mouth, the damper and the speed that is lost in the room";
        formula = "zeta_e + zeta_d + 1";
    } else if (flue->damper.kind == DW_DAMPER_BUTTERFLY) {
        meaning = "loss of the mouth, the damper and the spreading into what follows";
        formula = "zeta_e + zeta_d + (1 - k)^2";
    }
    const double coeff = p->solved->net.flue[i].coeff;
    dw_work_step_is(w, "", "zeta", meaning, "", formula, 1.0 / (coeff * coeff), "idelchik1994");
}

static void put_far_pressure(const dw_work_point *p, int i, double *far_pa)
{
    dw_working *w = p->w;
    *far_pa = dw_network_flue_far_pa(&p->solved->at, p->solved->state.stack_base_pa, i);
    if (!p->solved->net.has_stack) {
        dw_work_put(w, DW_WORK_CONSTANT, "p_far", "pressure after the damper, which is that of "
                                                  "the room", "Pa", 0.0);
        return;
    }
    dw_work_step_is(w, "", "p_far", "pressure after the damper, from that at the stack base", "Pa",
                    p->solved->at.down ? "p_s + (rho_room - rho_top)*g*(z_f - z_s)"
                                       : "p_s + grad*(z_f - z_s)",
                    *far_pa, "draft-law");
    if (i == 0) {
        dw_work_step_is(w, "draft_flue_exit_pa", "D_far", "draft after the (first) damper", "Pa",
                        "-p_far", p->result->draft_flue_exit_pa, "definition");
    }
}

void dw_work_flues(const dw_work_point *p)
{
    dw_working *w = p->w;
    const dw_kiln *kiln = &p->solved->kiln;
    const dw_network *net = &p->solved->net;
    if (net->has_stack) {
        dw_work_section(w, "The stack base");
        dw_work_put(w, DW_WORK_SOLVED, "p_s", "pressure at the stack base, relative to the room",
                    "Pa",
                    p->solved->state.stack_base_pa);
        dw_work_put(w, DW_WORK_INPUT, "z_s", "height of the stack base", "m", net->base_height_m);
        dw_work_step_is(w, "draft_stack_base_pa", "D_s", "draft at the stack base", "Pa", "-p_s",
                        p->result->draft_stack_base_pa, "definition");
        /* What fills the stack when it does not pull, and what stands beside it. */
        dw_work_put(w, DW_WORK_INPUT, "T_top", isnan(kiln->stack.hood_gap_height_m)
                                                   ? "temperature outside the stack"
                                                   : "temperature beside the stack, which is the "
                                                     "room's",
                    "K", net->far_temperature_k);
        dw_work_step_is(w, "", "rho_top", "density of the air beside the stack", "kg/m3",
                        "p_air*M_air/(R*T_top)", net->far_density_kg_m3, "definition");
    }
    for (int i = 0; i < kiln->flue_count; i++) {
        const dw_flow *f = dw_work_flow(p, DW_FLOW_FLUE, i);
        double far_pa;
        dw_work_section(w, "Flue '%s' and its damper", kiln->flue[i].name);
        put_loss(p, i);
        dw_work_put(w, DW_WORK_INPUT, "z_f", "height of the flue", "m", kiln->flue[i].height_m);
        dw_work_step_is(w, "", "p_f", "pressure in the chamber at the flue", "Pa",
                        "p + grad*(z_f - z_0)", NAN, "draft-law");
        put_far_pressure(p, i, &far_pa);
        dw_work_step_is(w, dw_work_flow_key(p, DW_FLOW_FLUE, i, "dp_pa"),
                        dw_work_keepf(w, "dp_f%d", i + 1), "pressure that drives the gas", "Pa",
                        "p_f - p_far", f != NULL ? f->dp_pa : NAN, "definition");
        if (f != NULL && f->dp_pa < 0.0) {
            /* What comes back is that of the stack base: after it. */
            dw_work_step_is(w, "", dw_work_keepf(w, "az_f%d", i + 1),
                            "flue area / square root of the loss; gas comes back through this flue", "m2",
                            "A_f/sqrt(zeta)", NAN, "definition");
            continue;
        }
        dw_work_step_is(w, dw_work_flow_key(p, DW_FLOW_FLUE, i, "mass_kg_s"),
                        dw_work_keepf(w, "m_f%d", i + 1), "chamber gas through the flue", "kg/s",
                        dw_work_keepf(w,
                                      "A_f*sqrt(2*rho_gas/zeta)*dp_f%d/(dp_f%d^2 + " DW_WORK_BLEND
                                      "^2)^(1/4)",
                                      i + 1, i + 1),
                        f != NULL ? f->mass_kg_s : NAN, "orifice-equation");
    }
}
