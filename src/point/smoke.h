#ifndef DW_SMOKE_H
#define DW_SMOKE_H

/**
 * @file smoke.h
 * How much primary air a rich flame needs so as not to smoke, by its fuel: a judgement, not a law.
 *
 * Layer: point. No allocation, no state.
 */

#include "data.h"
#include "law.h"

/**
 * Share of the air needed [-] below which the flames of a rich kiln are called smoky.
 *
 *     limit = sum(x C limit of the gas) / sum(x C)
 *
 * over the gases that hold both carbon and hydrogen, C atoms of carbon in each: soot is made of their carbon. A
 * gas without a limit of its own has the general one, and so has a fuel without such gases.
 *
 * @param[in] w  NULL, or a working that gets the steps; keys are those of the limit.
 * @par Source      [judgement], config/bands.yaml.
 * @par Checked by  tests/unit/point/test_smoke.c
 */
double dw_smoke_limit(const dw_data *data, const dw_fuel *fuel, const char *keys, dw_working *w);

/** Whether a setting is called smoky. */
bool dw_smokes(const dw_sooting *rule, double aeration_limit, double equivalence_ratio, double primary_aeration,
               double gas_temperature_k);

#endif
