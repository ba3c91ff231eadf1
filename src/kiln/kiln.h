#ifndef DW_KILN_H
#define DW_KILN_H

/**
 * @file kiln.h
 * A kiln and an operating point, in SI, as plain values.
 *
 * Layer: kiln. A kiln is one flat struct without pointers: copying it is assignment, which
 * is what sweeps and samples do. Optional inputs whose default follows from others hold NaN
 * until dw_kiln_resolve() fills them; the resolved kiln is what the network sees.
 *
 * Heights are above the chamber floor. Pressures are gauge, against room air at the same
 * height. Areas are per piece; count says how many pieces.
 */

#include <stdbool.h>
#include <stddef.h>

#include "co_data.h"
#include "fuel_data.h"
#include "law.h"
#include "stack.h"

enum {
    DW_BURNER_MAX = 24,      /**< most burner entries                           */
    DW_OPENING_MAX = 40,     /**< most opening entries                          */
    DW_FLUE_MAX = 12,        /**< most flues                                    */
    DW_DAMPER_ROW_MAX = 16   /**< most rows of a user's damper table            */
};

/* Limits of what a person may type that are those of the laws too; kiln_keys.c makes texts of them. */
#define DW_ELEVATION_LOW_M -400
#define DW_ELEVATION_HIGH_M 5500
#define DW_STACK_BASE_LOW_M -5 /* a stack may begin below the floor of the chamber */
#define DW_CRACK_EXPONENT_LOW 0.5
#define DW_CRACK_EXPONENT_HIGH 1
#define DW_UNMIXEDNESS_HIGH 0.5
#define DW_QUENCH_LOW_K 900
#define DW_WIND_COEFF_HIGH 0.5
#define DW_QUENCH_HIGH_K 1500

/** Where the kiln stands and what air it breathes. */
typedef struct dw_site {
    double elevation_m;            /**< -400..5500; default 0                                     */
    double pressure_pa_abs;        /**< NaN: from elevation (standard atmosphere)                 */
    double air_temperature_k;      /**< default for room and outside; relative humidity is at it  */
    double relative_humidity;      /**< 0..1, at air_temperature_k                                */
    double outside_temperature_k;  /**< NaN: air_temperature_k                                    */
    double room_temperature_k;     /**< NaN: air_temperature_k                                    */
    double room_pressure_pa;       /**< room minus outside at the datum height; default 0         */
    double wind_speed_m_s;         /**< over the roof, steady; NaN: none                          */
} dw_site;

/** How the chamber is closed; the order is that of the words in kiln_keys.c. */
typedef enum dw_leak_kind {
    DW_LEAK_UNKNOWN,
    DW_LEAK_MUDDED,     /**< a door bricked up and mudded, or tight brick or castable all round  */
    DW_LEAK_DRY,        /**< a door bricked up dry, or a kiln of dry bricks                      */
    DW_LEAK_HINGED,     /**< a hinged or rolling door, clamped, fibre against fibre              */
    DW_LEAK_LID         /**< a lid, or a fibre drum set on the ground                            */
} dw_leak_kind;

typedef struct dw_chamber {
    double width_m, depth_m, height_m;   /**< inside                                              */
    double packed_frac;                  /**< share of the volume filled with ware and shelves    */
    double leak_area_m2;                 /**< NaN: leak_per_surface of the chamber's surface      */
    double leak_discharge_coeff;         /**< default 0.62                                        */
    double setting_loss;                 /**< of the setting, in heads of the speed of what leaves by the
                                              flues in width times depth; NaN: none               */
    dw_leak_kind leak_kind;              /**< sets leak_per_surface                               */
    double leak_per_surface;             /**< area / area; 0.001, which is 10 cm2 for each m2     */
} dw_chamber;

typedef enum dw_burner_kind { DW_BURNER_INSPIRATING, DW_BURNER_BLOWN } dw_burner_kind;

/** What a gas jet looks like on its gas side; the order is that of the words in kiln_keys.c. */
typedef enum dw_jet_kind {
    DW_JET_UNKNOWN,
    DW_JET_THIN,        /**< a hole in sheet thinner than half the hole                   */
    DW_JET_SHORT,       /**< a straight hole 0.5 to 1 bore long                           */
    DW_JET_PLUG,        /**< a straight hole 1 to 5 bores long, as drilled through a plug */
    DW_JET_DRILL_POINT, /**< a wide bore that ends in the cone of a drill                 */
    DW_JET_TAPER,       /**< a smooth cone and a short straight end                       */
    DW_JET_ROUNDED
} dw_jet_kind;

typedef struct dw_burner {
    char name[DW_NAME_SIZE];
    int count;                        /**< identical burners in this entry, 1..100                 */
    dw_burner_kind kind;
    bool lit;                         /**< default true                                            */
    bool plugged;                     /**< an unlit burner that lets no air in; default false      */
    bool gas_shared;                  /**< resolved: gas_pressure_pa is operating's, at its gauge  */
    bool jet_coeffs_given;            /**< those of the jet: its kind decides nothing              */
    double height_m;
    double gas_pressure_pa;           /**< at this jet; NaN: operating.gas_pressure_pa             */
    double air_pressure_pa;           /**< at this burner; NaN: operating.air_pressure_pa          */
    double jet_diameter_m;
    dw_jet_kind jet_kind;             /**< sets what is not given of the two coefficients          */
    double jet_discharge_coeff;       /**< default 0.85; NaN: a thin jet's, by its pressure        */
    double jet_velocity_coeff;        /**< Cv of the thrust, of an air jet's too; default 0.97     */
    double jet_thin_pa;               /**< gas pressure that a resolved coefficient of a thin jet
                                           was worked out for; NaN: it holds at any               */
    double throat_diameter_m;         /**< required when inspirating                               */
    double port_diameter_m;           /**< NaN: the throat's                                       */
    double shutter_open_frac;         /**< 0..1 of the full shutter; default 1                     */
    double shutter_area_m2;           /**< full shutter area; NaN: the one that gives inlet_loss   */
    double shutter_discharge_coeff;   /**< default 0.62, used with shutter_area_m2                 */
    double inlet_loss;                /**< zeta_in on throat speed with the shutter full; 0.5      */
    double throat_friction;           /**< zeta_f; default 0.18                                    */
    double diffuser_recovery;         /**< C_pd; default 0.40                                      */
    double port_loss;                 /**< zeta_p on port speed; default 1.6                       */
    double port_temperature_ratio;    /**< mixture at the port / room; default 1                   */
    double air_jet_diameter_m;        /**< compressed-air jet in the mixer; 0: none                */
    double air_jet_discharge_coeff;   /**< default 0.85                                            */
    double air_restriction_area_m2;   /**< blown: the known restriction in the air line; NaN: none */
    double air_restriction_coeff;     /**< its discharge coefficient; default 0.62                 */
    double air_flow_m3_s;             /**< blown: given flow at room conditions; NaN: none         */
} dw_burner;

typedef enum dw_opening_kind {
    DW_OPENING_HOLE,
    DW_OPENING_CRACK,
    DW_OPENING_TALL,
    DW_OPENING_JOINT
} dw_opening_kind;

typedef struct dw_opening {
    char name[DW_NAME_SIZE];
    dw_opening_kind kind;
    int count;                   /**< 1..1000                                               */
    double area_m2;              /**< each, when fully open; not of a joint                 */
    double open_frac;            /**< 0..1; default 1                                       */
    double height_m;             /**< hole, crack: middle; joint: NaN if upright            */
    double from_m, to_m;         /**< tall: lower and upper end; joint: NaN if level        */
    double width_m;              /**< joint: of the gap                                     */
    double depth_m;              /**< joint, hole: through the wall; hole: NaN if not given */
    double length_m;             /**< joint: of each; NaN: upright, to - from               */
    double discharge_coeff;      /**< not of a joint; default 0.62; NaN: a hole's, by its depth */
    double thin_coeff, deep_coeff; /**< hole: in a thin edge; through a wall as deep as it is wide */
    double exponent;             /**< crack: default 0.65                                   */
    double reference_pressure_pa;/**< crack: dp_ref, default 10 Pa                          */
    double burnt_frac;           /**< hole, tall: of CO that comes out; NaN: the room's, else
                                      physics/port_flame.h; likely figure alone            */
} dw_opening;

typedef enum dw_damper_kind {
    DW_DAMPER_SLIDE,
    DW_DAMPER_BUTTERFLY,
    DW_DAMPER_TABLE,
    DW_DAMPER_SHELF /**< a shelf or brick pushed over the mouth, with a wide space behind */
} dw_damper_kind;

typedef struct dw_damper {
    dw_damper_kind kind;
    double open_frac;            /**< open share of the flue's area, 0..1                   */
    double leak_frac;            /**< least open share of a real plate; default 0.01        */
    double scale;                /**< multiplies the loss; default 1, of a shelf 0.95       */
    double thickness_m;          /**< shelf: of the plate; NaN: thin                        */
    double mouth_width_m;        /**< shelf: of the mouth, the way it is pushed; NaN        */
    int row_count;               /**< table: rows used                                      */
    double row_open_frac[DW_DAMPER_ROW_MAX]; /**< table: rising                             */
    double row_loss[DW_DAMPER_ROW_MAX];      /**< table: zeta on full-flue speed, falling   */
} dw_damper;

/** How the gas gets from the setting into a flue; the order is that of the words in kiln_keys.c. */
typedef enum dw_floor_kind {
    DW_FLOOR_UNKNOWN,
    DW_FLOOR_FLUSH,     /**< straight into the flue's mouth                                 */
    DW_FLOOR_CHEQUER,   /**< through a chequer: several holes between bricks                */
    DW_FLOOR_UNDER      /**< through holes or flues in or under the floor, or a bag wall    */
} dw_floor_kind;

typedef struct dw_flue {
    char name[DW_NAME_SIZE];
    int count;      /**< identical flues in this entry, each with such a damper; 1..100 */
    double area_m2; /**< each                                                 */
    double height_m;               /**< middle of the flue's mouth in the chamber            */
    double entry_loss;             /**< zeta on flue speed; default 0.5                      */
    dw_floor_kind floor_kind;      /**< sets floor_loss where that is not given              */
    double floor_loss;             /**< zeta on flue speed, besides the mouth's; NaN: none   */
    bool floor_loss_given;         /**< its kind decides nothing                             */
    double downstream_area_m2;     /**< just past the damper; NaN: follows from the stack     */
    bool downstream_is_plenum;     /**< k = 0                                                */
    dw_damper damper;
} dw_flue;

/** What the wall of a stack is; the order is that of the words in kiln_keys.c. */
typedef enum dw_stack_wall {
    DW_WALL_UNKNOWN,
    DW_WALL_SINGLE_BRICK,
    DW_WALL_DOUBLE_BRICK,
    DW_WALL_INSULATING_BRICK,
    DW_WALL_STEEL_WITH_FIBRE,
    DW_WALL_BARE_STEEL
} dw_stack_wall;
enum { DW_WALL_POINT_MAX = 3 };

typedef struct dw_stack {
    bool present;
    double height_m;               /**< top above its base                                   */
    double area_m2;                /**< inside                                               */
    bool round;                    /**< section; default square                              */
    double base_height_m;          /**< z_base above the chamber floor; NaN: lowest flue      */
    double roughness_m;            /**< from lining: brick 3 mm, steel 0.1 mm ...            */
    double bend_count;             /**< 90-degree turns counted on stack area; default 1     */
    double bend_loss;              /**< each; default 1.2                                    */
    double cap_loss;               /**< default 0 (open top)                                 */
    double exit_loss;              /**< default 1                                            */
    double relief_area_m2;         /**< draft relief opening at the base; default 0          */
    double relief_discharge_coeff; /**< default 0.62                                         */
    double heat_loss_ntu;          /**< default 0.35; NaN when ua or a wall is given         */
    double heat_loss_ua_w_k;       /**< NaN: use NTU                                         */
    dw_stack_wall wall;            /**< known: gives the heat loss in place of NTU and UA    */
    int wall_point_count;          /**< of a known wall, from its kind: 1, or more by gas temperature */
    dw_stack_wall_point wall_point[DW_WALL_POINT_MAX];
    double hood_gap_height_m;      /**< open gap this far above the base; NaN: none          */
    double wind_coeff;             /**< of the top, see draft.h; NaN, with a wind -0.3       */
} dw_stack;

/** Where the gas pressure is read. */
typedef enum dw_gauge { DW_GAUGE_JET, DW_GAUGE_MANIFOLD } dw_gauge;

typedef struct dw_operating {
    double gas_pressure_pa;          /**< at the gauge                                       */
    dw_gauge gauge;                  /**< default at the jets                                */
    double gauge_end_pa;             /**< end of the dial's scale, for check alone; NaN      */
    double supply_static_pa;         /**< all burners shut; NaN                              */
    double supply_running_pa;        /**< at the jets with all burners lit; NaN              */
    double gas_temperature_k;        /**< NaN: room                                          */
    double air_pressure_pa;          /**< at blown burners and air jets; default 0           */
    double chamber_temperature_k;    /**< thermocouple reading                               */
} dw_operating;

/** A default, and the range that it may be off in. */
typedef struct dw_usual {
    double middle, low, high;
} dw_usual;

/** Quench temperatures [K] where none is given. */
extern const dw_usual dw_quench_usual_lean, dw_quench_usual_rich;

/** Settings of the model itself. */
typedef struct dw_settings {
    double unmixedness;              /**< s, relative spread of the mixture; default 0.05    */
    double quench_temperature_k;     /**< of lean gas; NaN: dw_quench_usual_lean            */
    double quench_temperature_rich_k; /**< of rich gas; NaN: the lean one that was given, else
                                          dw_quench_usual_rich                               */
    double gas_minus_reading_dk;     /**< gas hotter than the thermocouple; default 0        */
    bool graphite;                   /**< allow solid carbon in the equilibrium; default no  */
} dw_settings;

/** Activity of the person in the room; the last takes the worst of all. */
typedef enum dw_room_activity {
    DW_ROOM_REST = DW_ACTIVITY_REST,
    DW_ROOM_LIGHT = DW_ACTIVITY_LIGHT,
    DW_ROOM_HEAVY = DW_ACTIVITY_HEAVY,
    DW_ROOM_ANY_ACTIVITY
} dw_room_activity;

/** The room around the kiln, its ventilation, and who is in it. */
typedef struct dw_room {
    bool present;
    double volume_m3;
    double ventilation_m3_s;        /**< natural; NaN: from air_changes_per_hour                   */
    double air_changes_per_hour;    /**< NaN: ventilation_m3_s is given                            */
    double exhaust_fan_m3_s;        /**< at no pressure difference; default 0                      */
    double exhaust_fan_pressure_pa; /**< at which the fan moves nothing; default 150 Pa            */
    double make_up_area_m2;         /**< openings made to let air in; default 0                    */
    double leak_area_m2;            /**< cracks of the room; NaN: what gives the natural ventilation at 4 Pa */
    double hood_capture_frac;       /**< of all that leaves the kiln; default 0                    */
    double burnt_frac;              /**< of CO, at holes and flue mouths, likely figure alone; NaN:
                                         physics/port_flame.h                                  */
    double outside_co_ppm;          /**< default 1                                                 */
    double duration_s;              /**< how long the state lasts with people there; NaN: a firing day of
                                         12 h, or 24 h where somebody lives                        */
    bool dwelling;                  /**< somebody lives or sleeps above or beside the kiln; default no */
    dw_room_activity activity;
    bool smoker;
    double person_height_m, person_mass_kg; /**< NaN: a mean adult                                 */
    bool female;                    /**< default true: less blood, so more carboxyhaemoglobin      */
    bool other_flued_appliance;     /**< default true                                              */
    double corner_volume_m3;        /**< where gas collects; default 1                             */
    double wind_coeff;              /**< of the room, see draft.h; NaN, with a wind 0              */
    double purge_fan_m3_s;          /**< NaN: none                                                 */
} dw_room;

typedef struct dw_kiln {
    char name[DW_NAME_SIZE];
    dw_site site;
    dw_fuel fuel;
    dw_chamber chamber;
    int burner_count;
    dw_burner burner[DW_BURNER_MAX];
    int opening_count;
    dw_opening opening[DW_OPENING_MAX];
    int flue_count;
    dw_flue flue[DW_FLUE_MAX];
    dw_stack stack;
    dw_operating operating;
    dw_settings settings;
    dw_room room;
} dw_kiln;

/** A kiln with every default that has a fixed value; what follows from others is NaN, what
 *  must be given is NaN or 0. No burners, openings or flues, no stack. */
void dw_kiln_init(dw_kiln *kiln);

/** The same for one burner, opening, flue. */
void dw_burner_init(dw_burner *burner);
void dw_opening_init(dw_opening *opening);
void dw_flue_init(dw_flue *flue);

/** True of an opening that extends over a height: tall, or an upright joint. */
bool dw_opening_is_upright(const dw_opening *opening);

/** Where a hole of known depth is between a thin edge (0) and a port through a wall (1): linear from a depth of
 *  half its width to one of its width, which is that of a round hole of its area. 0 without a depth. */
double dw_opening_depth_share(const dw_opening *opening);

/** Area of all flues together [m2]. */
double dw_kiln_flue_area_m2(const dw_kiln *kiln);

/** Height of the datum: the lowest burner, or the floor when there is none [m]. */
double dw_kiln_datum_height_m(const dw_kiln *kiln);

/** Inside surface of the chamber: walls, floor and roof [m2]. */
double dw_chamber_surface_m2(const dw_chamber *chamber);

/** A stack that ends outside: in the weather. */
bool dw_kiln_ends_outside(const dw_kiln *kiln);

/** Heat loss by UA, given or of a known wall, and not by transfer units. */
bool dw_stack_loses_by_ua(const dw_stack *stack);

/** Volume of the empty chamber [m3]. */
double dw_chamber_volume_m3(const dw_chamber *chamber, dw_working *w);

/**
 * What an input is that was given, or what it is by default. A working, where there
 * is one, gets the steps; keys are those of the report, see dw_work_step.
 */
double dw_kiln_leak_area_m2(const dw_kiln *kiln, dw_working *w);
double dw_opening_discharge_coeff(const dw_opening *opening, dw_working *w);
double dw_kiln_pressure_pa_abs(const dw_kiln *kiln, const char *keys, dw_working *w);
double dw_room_ventilation_m3_s(const dw_room *room, dw_working *w);
double dw_room_leak_area_m2(const dw_room *room, double ventilation_m3_s, dw_working *w);

/**
 * Discharge coefficient of the gas jet of a resolved burner at a pressure, which matters for thin jets alone:
 * what resolving gave, times how the law of thin jets moves from there. The pressure behind the jet is that of
 * the air here: a few pascals in the chamber are nothing beside it.
 */
double dw_burner_jet_discharge(const dw_burner *b, double gas_pressure_pa, double air_pa_abs);

/** The mixing tube of an inspirating burner. */
typedef struct dw_burner_tube {
    double throat_m2;
    double kappa_m, kappa_a;   /**< see injector.h; kappa_a minus infinity: closed           */
    bool closed;               /**< the shutter lets no air in                               */
} dw_burner_tube;

/** b is resolved; given: the same burner, or for a working the one whose defaults are not filled in. The steps end with the
 *  full shutter where it is closed. */
dw_burner_tube dw_burner_tube_of(const dw_burner *b, const dw_burner *given, bool lit, dw_working *w);

/** k = flue area / area just past its damper, 0..1; 0 for an open space, which follows too where nothing is
 *  given and there is no stack. Default: all flues / stack, at most 1, the same for each flue. */
double dw_flue_downstream_ratio(const dw_kiln *kiln, const dw_flue *flue, dw_working *w);

/**
 * Fills every NaN that follows from other inputs.
 * Idempotent. Never changes a value that was given.
 */
void dw_kiln_resolve(dw_kiln *kiln);

/**
 * Looks for what makes a resolved kiln meaningless: no burner lit, a flue wider than..., a
 * height above the roof, areas of zero, mixture that does not burn, shares outside 0..1.
 *
 * @param[in]  kiln      resolved; not NULL.
 * @param[in]  table     species table the fuel refers to.
 * @param[out] message   one line naming the first fault by its key path; "" when sound.
 * @param[in]  size      of message.
 * @retval DW_OK         may be solved.
 * @retval DW_ERR_DOMAIN may not; message says why.
 */
DW_MUST_CHECK
dw_status dw_kiln_check(const dw_kiln *kiln, const dw_species_table *table, char *message,
                        size_t size);

#endif
