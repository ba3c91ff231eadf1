#ifndef DW_EQUILIBRIUM_H
#define DW_EQUILIBRIUM_H

/**
 * @file equilibrium.h
 * Chemical equilibrium of a kiln gas by minimum Gibbs energy on NASA-9 data.
 *
 * Layer: physics. No allocation, no state but what the caller holds.
 */

#include "elements.h"

enum { DW_GAS_MAX = DW_SPECIES_MAX };

/** Numbers that a gas brings into the balances: C, H, oxygen excess (O - 2 C - H/2), N, then the ten
 *  products of two of them, [k][m] with m <= k row by row. */
enum { DW_GAS_BASIS_COUNT = 4, DW_GAS_WEIGHT_COUNT = 14 };

/** The gases that the first guess and the reports know by name. */
typedef enum dw_role {
    DW_ROLE_CO2, DW_ROLE_H2O, DW_ROLE_CO, DW_ROLE_H2, DW_ROLE_O2, DW_ROLE_N2, DW_ROLE_AR,
    DW_ROLE_COUNT
} dw_role;

/** The gases that may form, with what does not depend on temperature. */
typedef struct dw_gas_set {
    const dw_species_table *table;  /**< borrowed                                          */
    int count;                      /**< gases in the set                                  */
    int species[DW_GAS_MAX];        /**< index in the table                                */
    double weight[DW_GAS_MAX][DW_GAS_WEIGHT_COUNT]; /**< basis, then its products, of each gas */
    int role[DW_ROLE_COUNT];        /**< positions of the gases with a part of their own      */
    int graphite;                   /**< index of C(gr) in the table; -1 if absent         */
    double split_k;                 /**< all gases change polynomials here; NaN: they do not */
    double coeff[2][DW_NASA9_COEFF_COUNT][DW_GAS_MAX]; /**< below and above it, gases side by side */
} dw_gas_set;

/** Standard potentials of the set at one temperature. */
typedef struct dw_gas_potentials {
    double temperature_k;
    double g_rt[DW_GAS_MAX];        /**< g0/(RT) of each gas at 1 bar                      */
    double graphite_g_rt;           /**< of C(gr); NaN if the table lacks it               */
} dw_gas_potentials;

enum { DW_GUESS_COUNT = DW_GAS_BASIS_COUNT + 1 };

/** What a search may begin with. */
typedef enum dw_equilibrium_start {
    DW_START_COLD,                  /**< nothing: with the first guess                     */
    DW_START_BESIDE,                /**< off: with the first guess and what it will be off by */
    DW_START_WARM                   /**< potential and gas_mol                             */
} dw_equilibrium_start;

/** A solved state. Also the starting guess of the next, as `start` says. */
typedef struct dw_equilibrium {
    double x[DW_GAS_MAX];           /**< mole fractions of the gas phase, order of the set */
    double potential[DW_GAS_BASIS_COUNT]; /**< of C(as CO2), H, oxygen excess, N, in RT          */
    double gas_mol;                 /**< moles of gas per unit of elements put in          */
    double graphite_mol;            /**< moles of solid carbon                             */
    double carbon_activity;         /**< of the gas, graphite = 1                          */
    double log10_po2_bar;
    int iterations;
    dw_equilibrium_start start;     /**< of the next search: warm, or cold beside graphite */
    double off[DW_GUESS_COUNT];     /**< solution minus first guess, of the potentials and the logarithm
                                         of the moles; 0 where the solution was found in another way */
} dw_equilibrium;

/** Collects the species marked in_equilibrium.
 *  @retval DW_ERR_INPUT the set lacks one of CO2 H2O CO H2 O2 N2 Ar. */
DW_MUST_CHECK
dw_status dw_gas_set_init(dw_gas_set *set, const dw_species_table *table);

/** Completes the weights of a gas from its basis. */
void dw_gas_weigh(const double basis[DW_GAS_BASIS_COUNT], double weight[DW_GAS_WEIGHT_COUNT]);

/** Potentials at a temperature, 200..6000 K. @retval DW_ERR_DOMAIN outside. */
DW_MUST_CHECK
dw_status dw_gas_potentials_at(const dw_gas_set *set, double temperature_k,
                               dw_gas_potentials *potentials);

/**
 * Equilibrium composition at given temperature and pressure.
 *
 * @param[in]     elements         C > 0, H > 0; total oxygen > 0; N and Ar >= 0.
 * @param[in]     pressure_pa_abs  > 0.
 * @param[in]     graphite         let solid carbon form where the gas alone would have a
 *                                 carbon activity above 1.
 * @param[in,out] state            guess in, solution out; x are NaN on failure.
 * @retval DW_OK               every element closes to 1e-12 relative.
 * @retval DW_ERR_ARG, DW_ERR_DOMAIN
 * @retval DW_ERR_NO_CONVERGE  never seen in tests; x are NaN.
 *
 * @par Holds when  ideal gases, reactions fast: not below about 800 degC (quench temperature).
 * @par Source      [nasa9]; element potentials after [rp1311].
 * @par Checked by  tests/reference/equilibrium_cea.csv, equilibrium.csv
 */
DW_MUST_CHECK
dw_status dw_equilibrium_solve(const dw_gas_set *set, const dw_gas_potentials *potentials,
                               const dw_elements *elements, double pressure_pa_abs, bool graphite,
                               dw_equilibrium *state);

#endif
