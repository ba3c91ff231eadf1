#ifndef DW_NETWORK_H
#define DW_NETWORK_H

/**
 * @file network.h
 * The kiln as a flow network: burners, openings, leak, flues, stack.
 *
 * Layer: point. No allocation, no state but what the caller holds.
 *
 * Two unknowns: chamber pressure p at the datum height and stack-base pressure p_s, both gauge
 * against room air at the same height. The density of the chamber gas is given; the loop around it
 * is in operating_point.c. With it fixed, the chamber balance falls steadily with p for every p_s,
 * and what the stack needs less what it gets falls steadily with p_s: two nested bracketed roots.
 *
 * Sign rules as in result.h: flows into the chamber are positive for burners and openings; a flue is
 * an opening whose "outside" is the stack base, so its flow as held here is negative when gas
 * leaves, and is turned round for the report.
 */

#include "stack.h"
#include "injector.h"
#include "jet.h"
#include "friction.h"
#include "kiln.h"
#include "moist_air.h"
#include "opening.h"
#include "operating_point.h"

/** Heat capacity ratio of compressed air at room temperature [recalled]. */
#define DW_AIR_HEAT_CAPACITY_RATIO 1.40

/** A burner entry made ready; flows are of all its pieces together. */
typedef struct dw_burner_law {
    bool lit, blown, open_when_unlit;
    double pieces;
    double height_m;
    double gas_kg_s;              /**< inspirating: does not see the chamber            */
    bool air_jet;                 /**< there is one of compressed air                   */
    double air_jet_kg_s;          /**< compressed air, likewise                         */
    bool choked, air_jet_choked;
    bool shutter_closed;
    dw_injector injector;         /**< inspirating, lit                                 */
    dw_jet_supply gas_jet;        /**< lit                                              */
    double gas_pressure_pa;       /**< at the jet                                       */
    double blown_area_m2;         /**< blown: restriction; NaN when the flow is given   */
    double blown_coeff;
    double blown_pressure_pa;
    double blown_flow_kg_s;
    double unlit_area_m2;         /**< effective, Cd = 1                                */
} dw_burner_law;

/** What flows through all pieces of a burner entry. */
typedef struct dw_burner_flow {
    double pressure_pa;           /**< in the chamber at the port                       */
    double gas_kg_s, gas_drive_pa;
    double air_jet_kg_s;
    double air_kg_s;              /**< but the air jet; unlit: negative outwards        */
    double air_drive_pa;          /**< unlit, inspirating: the chamber's, turned round  */
    double slope_kg_s_pa;         /**< of the air, by the chamber pressure              */
    bool reversed, choked;
} dw_burner_flow;

/** A flue entry made ready: a hole of coefficient 1/sqrt(loss), of the area of all its pieces. */
typedef struct dw_flue_law {
    double area_m2, coeff, height_m;
    bool outside_published, at_leak;
    double open_frac;
} dw_flue_law;

/** Gas that is read at a gauge before a loss of pressure; pressures gauge. */
typedef struct dw_gas_supply {
    bool lossy;                   /**< some lit burner hangs on it; else the rest is 0  */
    double gauge_pa;              /**< as read                                          */
    double running_kg_s;          /**< through all jets on it at the running pressure, lit or not */
    double loss_pa_s2_kg2;        /**< K                                                */
    double flow_kg_s;             /**< through the lit jets on it, now                  */
    double jet_pa;                /**< at those jets                                    */
} dw_gas_supply;

/** Everything that the unknowns do not change. */
typedef struct dw_network {
    const dw_kiln *kiln;          /**< resolved; borrowed                               */
    const dw_model *model;        /**< borrowed                                         */
    dw_moist_air air;             /**< one air everywhere: room air is outside air warmed */
    double x_air[DW_SPECIES_MAX]; /**< the same over the species table                  */
    bool room_saturated;
    double pressure_pa_abs;
    double rho_room_kg_m3, rho_out_kg_m3;
    double gas_temperature_k;     /**< of the chamber gas                               */
    double datum_m;
    double fuel_molar_mass_kg_mol;
    dw_gas_supply supply;
    dw_burner_law burner[DW_BURNER_MAX];
    dw_flue_law flue[DW_FLUE_MAX];
    bool has_stack;
    bool hood_gap;                /**< the stack ends in a gap in the room              */
    dw_stack_law stack;
    double base_height_m;
    double room_minus_far_pa;     /**< room minus outside at the stack base; 0 for a hood gap */
    double far_temperature_k;     /**< outside, or room for a hood gap                  */
    double far_density_kg_m3;
} dw_network;

/** What the chamber gas is in this round. */
typedef struct dw_chamber_gas {
    double molar_mass_kg_mol;
    const double *x;              /**< mole fractions over the table; used for mixing at the stack base */
} dw_chamber_gas;

/** Laws that hold the density: made anew for each round. */
typedef struct dw_network_at {
    const dw_network *net;
    dw_chamber_gas gas;
    double rho_kg_m3;
    dw_hole opening_hole[DW_OPENING_MAX];
    dw_crack opening_crack[DW_OPENING_MAX];
    dw_tall opening_tall[DW_OPENING_MAX];
    dw_joint opening_joint[DW_OPENING_MAX];
    dw_tall leak;
    dw_hole unlit[DW_BURNER_MAX];
    dw_hole flue[DW_FLUE_MAX];
    dw_hole relief;
    bool down;                    /**< the branch with the stack full of outside air    */
    /** What is added to the chamber and to the stack-base pressure after the subtractions that they go
     *  into: less than their own rounding, and 0 unless a flow turns on less than that. */
    double fine_pa, base_fine_pa;
} dw_network_at;

/** Sums at one pair of pressures. */
typedef struct dw_network_sums {
    double gas_kg_s, air_kg_s;    /**< fuel gas; fresh air into the chamber from all sides */
    double burner_air_kg_s;       /**< of it through burners: primary air               */
    double out_kg_s;              /**< chamber gas out of everything but flues          */
    double in_kg_s;               /**< everything that enters the chamber               */
    double net_kg_s;              /**< in minus out: zero when balanced                 */
    double net_slope_kg_s_pa;     /**< by the chamber pressure                          */
    double flue_out_kg_s;         /**< forward flues                                    */
    double flue_back_kg_s;        /**< reversed flues, >= 0                             */
    double relief_kg_s;           /**< room air into the stack base; negative: spilled  */
    double base_gas_frac;         /**< chamber gas / all that enters the stack base     */
    double base_temperature_k;    /**< of the mixture at the stack base                 */
} dw_network_sums;

/** A solved network. */
typedef struct dw_network_state {
    double pressure_pa;           /**< p; also the guess of the next solve              */
    double stack_base_pa;         /**< p_s; NaN without a stack                         */
    double gap_slope;             /**< of the stack's pressure balance by p_s, < 0; 0: not known. Roughly:
                                       how far the next solve looks for the root        */
    bool down;                    /**< the stack runs backwards                         */
    double stack_kg_s;            /**< upwards positive                                 */
    double base_residual_pa;      /**< what is left of the stack's pressure balance     */
    double base_left_kg_s;        /**< the same as a flow: what enters the base less what the stack
                                       carries at this pressure                         */
    dw_network_sums sums;
    dw_stack_state stack;
    int evaluations;              /**< of the chamber balance, this solve               */
} dw_network_state;

/**
 * Prepares the network of a resolved kiln.
 *
 * @param[out] reason  DW_REASON_SIZE bytes; why it cannot be.
 * @retval DW_OK, DW_ERR_DOMAIN
 */
DW_MUST_CHECK
dw_status dw_network_init(dw_network *net, const dw_model *model, const dw_kiln *kiln,
                          char *reason);

/** Takes the burners of net->kiln anew, or its dampers, and leaves the rest as it was set up: for settings
 *  that move nothing else. @retval DW_OK, DW_ERR_DOMAIN */
DW_MUST_CHECK
dw_status dw_network_take_burners(dw_network *net, char *reason);
DW_MUST_CHECK
dw_status dw_network_take_dampers(dw_network *net, char *reason);

/**
 * Pressure at the jets where the gauge sits before a loss, and the burners with it.
 *
 *     K = (p_static - p_running)/q_running^2,   p_jet = p_gauge - K q(p_jet)^2
 *
 * q_running is what all jets on the supply pass at the running pressure, burners that are off included; q what those
 * that are lit pass now. Burners with a gas_pressure of their own have it at their jets and are not on this supply:
 * their gas does not count. The root is the only one between 0 and p_gauge, since q rises with the pressure.
 *
 * @retval DW_OK          the burners are ready; where the gauge is at the jets nothing else happened.
 * @retval DW_ERR_DOMAIN  reason says why not.
 *
 * @par Holds when  the loss goes with the square of the flow (pipe, hose and valves in turbulent flow, a small share of
 *                  the absolute pressure); a regulator's droop does so roughly. q is that against the room's pressure.
 *                  dw_network_init() leaves the loss out: unlit valves that are opened have less of it.
 * @par Source      [supply-loss] derived
 * @par Checked by  tests/unit/point/test_network_supply.c
 */
DW_MUST_CHECK
dw_status dw_network_take_supply(dw_network *net, char *reason);

/** A burner's gas jet with its supply, at a gauge pressure of the jet. @retval as dw_jet_supply_init() */
DW_MUST_CHECK
dw_status dw_network_gas_jet(const dw_network *net, const dw_burner *burner, double gas_pressure_pa,
                             dw_jet_supply *jet);

/** The steps of a lossy supply: leaves p_jet. */
void dw_network_supply_write(const dw_network *net, dw_working *w);

/** Prepares a burner. @retval DW_OK, DW_ERR_ARG, DW_ERR_DOMAIN */
DW_MUST_CHECK
dw_status dw_network_burner_law(const dw_network *net, const dw_burner *burner, dw_burner_law *law);

/** The plain opening (Cd = 1) that one piece of a burner is when it is off; a step A_u for all n of them.
 *  given: the same burner, or for a working the one whose defaults are not filled in. */
double dw_network_unlit_area_m2(const dw_burner *burner, const dw_burner *given, dw_working *w);

/** Sets up the stack. @retval DW_OK, DW_ERR_ARG, DW_ERR_DOMAIN */
DW_MUST_CHECK
dw_status dw_network_take_stack(dw_network *net);

/** What it is made of, each with its steps: the air beside the stack, its height or that of the gap, its
 *  diameter, its losses but friction, and the room's pressure against what is beside the stack's base. */
void dw_network_far_air(const dw_network *net, dw_working *w, double *temperature_k,
                        double *density_kg_m3);
double dw_network_stack_height_m(const dw_network *net, dw_working *w);
double dw_network_stack_diameter_m(const dw_stack *stack, dw_working *w);
double dw_network_stack_losses(const dw_network *net, dw_working *w);
/** Heat that the stack loses for each kelvin, given or through its wall; NaN where it goes by transfer units.
 *  law: height, area and diameter count. Bare steel is taken with gas of a temperature that is known before the
 *  flows are: two thirds of the way from the outside to the chamber's gas, which is the mean of a stack that
 *  loses 0.9 transfer units [judgement]. A step UA of U, A_st, D_h and H_st; the working must have T_gas and
 *  T_top too. */
double dw_network_stack_ua_w_k(const dw_network *net, const dw_stack_law *law, dw_working *w);
/** What the wind adds to that; NaN where none is given, or nothing ends outside. A step p_wind. */
double dw_network_wind_pa(const dw_network *net, dw_working *w);
double dw_network_room_minus_far_pa(const dw_network *net, dw_working *w);

/** Prepares flue i and writes down the steps, of A_f and zeta. given: net->kiln, or for a working the kiln
 *  whose defaults are not filled in. @retval DW_OK, DW_ERR_DOMAIN */
DW_MUST_CHECK
dw_status dw_network_flue_law(const dw_network *net, const dw_kiln *given, int i, dw_working *w,
                              dw_flue_law *law);

/** Laws at a density of the chamber gas. @retval DW_OK, DW_ERR_DOMAIN */
DW_MUST_CHECK
dw_status dw_network_at_density(const dw_network *net, dw_chamber_gas gas, dw_network_at *at);

/** Sums at given pressures; stack_base_pa is ignored without a stack. */
void dw_network_evaluate(const dw_network_at *at, double pressure_pa, double stack_base_pa,
                         dw_network_sums *sums);

/** The same without the temperature at the stack base where two streams mix there: that takes longer than
 *  all the flows, and the chamber's balance needs it only for a reversed flue. */
void dw_network_flows(const dw_network_at *at, double pressure_pa, double stack_base_pa,
                      dw_network_sums *sums);

/** The temperature that dw_network_flows() leaves out. */
void dw_network_mix(const dw_network_at *at, dw_network_sums *sums);

/** Gauge pressure [Pa] inside the chamber at a height, from the one at the datum. */
static inline double dw_network_pressure_pa(const dw_network_at *at, double pressure_pa, double height_m)
{
    return dw_draft_pressure_at_pa(pressure_pa, at->net->rho_room_kg_m3, at->rho_kg_m3, height_m,
                                   at->net->datum_m) +
           at->fine_pa;
}

/** Flow of a burner entry, from the chamber pressure at the datum. */
void dw_network_burner(const dw_network_at *at, int i, double pressure_pa, dw_burner_flow *flow);

/** Flow of an opening at one height (hole, crack, level joint), from the chamber pressure at the datum; the
 *  pressure in the chamber there [Pa]. */
double dw_network_opening(const dw_network_at *at, int i, double pressure_pa, dw_opening_flow *flow);

/** Both flows of an upright opening (tall, upright joint) likewise, with its steps. */
void dw_network_upright(const dw_network_at *at, int i, double pressure_pa, const dw_tall_names *names,
                        dw_working *w, dw_tall_flow *flow);

/** Prepares opening i, a joint, with its steps. @retval DW_OK, DW_ERR_DOMAIN */
DW_MUST_CHECK
dw_status dw_network_joint(const dw_network_at *at, int i, dw_working *w, dw_joint *joint);

/** Pressure [Pa] just past a flue's damper, at the flue's height; 0 (the room) without a stack. */
double dw_network_flue_far_pa(const dw_network_at *at, double stack_base_pa, int flue, dw_working *w);

/** Share of fresh air in what comes back through a flue: without a stack, and from a stack full of air, all of it;
 *  otherwise what the relief opening brought. */
static inline double dw_network_fresh_frac(const dw_network *net, const dw_network_sums *sums)
{
    return net->has_stack ? 1.0 - sums->base_gas_frac : 1.0;
}

/** Flow of one flue, positive out of the chamber, and the pressure difference behind it. */
void dw_network_flue(const dw_network_at *at, double pressure_pa, double stack_base_pa,
                     const dw_network_sums *sums, int flue, double *mass_kg_s, double *drive_pa);

/** Molar mass [kg/mol] of chamber gas and air mixed, gas_frac by mass of chamber gas; a step M_b of y. */
double dw_network_mixed_molar_mass(const dw_network_at *at, double gas_frac, dw_working *w);

/** Heat capacity of the gas at the stack base. */
double dw_network_base_heat_capacity_j_kg_k(const dw_network_at *at, const dw_network_sums *sums);

/** Density of what comes back through a flue, and its symbol: room air without a stack, else what is at the
 *  stack base; a step rho_b of M_b and T_b where that is a mixture. */
double dw_network_far_density_kg_m3(const dw_network_at *at, const dw_network_sums *sums,
                                    const char **symbol, dw_working *w);

/** Chamber pressure for a given stack-base pressure: the inner root. Guess in, root out.
 *  @retval DW_OK
 *  @retval DW_ERR_DOMAIN       it would lie beyond 20 kPa.
 *  @retval DW_ERR_NO_CONVERGE  the search failed. */
DW_MUST_CHECK
dw_status dw_network_chamber(const dw_network_at *at, double stack_base_pa, double *pressure_pa,
                             dw_network_sums *sums, int *evaluations);

/** Base pressure that the stack needs for the flow in sums, less stack_base_pa: falls with
 *  stack_base_pa. stack may be NULL. */
double dw_network_stack_gap_pa(const dw_network_at *at, const dw_network_sums *sums,
                               double stack_base_pa, dw_stack_state *stack);

/**
 * Solves both balances at the density of `at`.
 *
 * A pressure's own rounding can be more than a balance may leave: where a flue is driven by a millionth
 * of the pressures on its two sides, or a stack loses a millionth of its draft. There the fine parts of `at`
 * hold what lies below it.
 *
 * @param[in,out] at     the branch is tried upward first and left as found; fine parts out.
 * @param[in,out] state  pressure_pa and stack_base_pa are guesses in (NaN: none), the solution out.
 * @param[out]    reason DW_REASON_SIZE bytes.
 * @retval DW_OK
 * @retval DW_ERR_NO_CONVERGE  reason says whether it is the kiln (the stack stalls, a pressure beyond
 *                             20 kPa) or the search that failed.
 */
DW_MUST_CHECK
dw_status dw_network_solve(dw_network_at *at, dw_network_state *state, char *reason);

/** Fills the flow table and the findings that belong to flows. */
void dw_network_report(const dw_network_at *at, const dw_network_state *state, dw_result *result);
/** The part of it that is about the stack; NaN without one. */
void dw_network_report_stack(const dw_network_at *at, const dw_network_state *state, dw_result *result);

/** Adds a finding; a full list keeps the first ones. */
void dw_result_find(dw_result *result, dw_finding_code code, int index, double value);

#endif
