#include "damper.h"

#include <math.h>
#include <stddef.h>

#include "constants.h"

#define LOWEST_PUBLISHED_FRAC 0.1
#define HIGHEST_PUBLISHED_FRAC 0.95
#define CONTRACTION_FACTOR 0.707
#define CONTRACTION_EXPONENT 0.375
#define BUTTERFLY_END_RAD (75.0 * DW_PI / 180.0)

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
    result->loss = setting->scale * loss;
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

static double slide_loss(double f, double downstream_ratio)
{
    const double spread = CONTRACTION_FACTOR * pow(1.0 - f, CONTRACTION_EXPONENT);
    const double excess = (1.0 + spread) / f - downstream_ratio;
    return excess * excess;
}

dw_status dw_damper_slide(const dw_damper_setting *setting, double downstream_ratio,
                          dw_damper_loss *result)
{
    const dw_status status = begin(setting, result);
    if (status != DW_OK) return status;
    if (!isfinite(downstream_ratio)) return DW_ERR_ARG;
    if (!(downstream_ratio >= 0.0 && downstream_ratio <= 1.0)) return DW_ERR_DOMAIN;
    const double f = fmax(setting->open_frac, setting->leak_frac);
    finish(setting, f, slide_loss(f, downstream_ratio),
           f < LOWEST_PUBLISHED_FRAC || f > HIGHEST_PUBLISHED_FRAC, result);
    return DW_OK;
}

double dw_butterfly_open_frac(double angle_rad) { return 1.0 - sin(angle_rad); }

double dw_butterfly_angle_rad(double open_frac)
{
    if (!(open_frac >= 0.0 && open_frac <= 1.0)) return NAN;
    return asin(1.0 - open_frac);
}

/** Log-linear between rows; the first loss below the first row, the last segment past the last. */
static double butterfly_rows(const double *angle, const double *loss, int count, double at)
{
    if (at <= angle[0]) return loss[0];
    int i = 1;
    while (i < count - 1 && at > angle[i])
        i++;
    const double share = (at - angle[i - 1]) / (angle[i] - angle[i - 1]);
    return loss[i - 1] * pow(loss[i] / loss[i - 1], share);
}

dw_status dw_damper_butterfly(const dw_damper_setting *setting, const double *angle_rad,
                              const double *loss, int row_count, dw_damper_loss *result)
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

    const double f = fmax(setting->open_frac, setting->leak_frac);
    const double end_frac = dw_butterfly_open_frac(BUTTERFLY_END_RAD);
    const double angle = dw_butterfly_angle_rad(fmax(f, end_frac));
    double zeta = butterfly_rows(angle_rad, loss, row_count, angle);
    if (f < end_frac) zeta *= slide_loss(f, 1.0) / slide_loss(end_frac, 1.0);

    /* A hair of slack: an angle made from an open fraction must not fall outside by rounding. */
    const double slack = 1e-9;
    const double at = dw_butterfly_angle_rad(f);
    finish(setting, f, zeta, at < angle_rad[0] - slack || at > last_rad + slack, result);
    return DW_OK;
}

/** Effective open share: the jet's cross-section over the flue's. */
static double effective_share(double loss) { return 1.0 / (1.0 + sqrt(loss)); }

dw_status dw_damper_table(const dw_damper_setting *setting, const double *open_frac,
                          const double *loss, int row_count, dw_damper_loss *result)
{
    dw_status status = begin(setting, result);
    if (status != DW_OK) return status;
    if (open_frac == NULL || loss == NULL) return DW_ERR_ARG;
    if (row_count < 1) return DW_ERR_DOMAIN;
    status = check_rows(open_frac, loss, row_count, -1.0);
    if (status != DW_OK) return status;
    const int last = row_count - 1;
    if (!(open_frac[0] > 0.0 && open_frac[last] <= 1.0 && loss[last] >= 0.0)) return DW_ERR_DOMAIN;

    const double f = fmax(setting->open_frac, setting->leak_frac);
    double zeta;
    if (f >= open_frac[last]) {
        zeta = loss[last];
    } else {
        /* The stretch below the first row starts at f = 0 with nothing open. */
        int i = 0;
        while (f > open_frac[i])
            i++;
        const double f0 = i > 0 ? open_frac[i - 1] : 0.0;
        const double e0 = i > 0 ? effective_share(loss[i - 1]) : 0.0;
        const double e1 = effective_share(loss[i]);
        const double e = e0 + (e1 - e0) * (f - f0) / (open_frac[i] - f0);
        const double excess = 1.0 / e - 1.0;
        zeta = excess * excess;
    }
    finish(setting, f, zeta, f < open_frac[0] || f > open_frac[last], result);
    return DW_OK;
}
