#ifndef DW_RESULT_H
#define DW_RESULT_H

/**
 * @file result.h
 * What an operating point is found to be. Filled by operating_point.c, read by writers.
 *
 * Layer: point. Plain values; SI. When solved is false, only reason and the counters mean
 * anything and nothing of it may be printed as a number.
 *
 * Sign rules. Flows: positive into the chamber for burners and openings, positive out of the
 * chamber for flues, positive up for the stack, positive into the stack base for the relief
 * opening. Pressures: gauge, against room air at the same height. Drafts: positive when they
 * pull.
 */

#include <stdbool.h>

#include "kiln.h"

/** Kinds of things that gas flows through. */
typedef enum dw_flow_kind {
    DW_FLOW_GAS_JET,       /**< fuel gas of a burner entry                          */
    DW_FLOW_AIR_JET,       /**< compressed air into an inspirating burner           */
    DW_FLOW_PRIMARY_AIR,   /**< induced or blown air of a burner entry              */
    DW_FLOW_UNLIT_BURNER,  /**< through an open burner that is off                  */
    DW_FLOW_OPENING,       /**< hole or crack, one direction                        */
    DW_FLOW_TALL_IN,       /**< drawn in by the lower part of a tall opening        */
    DW_FLOW_TALL_OUT,      /**< pushed out by its upper part                        */
    DW_FLOW_LEAK_IN,       /**< the chamber's general leak, lower part              */
    DW_FLOW_LEAK_OUT,      /**< the same, upper part                                */
    DW_FLOW_FLUE,
    DW_FLOW_RELIEF,        /**< room air into the stack base                        */
    DW_FLOW_STACK
} dw_flow_kind;

enum {
    DW_FLOW_MAX = 3 * DW_BURNER_MAX + 2 * DW_OPENING_MAX + 2 + DW_FLUE_MAX + 2,
    DW_FINDING_MAX = 48,
    DW_REASON_SIZE = 160
};

/** One line of the flow table. */
typedef struct dw_flow {
    dw_flow_kind kind;
    int index;            /**< of the burner, opening or flue in the kiln; -1 for the rest  */
    double mass_kg_s;     /**< all pieces together; sign rule above                         */
    double height_m;      /**< where it enters or leaves (middle of the stretch)            */
    double dp_pa;         /**< driving pressure difference in the flow's direction          */
} dw_flow;

/** What can be found at an operating point. One list: name, grade, code. */
#define DW_FINDING_LIST(X)                                                                       \
    X(DW_FIND_BURNER_PUSHED_BACK, DW_HAZARD, "burner-pushed-back")   /* value: dp at it, Pa    */ \
    X(DW_FIND_POSITIVE_AT_OPENING, DW_HAZARD, "positive-at-opening") /* value: pressure, Pa    */ \
    X(DW_FIND_SPILL, DW_HAZARD, "spill")                             /* value: kg/s            */ \
    X(DW_FIND_SPILL_BURNT, DW_NOTE, "spill-burnt")                   /* value: kg/s            */ \
    X(DW_FIND_FLUE_SPILL, DW_HAZARD, "flues-into-room")              /* value: kg/s            */ \
    X(DW_FIND_FLUE_SPILL_BURNT, DW_NOTE, "flues-into-room-burnt")    /* value: kg/s            */ \
    X(DW_FIND_RELIEF_SPILLS, DW_HAZARD, "relief-spills")             /* value: kg/s            */ \
    X(DW_FIND_STACK_REVERSED, DW_HAZARD, "stack-reversed")           /* value: kg/s            */ \
    X(DW_FIND_FLUE_REVERSED, DW_HAZARD, "flue-reversed")             /* value: kg/s            */ \
    X(DW_FIND_UNBURNT_GAS, DW_HAZARD, "unburnt-gas")                 /* value: phi             */ \
    X(DW_FIND_COLD_CHAMBER, DW_HAZARD, "cold-chamber")               /* value: K; may not burn */ \
    X(DW_FIND_CANDLING, DW_WARNING, "cold-chamber-oxidizing")        /* value: K; lean and cold */ \
    X(DW_FIND_SOOTING, DW_HAZARD, "sooting")                         /* value: phi             */ \
    X(DW_FIND_COLD_STACK_START, DW_WARNING, "cold-stack-may-not-start") /* no value            */ \
    X(DW_FIND_DAMPER_RANGE, DW_WARNING, "damper-outside-range")      /* value: open fraction   */ \
    X(DW_FIND_DAMPER_LEAK, DW_NOTE, "damper-at-leak")                /* value: leak fraction   */ \
    X(DW_FIND_JET_CHOKED, DW_NOTE, "jet-choked")                     /* value: pressure, Pa    */ \
    X(DW_FIND_QUENCHED, DW_NOTE, "reactions-frozen")                 /* value: quench K        */ \
    X(DW_FIND_MOIST_AIR_RANGE, DW_WARNING, "moist-air-outside-range") /* value: K              */ \
    X(DW_FIND_GRAPHITE, DW_WARNING, "solid-carbon")                  /* value: mol/kg          */ \
    X(DW_FIND_CLOSURE, DW_WARNING, "closure")                        /* value: residual        */ \
    X(DW_FIND_SHUTTER_CLOSED, DW_NOTE, "shutter-closed")             /* no value               */ \
    X(DW_FIND_SATURATED_ROOM, DW_NOTE, "room-air-saturated")         /* value: humidity        */ \
    X(DW_FIND_SUPPLY_LOSS, DW_NOTE, "pressure-at-jets")              /* value: pressure, Pa    */

#define DW_FINDING_AS_ENUM(name, grade, code) name,
typedef enum dw_finding_code { DW_FINDING_LIST(DW_FINDING_AS_ENUM) DW_FINDING_CODE_COUNT } dw_finding_code;
#undef DW_FINDING_AS_ENUM

/** One thing found, as numbers; words are made when it is written (report/finding_text.c). */
typedef struct dw_finding {
    dw_finding_code code;
    int index;      /**< of the burner, opening or flue it is about; -1: the whole kiln */
    double value;   /**< see the list                                                   */
} dw_finding;

/** Where the neutral plane is. */
typedef enum dw_neutral { DW_NEUTRAL_INSIDE, DW_NEUTRAL_ALL_IN, DW_NEUTRAL_ALL_OUT } dw_neutral;

/** Gas composition in mole fractions over the species table, and its molar mass. */
typedef struct dw_gas {
    double x[DW_SPECIES_MAX];
    double molar_mass_kg_mol;
} dw_gas;

typedef struct dw_result {
    bool solved;
    char reason[DW_REASON_SIZE];       /**< why not solved; "" when solved                     */

    /* air and fuel */
    double air_ratio;                  /**< lambda, all air that entered the chamber           */
    double equivalence_ratio;          /**< phi = 1/lambda                                     */
    double primary_aeration;           /**< burner air / stoichiometric air                    */
    double stoichiometric_air_kg_kg;   /**< of the moist air that entered, per kg of fuel gas  */
    double gas_flow_kg_s;
    double air_flow_kg_s;              /**< all air into the chamber, moist                    */
    double heat_input_net_w;           /**< net (25 degC) x gas flow                           */
    double heat_input_gross_w;

    /* pressures and draft */
    double pressure_datum_pa;
    double datum_height_m;
    double pressure_floor_pa;
    double pressure_top_pa;
    dw_neutral neutral;
    double neutral_plane_m;            /**< NaN unless neutral is DW_NEUTRAL_INSIDE             */
    bool has_stack;
    double draft_theoretical_pa;       /**< (rho_out - rho_stack) g H; 0 without a stack       */
    double draft_stack_base_pa;        /**< -p_s; NaN without a stack                          */
    double draft_flue_exit_pa;         /**< just past the first flue; NaN without a stack      */
    double draft_floor_pa;             /**< -pressure_floor_pa                                 */
    double draft_top_pa;               /**< -pressure_top_pa                                   */
    double wind_pressure_pa;           /**< of the wind on the room less that on the stack's top, > 0 when it helps
                                            the draft; NaN without a wind or a stack that ends outside */
    double stack_mean_temperature_k;   /**< NaN without a stack                                */
    double stack_base_temperature_k;   /**< NaN without a stack                                */
    double flue_flow_kg_s;             /**< all flues                                          */
    double stack_flow_kg_s;            /**< NaN without a stack                                */
    double spill_kg_s;                 /**< chamber and flue gas that leaves into the room other than by a flue without stack */
    double room_opening_kg_s;          /**< kiln gas into the room by openings: cracks, ports, spyholes, gaps, unlit
                                            burners, and the relief opening of a stack that ends outside   */
    double room_flue_kg_s;             /**< by flues that end in the room: no stack, or a gap under a hood;
                                            what a relief opening before the gap lets out is part of it    */

    int flow_count;
    dw_flow flow[DW_FLOW_MAX];

    /* gas in the chamber */
    double gas_temperature_k;          /**< reading + gas_minus_reading                        */
    double composition_temperature_k;  /**< of the mean gas: max(gas temperature, quench temperature) */
    dw_gas gas_wet;                    /**< averaged over the unmixed parcels                  */
    dw_gas gas_dry;                    /**< the same without water                             */
    dw_gas gas_mean;                   /**< mean elements in equilibrium (sets density)        */
    double unmixedness;
    double reducing_frac;              /**< (CO+H2)/(CO+H2+CO2+H2O)                            */
    double co_co2_ratio;
    double h2_h2o_ratio;
    double log10_po2_bar;              /**< mean elements at the gas temperature               */
    double probe_emf_v;                /**< against dry air at the site's pressure             */
    double carbon_activity;            /**< of the mean gas, graphite = 1                      */
    int band;                          /**< index into dw_data.band                            */
    double smoke_aeration;             /**< primary aeration below which a flame this rich smokes */
    bool sooting;

    /* steepness; total derivatives along the operating point */
    double dphi_ddamper;               /**< per unit of open fraction, all flues together      */
    double dphi_dgas_pressure_per_pa;

    /* where the heat goes, W; net basis at 25 degC */
    double heat_released_w;            /**< net heat input less what leaves unburnt            */
    double heat_unburnt_w;             /**< chemical heat of the gas that leaves               */
    double heat_sensible_w;            /**< sensible heat of the gas that leaves the chamber   */
    double heat_to_kiln_w;             /**< the rest: ware, shelves, walls; may be negative    */

    /* closures */
    double closure_mass;               /**< worst node: |sum| / everything that enters         */
    double closure_element[DW_ELEMENT_COUNT]; /**< (in - out)/in, each element                 */
    double closure_energy;             /**< (in - out - to kiln) / net heat input, or the heat
                                            of the gas where that is more                       */

    /* solver */
    int density_rounds;
    int pressure_steps;                /**< evaluations of the chamber balance                 */
    double worst_residual_kg_s;        /**< of the node balances                               */

    int finding_count;
    dw_finding finding[DW_FINDING_MAX];
} dw_result;

#endif
