#include "damper.h"

#include <math.h>
#include <stddef.h>

#include "constants.h"

#define LOWEST_PUBLISHED_FRAC 0.1
#define HIGHEST_PUBLISHED_FRAC 0.95
#define BUTTERFLY_END_RAD (75.0 * DW_PI / 180.0)

static const char zeta_meaning[] = "loss of the damper, referred to the speed in the full flue";

DW_LAW(open_share, "f", "open share that counts", "", "definition", (double open, double leak),
       fmax(open, leak))

/* The slide's loss as textbooks have it; worked out without dividing twice. */
DW_LAW(slide_narrowing, "Cc", "contraction of the jet under the plate", "", "idelchik1994", (double f),
       1.0 / (1.0 + 0.707 * pow(1.0 - f, 0.375)))
static const dw_law slide_loss_law = {"zeta_d", zeta_meaning, "", "idelchik1994",
                                      "scale*pow(1.0/(Cc*f) - k, 2.0)"};

static double slide_loss(double f, double k)
{
    return pow((1.0 + 0.707 * pow(1.0 - f, 0.375)) / f - k, 2.0);
}

DW_LAW(thick_ratio, "t_s", "thickness of the plate / width of the slot left open", "", "definition",
       (double th_p, double f, double W_m), th_p / (f * W_m))
DW_LAW(thick_factor, "F_t", "loss past the thick plate / past a thin one, in a straight line between the rows", "",
       "idelchik-thick", (double F_1, double F_2, double t_s, double t_1, double t_2),
       F_1 + (F_2 - F_1) * fmin(fmax((t_s - t_1) / (t_2 - t_1), 0.0), 1.0))
static const dw_law shelf_loss_law = {"zeta_d", zeta_meaning, "", "idelchik1994",
                                      "scale*F_t*pow(1.0/(Cc*f) - k, 2.0)"};

DW_LAW(plate_angle, "theta", "angle of the plate", "rad", "definition", (double f), asin(1.0 - f))
DW_LAW(end_angle, "theta", "angle of the plate, at most where the table ends", "rad",
       "butterfly-extended", (double f_75), asin(1.0 - f_75))
DW_LAW(butterfly_loss, "zeta_d", zeta_meaning, "", "butterfly-loglinear",
       (double scale, double theta, double th_1, double ze_1, double th_2, double ze_2),
       scale * ze_1 * pow(ze_2 / ze_1, fmax(theta - th_1, 0.0) / (th_2 - th_1)))
DW_LAW(butterfly_end, "ze_75", "loss at 75 deg", "", "butterfly-loglinear",
       (double theta, double th_1, double ze_1, double th_2, double ze_2),
       ze_1 * pow(ze_2 / ze_1, (theta - th_1) / (th_2 - th_1)))
DW_LAW(butterfly_beyond, "zeta_d",
       "loss of the damper further shut: it grows as that of a slide does", "", "butterfly-extended",
       (double scale, double ze_75, double f, double f_75),
       scale * ze_75 * pow(((1.0 + 0.707 * pow(1.0 - f, 0.375)) / f - 1.0) /
                               ((1.0 + 0.707 * pow(1.0 - f_75, 0.375)) / f_75 - 1.0), 2.0))

/* The share of the flue that the jet fills; 1 and 2 are the rows before and after. */
DW_LAW(row_share, "e_2", "share of the flue that the jet fills in that row", "", "idelchik1994",
       (double ze_2), 1.0 / (1.0 + sqrt(ze_2)))
DW_LAW(share_between, "e", "share that the jet fills here, in a straight line between the rows", "",
       "definition", (double e_1, double e_2, double f, double f_1, double f_2),
       e_1 + (e_2 - e_1) * (f - f_1) / (f_2 - f_1))
DW_LAW(share_below, "e", "share that the jet fills here, in proportion below the first row", "",
       "definition", (double e_2, double f, double f_2), e_2 * f / f_2)
DW_LAW(table_loss, "zeta_d", "loss of the damper", "", "idelchik1994", (double scale, double e),
       scale * pow(1.0 / e - 1.0, 2.0))
DW_LAW(last_row_loss, "zeta_d", "loss of the damper", "", "definition", (double scale, double ze_2),
       scale * ze_2)

static dw_status begin(const dw_damper_setting *setting, dw_damper_loss *result)
{
    if (result == NULL) return DW_ERR_ARG;
    *result = (dw_damper_loss){NAN, NAN, false, false};
    if (setting == NULL || !isfinite(setting->open_frac) || !isfinite(setting->leak_frac) ||
        !isfinite(setting->scale)) {
        return DW_ERR_ARG;
    }
    const bool in_domain = setting->open_frac >= 0.0 && setting->open_frac <= 1.0 &&
                           setting->leak_frac > 0.0 && setting->leak_frac < 1.0 &&
                           setting->scale > 0.0;
    return in_domain ? DW_OK : DW_ERR_DOMAIN;
}

static void finish(const dw_damper_setting *setting, double open_frac, double loss, bool outside,
                   dw_damper_loss *result)
{
    result->loss = loss;
    result->open_frac = open_frac;
    result->at_leak = setting->open_frac <= setting->leak_frac;
    result->outside_published = outside;
}

/** Rows strictly rising, losses strictly in one direction, all finite. */
static dw_status check_rows(const double *position, const double *loss, int count,
                            double loss_direction)
{
    for (int i = 0; i < count; i++) {
        if (!isfinite(position[i]) || !isfinite(loss[i])) return DW_ERR_ARG;
        if (i > 0 &&
            !(position[i] > position[i - 1] && loss_direction * (loss[i] - loss[i - 1]) > 0.0)) {
            return DW_ERR_DOMAIN;
        }
    }
    return DW_OK;
}

double dw_damper_open_share(const dw_damper_setting *setting, dw_working *w)
{
    const double open = dw_law_given(w, DW_WORK_INPUT, "open", "open share of the damper", "",
                                     setting->open_frac);
    const double leak =
        dw_law_given(w, DW_WORK_INPUT, "leak", "smallest open share of a real plate, which always leaks",
                     "", setting->leak_frac);
    (void)dw_law_given(w, DW_WORK_INPUT, "scale", "factor on the loss", "", setting->scale);
    return DW_STEP(w, open_share, (open, leak));
}

dw_status dw_damper_slide(const dw_damper_setting *setting, double downstream_ratio, dw_working *w,
                          dw_damper_loss *result)
{
    const dw_status status = begin(setting, result);
    if (status != DW_OK) return status;
    if (!isfinite(downstream_ratio)) return DW_ERR_ARG;
    if (!(downstream_ratio >= 0.0 && downstream_ratio <= 1.0)) return DW_ERR_DOMAIN;
    const double f = open_share(setting->open_frac, setting->leak_frac);
    (void)DW_STEP(w, slide_narrowing, (f));
    finish(setting, f,
           dw_law_step(w, "", NULL, NULL, &slide_loss_law, setting->scale * slide_loss(f, downstream_ratio)),
           f < LOWEST_PUBLISHED_FRAC || f > HIGHEST_PUBLISHED_FRAC, result);
    return DW_OK;
}

/* F_t of a thick plate. */
static double thick_share(const dw_damper_plate *plate, double f, dw_working *w)
{
    const double th_p =
        dw_law_given(w, DW_WORK_INPUT, "th_p", "thickness of the plate", "m", plate->thickness_m);
    const double W_m = dw_law_given(w, DW_WORK_INPUT, "W_m", "width of the mouth, the way the plate is pushed",
                                    "m", plate->mouth_width_m);
    const double t_s = DW_STEP(w, thick_ratio, (th_p, f, W_m));
    int i = 1;
    while (i < plate->row_count - 1 && t_s > plate->ratio[i]) i++;
    const double t_1 = dw_law_given(w, DW_WORK_DATA, "t_1", "thickness / slot in the table row before", "",
                                    plate->ratio[i - 1]);
    const double F_1 = dw_law_given(w, DW_WORK_DATA, "F_1", "factor there", "", plate->factor[i - 1]);
    const double t_2 =
        dw_law_given(w, DW_WORK_DATA, "t_2", "thickness / slot in the table row after", "", plate->ratio[i]);
    const double F_2 = dw_law_given(w, DW_WORK_DATA, "F_2", "factor there", "", plate->factor[i]);
    return DW_STEP(w, thick_factor, (F_1, F_2, t_s, t_1, t_2));
}

dw_status dw_damper_shelf(const dw_damper_setting *setting, const dw_damper_plate *plate, dw_working *w,
                          dw_damper_loss *result)
{
    const bool thick = plate != NULL && plate->thickness_m > 0.0 && plate->mouth_width_m > 0.0;
    if (!thick) return dw_damper_slide(setting, 0.0, w, result);
    const dw_status status = begin(setting, result);
    if (status != DW_OK) return status;
    if (plate->row_count < 2) return DW_ERR_DOMAIN;
    const double f = open_share(setting->open_frac, setting->leak_frac);
    (void)DW_STEP(w, slide_narrowing, (f));
    const double F_t = thick_share(plate, f, w);
    finish(setting, f,
           dw_law_step(w, "", NULL, NULL, &shelf_loss_law, setting->scale * F_t * slide_loss(f, 0.0)),
           f < LOWEST_PUBLISHED_FRAC || f > HIGHEST_PUBLISHED_FRAC, result);
    return DW_OK;
}

double dw_butterfly_open_frac(double angle_rad) { return 1.0 - sin(angle_rad); }

double dw_butterfly_angle_rad(double open_frac)
{
    if (!(open_frac >= 0.0 && open_frac <= 1.0)) return NAN;
    return plate_angle(open_frac);
}

dw_status dw_damper_butterfly(const dw_damper_setting *setting, const double *angle_rad,
                              const double *loss, int row_count, dw_working *w,
                              dw_damper_loss *result)
{
    dw_status status = begin(setting, result);
    if (status != DW_OK) return status;
    if (angle_rad == NULL || loss == NULL) return DW_ERR_ARG;
    if (row_count < 2) return DW_ERR_DOMAIN;
    status = check_rows(angle_rad, loss, row_count, 1.0);
    if (status != DW_OK) return status;
    const double last_rad = angle_rad[row_count - 1];
    if (!(angle_rad[0] >= 0.0 && last_rad <= BUTTERFLY_END_RAD * (1.0 + 1e-12) && loss[0] > 0.0)) {
        return DW_ERR_DOMAIN;
    }

    const double f = open_share(setting->open_frac, setting->leak_frac);
    const double f_75 = dw_butterfly_open_frac(BUTTERFLY_END_RAD);
    const bool past = f < f_75;
    double theta;
    if (past) {
        (void)dw_law_given(w, DW_WORK_DATA, "f_75", "open share at 75 deg", "", f_75);
        theta = DW_STEP(w, end_angle, (f_75));
    } else {
        theta = DW_STEP(w, plate_angle, (f));
    }
    /* Past the last row the last stretch goes on. */
    int i = 1;
    while (i < row_count - 1 && theta > angle_rad[i]) i++;
    const double th_1 = dw_law_given(w, DW_WORK_DATA, "th_1", "angle in the table row before", "rad",
                                     angle_rad[i - 1]);
    const double ze_1 = dw_law_given(w, DW_WORK_DATA, "ze_1", "loss there", "", loss[i - 1]);
    const double th_2 = dw_law_given(w, DW_WORK_DATA, "th_2", "angle in the table row after", "rad",
                                     angle_rad[i]);
    const double ze_2 = dw_law_given(w, DW_WORK_DATA, "ze_2", "loss there", "", loss[i]);
    double zeta;
    if (past) {
        const double ze_75 = DW_STEP(w, butterfly_end, (theta, th_1, ze_1, th_2, ze_2));
        zeta = DW_STEP(w, butterfly_beyond, (setting->scale, ze_75, f, f_75));
    } else {
        zeta = DW_STEP(w, butterfly_loss, (setting->scale, theta, th_1, ze_1, th_2, ze_2));
    }

    /* A hair of slack: an angle made from an open fraction must not fall outside by rounding. */
    const double slack = 1e-9;
    const double at = dw_butterfly_angle_rad(f);
    finish(setting, f, zeta, at < angle_rad[0] - slack || at > last_rad + slack, result);
    return DW_OK;
}

/* The stretch below the first row starts at f = 0 with nothing open. */
static double share_filled(double f, const double *open_frac, const double *loss, dw_working *w)
{
    int i = 0;
    while (f > open_frac[i]) i++;
    const double f_2 =
        dw_law_given(w, DW_WORK_INPUT, "f_2", "open share in the table row after", "", open_frac[i]);
    const double ze_2 = dw_law_given(w, DW_WORK_INPUT, "ze_2", "loss there", "", loss[i]);
    const double e_2 = DW_STEP(w, row_share, (ze_2));
    if (i == 0) return DW_STEP(w, share_below, (e_2, f, f_2));
    const double f_1 = dw_law_given(w, DW_WORK_INPUT, "f_1", "open share in the table row before", "",
                                    open_frac[i - 1]);
    const double ze_1 = dw_law_given(w, DW_WORK_INPUT, "ze_1", "loss there", "", loss[i - 1]);
    const double e_1 = DW_STEP_AS(w, "", "ze_2>ze_1 e_2>e_1", NULL, row_share, (ze_1));
    return DW_STEP(w, share_between, (e_1, e_2, f, f_1, f_2));
}

dw_status dw_damper_table(const dw_damper_setting *setting, const double *open_frac,
                          const double *loss, int row_count, dw_working *w, dw_damper_loss *result)
{
    dw_status status = begin(setting, result);
    if (status != DW_OK) return status;
    if (open_frac == NULL || loss == NULL) return DW_ERR_ARG;
    if (row_count < 1) return DW_ERR_DOMAIN;
    status = check_rows(open_frac, loss, row_count, -1.0);
    if (status != DW_OK) return status;
    const int last = row_count - 1;
    if (!(open_frac[0] > 0.0 && open_frac[last] <= 1.0 && loss[last] >= 0.0)) return DW_ERR_DOMAIN;

    const double f = open_share(setting->open_frac, setting->leak_frac);
    double zeta;
    if (f >= open_frac[last]) {
        const double ze_2 = dw_law_given(w, DW_WORK_INPUT, "ze_2",
                                         "loss in the last row of the damper's table", "", loss[last]);
        zeta = DW_STEP(w, last_row_loss, (setting->scale, ze_2));
    } else {
        zeta = DW_STEP(w, table_loss, (setting->scale, share_filled(f, open_frac, loss, w)));
    }
    finish(setting, f, zeta, f < open_frac[0] || f > open_frac[last], result);
    return DW_OK;
}
