#include "quench.h"

#include <math.h>

DW_LAW(frozen, "T_c", "temperature at which the composition is worked out", "K", "assumption",
       (double T_gas, double T_q), fmax(T_gas, T_q))
DW_LAW(blend_place, "t", "place between lean and rich, from 0 at phi 0.98 to 1 at 1.02", "", "assumption",
       (double phi), fmin(fmax((phi - 0.98) / 0.04, 0.0), 1.0))
DW_LAW(blend_share, "r", "share of rich gas in the temperature", "", "assumption", (double t),
       pow(t, 2.0) * (3.0 - 2.0 * t))
DW_LAW(blended, "T_c", "temperature at which the composition is worked out", "K", "assumption",
       (double T_lean, double T_rich, double r), T_lean + r * (T_rich - T_lean))

dw_quench dw_frozen_both(double gas_temperature_k, dw_quench quench, const char *lean_key, const char *rich_key,
                         dw_working *w)
{
    if (quench.lean_k == quench.rich_k) {
        const double one_k =
            dw_law_given(w, DW_WORK_INPUT, "T_q", "quench temperature, below which the reactions freeze", "K",
                         quench.lean_k);
        const double c = DW_STEP_FOR(w, DW_LAW_TEXT(w, "%s%s%s", lean_key, rich_key[0] != '\0' ? " " : "", rich_key),
                                     frozen, (gas_temperature_k, one_k));
        return (dw_quench){c, c};
    }
    const double lean_k =
        dw_law_given(w, DW_WORK_INPUT, "T_q", "quench temperature of lean gas, below which its reactions freeze",
                     "K", quench.lean_k);
    const double rich_k =
        dw_law_given(w, DW_WORK_INPUT, "T_qr", "quench temperature of rich gas", "K", quench.rich_k);
    dw_quench at;
    at.lean_k = DW_STEP_AS(w, lean_key, "T_c>T_lean",
                           "temperature at which the composition of lean gas is worked out", frozen,
                           (gas_temperature_k, lean_k));
    at.rich_k = DW_STEP_AS(w, rich_key, "T_c>T_rich T_q>T_qr",
                           "temperature at which the composition of rich gas is worked out", frozen,
                           (gas_temperature_k, rich_k));
    return at;
}

double dw_frozen_between_k(dw_quench at, double equivalence_ratio, const char *keys, dw_working *w)
{
    const double t = DW_STEP(w, blend_place, (equivalence_ratio));
    const double r = DW_STEP(w, blend_share, (t));
    return DW_STEP_FOR(w, keys, blended, (at.lean_k, at.rich_k, r));
}

double dw_frozen_mean_k(double gas_temperature_k, dw_quench quench, double equivalence_ratio, const char *keys,
                        dw_working *w)
{
    const bool one = quench.lean_k == quench.rich_k;
    const dw_quench at = dw_frozen_both(gas_temperature_k, quench, one ? keys : "", "", w);
    return one ? at.lean_k : dw_frozen_between_k(at, equivalence_ratio, keys, w);
}

dw_status dw_frozen_init(dw_frozen *f, const dw_gas_set *set, double gas_temperature_k, dw_quench quench)
{
    if (f == NULL || set == NULL) return DW_ERR_ARG;
    f->at = dw_frozen_both(gas_temperature_k, quench, "", "", NULL);
    const dw_status status = dw_gas_potentials_at(set, f->at.lean_k, &f->lean);
    if (status != DW_OK) return status;
    if (f->at.rich_k != f->at.lean_k) return dw_gas_potentials_at(set, f->at.rich_k, &f->rich);
    f->rich = f->lean;
    return DW_OK;
}

dw_status dw_frozen_at(const dw_frozen *f, const dw_gas_set *set, double equivalence_ratio,
                       dw_gas_potentials *scratch, const dw_gas_potentials **at)
{
    const double temperature_k = dw_frozen_between_k(f->at, equivalence_ratio, "", NULL);
    *at = temperature_k == f->at.lean_k ? &f->lean : temperature_k == f->at.rich_k ? &f->rich : scratch;
    return *at == scratch ? dw_gas_potentials_at(set, temperature_k, scratch) : DW_OK;
}
