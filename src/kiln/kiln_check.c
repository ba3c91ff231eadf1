#include "kiln.h"

#include <math.h>

#include "constants.h"
#include "damper.h"
#include "kiln_checker.h"
#include "kiln_supply.h"

/* What the laws can do with, which is wider than what a person may type (kiln_keys.c): derived values and the
 * ends of a doubt come here too. Limits that are the same for both stand in kiln.h. */

/* The gas laws of the model hold from 200 K to 2000 K; what leaves that is refused here. */
#define GAS_LOWEST_K 200.0
#define GAS_HIGHEST_K 2000.0
#define FRACTION_SUM_TOLERANCE 1.0e-9

static bool gas_range(const checker *c, const char *key, double temperature_k)
{
    return within(c, key, temperature_k, DW_DIM_TEMPERATURE, GAS_LOWEST_K, GAS_HIGHEST_K);
}

static double circle_m2(double diameter_m) { return 0.25 * DW_PI * diameter_m * diameter_m; }

static bool check_site(checker *c, const dw_site *site)
{
    look_at(c, "kiln", "site");
    return within(c, "elevation", site->elevation_m, DW_DIM_LENGTH, DW_ELEVATION_LOW_M,
                  DW_ELEVATION_HIGH_M) &&
           positive(c, "pressure", site->pressure_pa_abs, DW_DIM_PRESSURE_ABS) &&
           gas_range(c, "air_temperature", site->air_temperature_k) &&
           share(c, "relative_humidity", site->relative_humidity) &&
           gas_range(c, "outside_temperature", site->outside_temperature_k) &&
           gas_range(c, "room_temperature", site->room_temperature_k) &&
           within(c, "room_pressure", site->room_pressure_pa, DW_DIM_PRESSURE_GAUGE,
                  -site->pressure_pa_abs, site->pressure_pa_abs) &&
           (isnan(site->wind_speed_m_s) || not_negative(c, "wind_speed", site->wind_speed_m_s, DW_DIM_SPEED));
}

/* Carbon, hydrogen, and oxygen wanted: what the laws of combustion here are made for. */
static bool check_fuel(const checker *c, const dw_fuel *fuel, const dw_species_table *table)
{
    double sum = 0.0, atoms[DW_ELEMENT_COUNT] = {0.0};
    for (size_t i = 0; i < table->count; i++) {
        const double x = fuel->x[i];
        if (!(x >= 0.0 && x <= 1.0)) {
            return fault(c, "'kiln.fuel.%s' is %g %%, expected 0 %% to 100 %%",
                         table->species[i].name, 100.0 * x);
        }
        if (x > 0.0 && table->species[i].condensed) {
            return fault(c, "'kiln.fuel.%s' is not a gas", table->species[i].name);
        }
        sum += x;
        for (int e = 0; e < DW_ELEMENT_COUNT; e++)
            atoms[e] += x * table->species[i].atoms[e];
    }
    if (!(fabs(sum - 1.0) <= FRACTION_SUM_TOLERANCE)) {
        return fault(c, "'kiln.fuel' has shares that add up to %.8g %%, expected 100 %%",
                     100.0 * sum);
    }
    const double oxygen_wanted = 2.0 * atoms[DW_C] + 0.5 * atoms[DW_H] - atoms[DW_O];
    if (!(oxygen_wanted > 0.0)) return fault(c, "'kiln.fuel' does not burn: it needs no oxygen");
    if (!(atoms[DW_C] > 0.0)) return fault(c, "'kiln.fuel' has no carbon, expected a hydrocarbon");
    if (!(atoms[DW_H] > 0.0))
        return fault(c, "'kiln.fuel' has no hydrogen, expected a hydrocarbon");
    return true;
}

static bool check_chamber(checker *c, const dw_chamber *chamber)
{
    look_at(c, "kiln", "chamber");
    if (!positive(c, "width", chamber->width_m, DW_DIM_LENGTH) ||
        !positive(c, "depth", chamber->depth_m, DW_DIM_LENGTH) ||
        !positive(c, "height", chamber->height_m, DW_DIM_LENGTH) ||
        (!isnan(chamber->setting_loss) &&
         !not_negative(c, "setting_loss", chamber->setting_loss, DW_DIM_NUMBER)) ||
        !not_negative(c, "leak_area", chamber->leak_area_m2, DW_DIM_AREA) ||
        !coefficient(c, "leak_discharge_coefficient", chamber->leak_discharge_coeff)) {
        return false;
    }
    if (chamber->packed_frac >= 0.0 && chamber->packed_frac < 1.0) return true;
    return fault(c, "'kiln.chamber.packed' is %g %%, expected 0 %% or more and less than 100 %%",
                 100.0 * chamber->packed_frac);
}

/* Momentum balance of the burner: without kappa_m > kappa_a it has no answer. */
static bool check_kappa(const checker *c, const dw_burner *burner)
{
    const dw_burner_tube tube = dw_burner_tube_of(burner, burner, burner->lit, NULL);
    if (tube.kappa_m > tube.kappa_a) return true;
    return fault(c,
                 "'%s' loses too little pressure to be a real burner: mixture coefficient %.4g, "
                 "expected more than the air coefficient %.4g; check diffuser_recovery, port_loss "
                 "and inlet_loss",
                 path_of(c).text, tube.kappa_m, tube.kappa_a);
}

/* Throat, port and shutter of an inspirating burner. */
static bool check_venturi(const checker *c, const dw_burner *burner)
{
    const double jets_m2 =
        circle_m2(burner->jet_diameter_m) + circle_m2(burner->air_jet_diameter_m);
    if (!positive(c, "throat_diameter", burner->throat_diameter_m, DW_DIM_LENGTH) ||
        !positive(c, "port_diameter", burner->port_diameter_m, DW_DIM_LENGTH) ||
        !share(c, "shutter", burner->shutter_open_frac) ||
        !not_negative(c, "shutter_area", burner->shutter_area_m2, DW_DIM_AREA) ||
        !coefficient(c, "shutter_discharge_coefficient", burner->shutter_discharge_coeff) ||
        !not_negative(c, "throat_friction", burner->throat_friction, DW_DIM_NUMBER) ||
        !share(c, "diffuser_recovery", burner->diffuser_recovery) ||
        !not_negative(c, "port_loss", burner->port_loss, DW_DIM_NUMBER) ||
        !positive(c, "port_temperature_ratio", burner->port_temperature_ratio, DW_DIM_NUMBER)) {
        return false;
    }
    if (!(circle_m2(burner->throat_diameter_m) > jets_m2)) {
        return fault(c, "'%s.throat_diameter' is %s, expected more than the jet that blows into it",
                     path_of(c).text, show(burner->throat_diameter_m, DW_DIM_LENGTH).text);
    }
    return check_kappa(c, burner);
}

static bool check_air_supply(const checker *c, const dw_burner *burner)
{
    const bool restriction = !isnan(burner->air_restriction_area_m2);
    const bool flow = !isnan(burner->air_flow_m3_s);
    if (restriction == flow) {
        return fault(c, "'%s' has %s, expected either air_restriction or air_flow", path_of(c).text,
                     flow ? "both air_restriction and air_flow" : "no air supply");
    }
    if (flow) return not_negative(c, "air_flow", burner->air_flow_m3_s, DW_DIM_VOLUME_FLOW);
    return positive(c, "air_restriction.area", burner->air_restriction_area_m2, DW_DIM_AREA) &&
           coefficient(c, "air_restriction.discharge_coefficient", burner->air_restriction_coeff);
}

static bool check_burner(const checker *c, const dw_kiln *kiln, const dw_burner *burner)
{
    if (burner->count < 1)
        return fault(c, "'%s.count' is %d, expected 1 or more", path_of(c).text, burner->count);
    if (burner->lit && burner->plugged) {
        return fault(c, "'%s' is both lit and plugged, expected at most one of them", path_of(c).text);
    }
    if (!in_chamber(c, "height", burner->height_m, kiln) ||
        !not_negative(c, "gas_pressure", burner->gas_pressure_pa, DW_DIM_PRESSURE_GAUGE) ||
        !not_negative(c, "air_pressure", burner->air_pressure_pa, DW_DIM_PRESSURE_GAUGE) ||
        !positive(c, "jet.diameter", burner->jet_diameter_m, DW_DIM_LENGTH) ||
        !coefficient(c, "jet.discharge_coefficient", burner->jet_discharge_coeff) ||
        !coefficient(c, "jet.velocity_coefficient", burner->jet_velocity_coeff) ||
        !not_negative(c, "air_jet.diameter", burner->air_jet_diameter_m, DW_DIM_LENGTH) ||
        !coefficient(c, "air_jet.discharge_coefficient", burner->air_jet_discharge_coeff)) {
        return false;
    }
    return burner->kind == DW_BURNER_BLOWN ? check_air_supply(c, burner)
                                           : check_venturi(c, burner);
}

static bool check_burners(checker *c, const dw_kiln *kiln)
{
    if (kiln->burner_count < 1)
        return fault(c, "'kiln.burners' is empty, expected at least one burner");
    bool burning = false;
    for (int i = 0; i < kiln->burner_count; i++) {
        const dw_burner *burner = &kiln->burner[i];
        look_at(c, "kiln.burners", burner->name);
        if (!check_burner(c, kiln, burner)) return false;
        burning = burning || (burner->lit && burner->gas_pressure_pa > 0.0);
    }
    if (burning) return true;
    return fault(
        c, "'kiln.burners': nothing burns, expected a lit burner with a gas pressure above 0");
}

static bool check_damper_table(const checker *c, const dw_damper *damper)
{
    if (damper->row_count < 2 || damper->row_count > DW_DAMPER_ROW_MAX) {
        return fault(c, "'%s.damper.rows' has %d rows, expected 2 to %d", path_of(c).text,
                     damper->row_count, DW_DAMPER_ROW_MAX);
    }
    for (int i = 0; i < damper->row_count; i++) {
        const double open = damper->row_open_frac[i], loss = damper->row_loss[i];
        if (!(open > 0.0 && open <= 1.0)) {
            return fault(c,
                         "'%s.damper.rows' has an opening of %s in row %d, expected more than 0 %% "
                         "and at most 100 %%",
                         path_of(c).text, show(open, DW_DIM_RATIO).text, i + 1);
        }
        if (!(loss >= 0.0 && isfinite(loss))) {
            return fault(c, "'%s.damper.rows' has a loss of %g in row %d, expected 0 or more",
                         path_of(c).text, loss, i + 1);
        }
        if (i == 0) continue;
        if (!(open > damper->row_open_frac[i - 1])) {
            return fault(
                c,
                "'%s.damper.rows' has an opening in row %d that is not larger than the one before, "
                "expected rising openings",
                path_of(c).text, i + 1);
        }
        if (!(loss < damper->row_loss[i - 1])) {
            return fault(
                c,
                "'%s.damper.rows' has a loss in row %d that is not smaller than the one before, "
                "expected falling losses",
                path_of(c).text, i + 1);
        }
    }
    return true;
}

/* Into a stack the speed is not lost: a plate drawn out of a straight duct without an entry loss stands in
 * nothing's way, and no pressure difference belongs to a flow. */
static bool check_flue_loss(const checker *c, const dw_kiln *kiln, const dw_flue *flue)
{
    const dw_damper *d = &flue->damper;
    const dw_damper_setting setting = {d->open_frac, d->leak_frac, d->scale};
    dw_damper_loss loss = {.loss = 1.0};
    dw_status status = DW_OK;
    if (!kiln->stack.present) return true;
    if (d->kind == DW_DAMPER_SLIDE) {
        status = dw_damper_slide(&setting, dw_flue_downstream_ratio(kiln, flue, NULL), NULL, &loss);
    } else if (d->kind == DW_DAMPER_TABLE) {
        status = dw_damper_table(&setting, d->row_open_frac, d->row_loss, d->row_count, NULL, &loss);
    }
    if (status == DW_OK && flue->entry_loss + fmax(flue->floor_loss, 0.0) + loss.loss > 0.0) return true;
    return fault(c,
                 "'%s' loses nothing: its damper is wide open and lets it into as wide a duct; expected "
                 "an entry_loss of more than 0",
                 path_of(c).text);
}

static bool check_flue(const checker *c, const dw_kiln *kiln, const dw_flue *flue)
{
    const dw_damper *damper = &flue->damper;
    if (flue->count < 1)
        return fault(c, "'%s.count' is %d, expected 1 or more", path_of(c).text, flue->count);
    if (!positive(c, "area", flue->area_m2, DW_DIM_AREA) ||
        !in_chamber(c, "height", flue->height_m, kiln) ||
        !not_negative(c, "entry_loss", flue->entry_loss, DW_DIM_NUMBER) ||
        (!isnan(flue->floor_loss) && !not_negative(c, "floor_loss", flue->floor_loss, DW_DIM_NUMBER)) ||
        !share(c, "damper.open", damper->open_frac) ||
        !positive(c, "damper.scale", damper->scale, DW_DIM_NUMBER) ||
        !(isnan(damper->thickness_m) || not_negative(c, "damper.thickness", damper->thickness_m, DW_DIM_LENGTH)) ||
        !(isnan(damper->mouth_width_m) ||
          not_negative(c, "damper.mouth_width", damper->mouth_width_m, DW_DIM_LENGTH))) {
        return false;
    }
    if (!(damper->leak_frac > 0.0 && damper->leak_frac < 1.0)) {
        return fault(c, "'%s.damper.leak' is %g %%, expected more than 0 %% and less than 100 %%",
                     path_of(c).text, 100.0 * damper->leak_frac);
    }
    /* Narrower than the flue means k > 1, which the law of the sudden widening does not cover;
     * a rounding error in a derived area must not trip this. */
    if (!flue->downstream_is_plenum &&
        !(flue->downstream_area_m2 >= flue->area_m2 * (1.0 - 1.0e-12))) {
        return fault(
            c, "'%s.damper_downstream_area' is %s, expected at least the area of the flue, %s",
            path_of(c).text, show(flue->downstream_area_m2, DW_DIM_AREA).text,
            show(flue->area_m2, DW_DIM_AREA).text);
    }
    if (damper->kind == DW_DAMPER_TABLE && !check_damper_table(c, damper)) return false;
    return check_flue_loss(c, kiln, flue);
}

static bool check_stack(checker *c, const dw_kiln *kiln)
{
    const dw_stack *stack = &kiln->stack;
    look_at(c, "kiln", "stack");
    if (!positive(c, "height", stack->height_m, DW_DIM_LENGTH) ||
        !positive(c, "area", stack->area_m2, DW_DIM_AREA) ||
        !within(c, "base_height", stack->base_height_m, DW_DIM_LENGTH, DW_STACK_BASE_LOW_M,
                kiln->chamber.height_m) ||
        !not_negative(c, "bends", stack->bend_count, DW_DIM_NUMBER) ||
        !not_negative(c, "bend_loss", stack->bend_loss, DW_DIM_NUMBER) ||
        !not_negative(c, "cap_loss", stack->cap_loss, DW_DIM_NUMBER) ||
        !not_negative(c, "exit_loss", stack->exit_loss, DW_DIM_NUMBER) ||
        !not_negative(c, "relief_opening", stack->relief_area_m2, DW_DIM_AREA) ||
        !coefficient(c, "relief_discharge_coefficient", stack->relief_discharge_coeff)) {
        return false;
    }
    const double width_m = stack->round ? sqrt(4.0 * stack->area_m2 / DW_PI) : sqrt(stack->area_m2);
    if (!(stack->roughness_m >= 0.0 && stack->roughness_m <= 0.2 * width_m)) {
        return fault(c,
                     "'kiln.stack.roughness' is %s, expected at most a fifth of the width of the "
                     "stack, %s",
                     show(stack->roughness_m, DW_DIM_LENGTH).text,
                     show(0.2 * width_m, DW_DIM_LENGTH).text);
    }
    const double gap_m = stack->hood_gap_height_m;
    if (!isnan(gap_m) && !(gap_m > 0.0 && gap_m <= stack->height_m)) {
        return fault(c,
                     "'kiln.stack.hood_gap_height' is %s, expected more than 0 m and at most "
                     "the height of the stack, %s",
                     show(gap_m, DW_DIM_LENGTH).text, show(stack->height_m, DW_DIM_LENGTH).text);
    }
    for (int i = 0; i < stack->wall_point_count; i++) {
        if (!positive(c, "wall", stack->wall_point[i].conductance_w_m2_k, DW_DIM_NUMBER)) return false;
    }
    if (stack->wall != DW_WALL_UNKNOWN) return stack->wall_point_count > 0 || is_missing(c, "wall");
    if (!isnan(stack->heat_loss_ua_w_k)) {
        return not_negative(c, "heat_loss_ua", stack->heat_loss_ua_w_k, DW_DIM_CONDUCTANCE);
    }
    return not_negative(c, "heat_loss_ntu", stack->heat_loss_ntu, DW_DIM_NUMBER);
}

static bool check_wind(checker *c, const dw_kiln *kiln)
{
    if (isnan(kiln->site.wind_speed_m_s)) return true;
    look_at(c, "kiln", "stack");
    if (!within(c, "wind_coefficient", kiln->stack.wind_coeff, DW_DIM_NUMBER, -DW_WIND_COEFF_HIGH,
                DW_WIND_COEFF_HIGH)) {
        return false;
    }
    look_at(c, "", "room");
    return within(c, "wind_coefficient", kiln->room.wind_coeff, DW_DIM_NUMBER, -DW_WIND_COEFF_HIGH,
                  DW_WIND_COEFF_HIGH);
}

static bool check_settings(checker *c, const dw_kiln *kiln)
{
    const dw_settings *settings = &kiln->settings;
    look_at(c, "", "operating");
    if (!gas_range(c, "gas_temperature", kiln->operating.gas_temperature_k) ||
        !gas_range(c, "chamber_temperature", kiln->operating.chamber_temperature_k)) {
        return false;
    }
    look_at(c, "kiln", "model");
    if (!within(c, "unmixedness", settings->unmixedness, DW_DIM_RATIO, 0.0, DW_UNMIXEDNESS_HIGH) ||
        !within(c, "quench_temperature", settings->quench_temperature_k, DW_DIM_TEMPERATURE,
                DW_QUENCH_LOW_K, DW_QUENCH_HIGH_K) ||
        !within(c, "quench_temperature_rich", settings->quench_temperature_rich_k, DW_DIM_TEMPERATURE,
                DW_QUENCH_LOW_K, DW_QUENCH_HIGH_K)) {
        return false;
    }
    const double gas_k = kiln->operating.chamber_temperature_k + settings->gas_minus_reading_dk;
    if (gas_k >= GAS_LOWEST_K && gas_k <= GAS_HIGHEST_K) return true;
    return fault(c,
                 "'kiln.model.gas_minus_reading' gives a gas temperature of %s, expected %s to %s",
                 show(gas_k, DW_DIM_TEMPERATURE).text, show(GAS_LOWEST_K, DW_DIM_TEMPERATURE).text,
                 show(GAS_HIGHEST_K, DW_DIM_TEMPERATURE).text);
}

dw_status dw_kiln_check(const dw_kiln *kiln, const dw_species_table *table, char *message,
                        size_t size)
{
    checker c = {.message = message, .size = size};
    if (size > 0) message[0] = '\0';
    if (!check_site(&c, &kiln->site) || !check_fuel(&c, &kiln->fuel, table) ||
        !check_chamber(&c, &kiln->chamber) || !check_settings(&c, kiln) ||
        !dw_supply_check(&kiln->operating, message, size) ||
        !check_burners(&c, kiln)) {
        return DW_ERR_DOMAIN;
    }
    for (int i = 0; i < kiln->opening_count; i++) {
        look_at(&c, "kiln.openings", kiln->opening[i].name);
        if (!dw_check_opening(&c, kiln, &kiln->opening[i])) return DW_ERR_DOMAIN;
    }
    if (kiln->flue_count < 1) {
        (void)fault(&c, "'kiln.flues' is empty, expected at least one flue");
        return DW_ERR_DOMAIN;
    }
    for (int i = 0; i < kiln->flue_count; i++) {
        look_at(&c, "kiln.flues", kiln->flue[i].name);
        if (!check_flue(&c, kiln, &kiln->flue[i])) return DW_ERR_DOMAIN;
    }
    if (kiln->stack.present && (!check_stack(&c, kiln) || !check_wind(&c, kiln))) return DW_ERR_DOMAIN;
    return DW_OK;
}
