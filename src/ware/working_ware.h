#ifndef DW_WORKING_WARE_H
#define DW_WORKING_WARE_H

/**
 * @file working_ware.h
 * The working of what the gas means for the ware: boundaries of oxides, parcels, iron in glazes.
 *
 * Layer: ware. Adds to a working; see working.h. The keys of the steps are those of `oxides`.
 */

#include "solved_point.h"
#include "ware_detail.h"
#include "ware_given.h"
#include "working_parts.h"

/** From here on keys of an operating point go by their names in `oxides`; a gas too cold for oxygen
 *  figures (not given) has its temperature there and no more. */
void dw_work_rename_to_oxides(dw_working *w, bool given);

/** Adds the constants of CO2 = CO + O2/2 and H2O = H2 + O2/2 at a temperature: K_1 and K_2, and F. */
void dw_work_oxygen_constants(const dw_model *model, double temperature_k, dw_working *w);

/** Begins with a temperature and an oxygen that were given, without a kiln, and goes on to the gas that
 *  has it. @retval DW_OK, or as dw_equilibrium_solve() */
DW_MUST_CHECK
dw_status dw_working_ware_given(const dw_model *model, const dw_ware *ware,
                                const dw_ware_given *given, const dw_matched_gas *gas,
                                dw_working *w);

/**
 * Adds what follows from the oxygen of the mean gas: ratios, every boundary, the distance of each
 * metal to the nearest.
 *
 * Needs T_gas R F p_air lg_pO2 K_1 K_2: from dw_working_point_solved() or dw_working_ware_given().
 */
void dw_working_ware(const dw_model *model, const dw_ware *ware, const dw_ware_boundary *boundary,
                     int count, dw_working *w);

/**
 * Adds the leaner and the richer parcels, the richest twentieth, and gas and burner air alone.
 *
 * @param[in] solved  of dw_working_point_solved() into the same working.
 * @retval DW_OK, or as dw_equilibrium_solve().
 */
DW_MUST_CHECK
dw_status dw_working_ware_parcels(const dw_model *model, const dw_solved *solved,
                                  const dw_ware *ware, dw_working *w);

/** Adds the ferrous share of the iron of each glaze that is given. In parcels: after
 *  dw_working_ware_parcels(). */
void dw_working_glazes(const dw_ware *ware, const dw_ware_glaze *glaze, size_t count,
                       dw_working *w);

#endif
