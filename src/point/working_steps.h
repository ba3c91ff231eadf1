#ifndef DW_WORKING_STEPS_H
#define DW_WORKING_STEPS_H

/**
 * @file working_steps.h
 * The parts of the working of an operating point, in the order they are written.
 *
 * Layer: point. Not for others: see working_point.h. The symbols that parts share are named where
 * they are put in; each part says which it leaves behind.
 */

#include "solved_point.h"
#include "working_parts.h"

/** A solved point on its way into a working. All borrowed. */
typedef struct dw_work_point {
    dw_working *w;
    const dw_model *model;
    const dw_kiln *given;      /**< as read: NaN where something is derived              */
    const dw_solved *solved;
    const dw_result *result;
} dw_work_point;

/* Leaves: p_air R T_room T_out x_w M_dry M_w M_air rho_room rho_out g */
void dw_work_air(const dw_work_point *p);

/* Leaves: M_f n_O2 need lhv hhv k_f T_f rho_f, C_f H_f N_f atoms a mole, h_CO2 h_H2O */
void dw_work_fuel(const dw_work_point *p);

/* Leaves: T_gas M_gas rho_gas grad z_0 p */
void dw_work_chamber(const dw_work_point *p);

void dw_work_burners(const dw_work_point *p);

/** One jet of gas ('g') or compressed air ('a'), from p_1 to p_2; leaves m_ and the letter. discharge: NaN when
 *  Cd_ and the letter are there already. */
void dw_work_jet(const dw_work_point *p, char letter, const char *what, double diameter_m,
                 double discharge);

/** A_u: all pieces (n) of burner number i as plain holes, nothing burning. */
void dw_work_unlit_area(const dw_work_point *p, int i);
void dw_work_openings(const dw_work_point *p);

/* Leaves: p_s where there is a stack */
void dw_work_flues(const dw_work_point *p);
void dw_work_stack(const dw_work_point *p);

/* Leaves: m_gas m_air phi */
void dw_work_flows(const dw_work_point *p);

/** The table of all flows alone, and the balance that p closes: columns in out fuel air prim flue room. */
void dw_work_flow_table(const dw_work_point *p);

/** Symbol of the step that gives a flow, and whose it is; "" for leaks and the relief opening. */
const char *dw_work_flow_symbol(const dw_work_point *p, const dw_flow *flow);
const char *dw_work_flow_name(const dw_work_point *p, const dw_flow *flow);

/* Leaves: the table of gases with x and x_dry, z, and x_CO x_CO2 x_H2 x_H2O of the wet gas */
void dw_work_gas(const dw_work_point *p);
void dw_work_oxygen(const dw_work_point *p);

/* Oxygen and T_gas must be there. */
void dw_work_oxides(const dw_work_point *p);
void dw_work_heat(const dw_work_point *p);
void dw_work_slopes(const dw_work_point *p);

/** "flows.3.mass_kg_s" for a flow of this kind and index, "" when the report has none. */
const char *dw_work_flow_key(const dw_work_point *p, dw_flow_kind kind, int index,
                             const char *field);

/** The flow itself; NULL when the report has none. */
const dw_flow *dw_work_flow(const dw_work_point *p, dw_flow_kind kind, int index);

/** Molar enthalpy [J/mol] of a species at a temperature; NaN when there is none. */
double dw_work_enthalpy_j_mol(const dw_work_point *p, int species, double temperature_k);

#endif
