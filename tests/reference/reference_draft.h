#ifndef DW_TEST_REFERENCE_DRAFT_H
#define DW_TEST_REFERENCE_DRAFT_H

/**
 * @file reference_draft.h
 * What the two files of flow adaptors share.
 */

#include "constants.h"
#include "reference.h"

#define M_AIR_TABLE 28.9647e-3 /* molar mass of air behind the check tables */
#define PA_PER_INWC 249.089

static inline double ref_square(double x) { return x * x; }

static inline double ref_circle_m2(double diameter_m)
{
    return 0.25 * DW_PI * ref_square(diameter_m);
}

/** Incompressible flow through a hole, in the direction of dp > 0; NaN when refused. */
double ref_hole_mass(double area_m2, double cd, double rho_kg_m3, double dp_pa);

double ref_draft_theoretical(const ref_row *row);
double ref_draft_missed(const ref_row *row);
double ref_friction_factor(const ref_row *row);
double ref_air_viscosity(const ref_row *row);
double ref_duct_friction(const ref_row *row);
double ref_stack_base(const ref_row *row);
double ref_stack_mean_temperature(const ref_row *row);
double ref_shelf_factor(const ref_row *row);
double ref_wind(const ref_row *row);
double ref_stack_ntu(const ref_row *row);
double ref_stack_wall_ua(const ref_row *row);
double ref_available_draft(const ref_row *row);
double ref_slide_loss(const ref_row *row);
double ref_default_loss(const ref_row *row);
double ref_butterfly_open(const ref_row *row);
double ref_butterfly_loss(const ref_row *row);
double ref_pressure_gradient(const ref_row *row);
double ref_two_openings_flow(const ref_row *row);
double ref_two_openings_bottom(const ref_row *row);
double ref_two_openings_top(const ref_row *row);
double ref_two_openings_neutral(const ref_row *row);
double ref_tall_neutral(const ref_row *row);
double ref_tall_flow(const ref_row *row);
double ref_hole_in(const ref_row *row);
double ref_tall_in_at(const ref_row *row);
double ref_tall_out_at(const ref_row *row);
double ref_hole_volume(const ref_row *row);
double ref_crack_mass(const ref_row *row);
double ref_opening_discharge(const ref_row *row);
double ref_joint_speed(const ref_row *row);
double ref_joint_mass(const ref_row *row);
double ref_joint_share(const ref_row *row);
double ref_joint_discharge(const ref_row *row);
double ref_restriction_volume(const ref_row *row);
double ref_probe_emf(const ref_row *row);
double ref_probe_log10_po2(const ref_row *row);
double ref_probe_decade(const ref_row *row);
double ref_probe_nepers(const ref_row *row);
double ref_probe_inverse_constant(const ref_row *row);

#endif
