/* Flows of every part at given pressures, and their sums. */
#include "network.h"

#include <math.h>

#include "stack.h"

/* Far side of a flue, without a stack the room. The connection to the base holds chamber gas, or
 * outside air when the stack runs backwards. */
static double far_pa(const dw_network_at *at, double stack_base_pa, int flue, dw_working *w)
{
    const dw_network *net = at->net;
    static const char meaning[] = "pressure after the damper, from that at the stack base";
    if (!net->has_stack) {
        return dw_law_given(w, DW_WORK_CONSTANT, "p_far",
                            "pressure after the damper, which is that of the room", "Pa", 0.0);
    }
    const double height_m = net->flue[flue].height_m;
    if (at->down) {
        return dw_draft_pressure_beside_pa(
            stack_base_pa, net->rho_room_kg_m3, net->far_density_kg_m3, height_m, net->base_height_m,
            "p_z>p_far p>p_s rho_1>rho_room rho_2>rho_top z>z_f z_0>z_s", meaning, w);
    }
    return dw_law_step(w, "", "p_z>p_far p>p_s z>z_f z_0>z_s", meaning, dw_draft_pressure_law,
                       dw_draft_pressure_at_pa(stack_base_pa, net->rho_room_kg_m3, at->rho_kg_m3,
                                               height_m, net->base_height_m));
}

double dw_network_flue_far_pa(const dw_network_at *at, double stack_base_pa, int flue, dw_working *w)
{
    return far_pa(at, stack_base_pa, flue, w) + (at->net->has_stack ? at->base_fine_pa : 0.0);
}

dw_status dw_network_joint(const dw_network_at *at, int i, dw_working *w, dw_joint *joint)
{
    const dw_network *net = at->net;
    const dw_opening *o = &net->kiln->opening[i];
    const dw_joint_size size = {.width_m = o->width_m,
                                .depth_m = o->depth_m,
                                .length_m = o->length_m * o->open_frac * o->count,
                                .from_m = o->from_m,
                                .to_m = o->to_m};
    const dw_joint_side room = {net->rho_room_kg_m3, net->kiln->site.room_temperature_k},
                        chamber = {at->rho_kg_m3, net->gas_temperature_k};
    return dw_joint_init(&size, &room, &chamber, w, joint) == DW_OK ? DW_OK : DW_ERR_DOMAIN;
}

dw_status dw_network_at_density(const dw_network *net, dw_chamber_gas gas, dw_network_at *at)
{
    const dw_kiln *kiln = net->kiln;
    at->net = net;
    at->gas = gas;
    at->down = false;
    at->fine_pa = at->base_fine_pa = 0.0;
    at->rho_kg_m3 = dw_ideal_gas_density_kg_m3(gas.molar_mass_kg_mol, net->gas_temperature_k,
                                               net->pressure_pa_abs);
    const double rho_room = net->rho_room_kg_m3, rho = at->rho_kg_m3;
    dw_status status = DW_OK;
    for (int i = 0; i < kiln->opening_count && status == DW_OK; i++) {
        const dw_opening *o = &kiln->opening[i];
        const double area_m2 = o->area_m2 * o->open_frac * o->count;
        switch (o->kind) {
        case DW_OPENING_HOLE:
            status = dw_hole_init(area_m2, o->discharge_coeff, rho_room, rho, &at->opening_hole[i]);
            break;
        case DW_OPENING_CRACK:
            status = dw_crack_init(area_m2, o->discharge_coeff, o->exponent,
                                   o->reference_pressure_pa, rho_room, rho, &at->opening_crack[i]);
            break;
        case DW_OPENING_TALL:
            status = dw_tall_init(area_m2, o->discharge_coeff, o->from_m, o->to_m, rho_room, rho,
                                  &at->opening_tall[i]);
            break;
        case DW_OPENING_JOINT: status = dw_network_joint(at, i, NULL, &at->opening_joint[i]); break;
        }
    }
    if (status == DW_OK) {
        status = dw_tall_init(kiln->chamber.leak_area_m2, kiln->chamber.leak_discharge_coeff, 0.0,
                              kiln->chamber.height_m, rho_room, rho, &at->leak);
    }
    for (int i = 0; i < kiln->burner_count && status == DW_OK; i++) {
        const dw_burner_law *b = &net->burner[i];
        if (b->lit) continue;
        status = dw_hole_init(b->open_when_unlit ? b->unlit_area_m2 * b->pieces : 0.0, 1.0,
                              rho_room, rho, &at->unlit[i]);
    }
    for (int i = 0; i < kiln->flue_count && status == DW_OK; i++) {
        const dw_flue_law *f = &net->flue[i];
        status = dw_hole_init(f->area_m2, f->coeff, net->has_stack ? rho : rho_room, rho,
                              &at->flue[i]);
    }
    if (status == DW_OK && net->has_stack) {
        status = dw_hole_init(kiln->stack.relief_area_m2, kiln->stack.relief_discharge_coeff,
                              rho_room, rho, &at->relief);
    }
    return status == DW_OK ? DW_OK : DW_ERR_DOMAIN;
}

/* Temperature of chamber gas and room air mixed at the stack base, by enthalpy. */
static double mixed_temperature_k(const dw_network_at *at, double gas_frac)
{
    const dw_network *net = at->net;
    const dw_species_table *table = &net->model->data->species;
    const double t_gas = net->gas_temperature_k, t_air = net->kiln->site.room_temperature_k;
    const double n_gas = gas_frac / at->gas.molar_mass_kg_mol;
    const double n_air = (1.0 - gas_frac) / net->air.molar_mass_kg_mol;
    const double h = n_gas * dw_mixture_enthalpy_j_mol(table, at->gas.x, t_gas) +
                     n_air * dw_mixture_enthalpy_j_mol(table, net->x_air, t_air);
    double n[DW_SPECIES_MAX];
    for (size_t i = 0; i < table->count; i++) {
        n[i] = n_gas * at->gas.x[i] + n_air * net->x_air[i];
    }
    double t = gas_frac * t_gas + (1.0 - gas_frac) * t_air;
    for (int i = 0; i < 30; i++) {
        double h_here, cp;
        dw_mixture_heat(table, n, t, &h_here, &cp);
        const double step = (h_here - h) / cp;
        t -= step;
        if (!(fabs(step) > 1e-9 * t)) break;
    }
    return t;
}

DW_LAW(mixed_molar_mass, "M_b", "molar mass of the gas at the stack base", "kg/mol", "definition",
       (double y, double M_gas, double M_air), 1.0 / (y / M_gas + (1.0 - y) / M_air))

double dw_network_mixed_molar_mass(const dw_network_at *at, double gas_frac, dw_working *w)
{
    return DW_STEP(w, mixed_molar_mass,
                   (gas_frac, at->gas.molar_mass_kg_mol, at->net->air.molar_mass_kg_mol));
}

double dw_network_base_heat_capacity_j_kg_k(const dw_network_at *at, const dw_network_sums *s)
{
    const dw_network *net = at->net;
    const dw_species_table *table = &net->model->data->species;
    const double frac = s->base_gas_frac, t = s->base_temperature_k;
    return frac / at->gas.molar_mass_kg_mol *
               dw_mixture_heat_capacity_j_mol_k(table, at->gas.x, t) +
           (1.0 - frac) / net->air.molar_mass_kg_mol *
               dw_mixture_heat_capacity_j_mol_k(table, net->x_air, t);
}

static void add_stream(double mass_kg_s, double slope_kg_s_pa, dw_network_sums *s)
{
    if (mass_kg_s > 0.0) {
        s->air_kg_s += mass_kg_s;
    } else {
        s->out_kg_s -= mass_kg_s;
    }
    s->net_slope_kg_s_pa += slope_kg_s_pa;
}

static void add_burner(const dw_network_at *at, int i, double pressure_pa, dw_network_sums *s)
{
    dw_burner_flow flow;
    dw_network_burner(at, i, pressure_pa, &flow);
    if (!at->net->burner[i].lit) {
        add_stream(flow.air_kg_s, flow.slope_kg_s_pa, s);
        return;
    }
    const double air_kg_s = flow.air_kg_s + flow.air_jet_kg_s;
    s->gas_kg_s += flow.gas_kg_s;
    s->air_kg_s += air_kg_s;
    s->burner_air_kg_s += air_kg_s;
    s->net_slope_kg_s_pa += flow.slope_kg_s_pa;
}

static void add_upright(const dw_tall_flow *flow, dw_network_sums *s)
{
    s->air_kg_s += flow->in_kg_s;
    s->out_kg_s += flow->out_kg_s;
    s->net_slope_kg_s_pa += flow->net_slope_kg_s_pa;
}

double dw_network_opening(const dw_network_at *at, int i, double pressure_pa, dw_opening_flow *flow)
{
    const dw_opening *o = &at->net->kiln->opening[i];
    const double p = dw_network_pressure_pa(at, pressure_pa, o->height_m);
    if (o->kind == DW_OPENING_HOLE) {
        dw_hole_flow(&at->opening_hole[i], p, flow);
    } else if (o->kind == DW_OPENING_JOINT) {
        dw_joint_flow(&at->opening_joint[i], p, NULL, NULL, flow);
    } else {
        dw_crack_flow(&at->opening_crack[i], p, flow);
    }
    return p;
}

void dw_network_upright(const dw_network_at *at, int i, double pressure_pa, const dw_tall_names *names,
                        dw_working *w, dw_tall_flow *flow)
{
    const dw_opening *o = &at->net->kiln->opening[i];
    const double low_pa = dw_network_pressure_pa(at, pressure_pa, o->from_m);
    if (o->kind == DW_OPENING_JOINT) {
        dw_joint_upright_flow(&at->opening_joint[i], low_pa, names, w, flow);
    } else {
        dw_tall_opening_flow(&at->opening_tall[i], low_pa, names, w, flow);
    }
}

static void add_openings(const dw_network_at *at, double pressure_pa, dw_network_sums *s)
{
    const dw_kiln *kiln = at->net->kiln;
    dw_tall_flow both;
    for (int i = 0; i < kiln->opening_count; i++) {
        if (dw_opening_is_upright(&kiln->opening[i])) {
            dw_network_upright(at, i, pressure_pa, NULL, NULL, &both);
            add_upright(&both, s);
        } else {
            dw_opening_flow flow;
            (void)dw_network_opening(at, i, pressure_pa, &flow);
            add_stream(flow.mass_kg_s, flow.slope_kg_s_pa, s);
        }
    }
    dw_tall_opening_flow(&at->leak, dw_network_pressure_pa(at, pressure_pa, 0.0), NULL, NULL, &both);
    add_upright(&both, s);
}

double dw_network_far_density_kg_m3(const dw_network_at *at, const dw_network_sums *s,
                                    const char **symbol, dw_working *w)
{
    const dw_network *net = at->net;
    *symbol = !net->has_stack ? "rho_room" : at->down ? "rho_top" : "rho_b";
    if (!net->has_stack) return net->rho_room_kg_m3;
    if (at->down) return net->far_density_kg_m3;
    return dw_law_step(w, "", "rho>rho_b M>M_b T>T_b", "density of the gas at the stack base",
                       dw_ideal_gas_density_law,
                       dw_ideal_gas_density_kg_m3(
                           dw_network_mixed_molar_mass(at, s->base_gas_frac, NULL),
                           s->base_temperature_k, net->pressure_pa_abs));
}

/* The fine parts last: beside the pressures they would be lost, beside a small difference they count. */
static double flue_drive_pa(const dw_network_at *at, double pressure_pa, double stack_base_pa,
                            int i)
{
    const dw_network *net = at->net;
    const double inside_pa = dw_draft_pressure_at_pa(pressure_pa, net->rho_room_kg_m3, at->rho_kg_m3,
                                                     net->flue[i].height_m, net->datum_m);
    if (!net->has_stack) return inside_pa + at->fine_pa;
    return (inside_pa - far_pa(at, stack_base_pa, i, NULL)) + (at->fine_pa - at->base_fine_pa);
}

static void reversed_flue_flow(const dw_network_at *at, int i, double drive_pa,
                               double rho_far_kg_m3, dw_opening_flow *flow)
{
    const dw_flue_law *f = &at->net->flue[i];
    dw_hole back = at->flue[i];
    back.in_coeff = f->coeff * f->area_m2 * sqrt(2.0 * rho_far_kg_m3);
    dw_hole_flow(&back, drive_pa, flow);
}

void dw_network_flue(const dw_network_at *at, double pressure_pa, double stack_base_pa,
                     const dw_network_sums *sums, int flue, double *mass_kg_s, double *drive_pa)
{
    dw_opening_flow flow;
    *drive_pa = flue_drive_pa(at, pressure_pa, stack_base_pa, flue);
    if (*drive_pa < 0.0) {
        const char *symbol;
        reversed_flue_flow(at, flue, *drive_pa, dw_network_far_density_kg_m3(at, sums, &symbol, NULL),
                           &flow);
    } else {
        dw_hole_flow(&at->flue[flue], *drive_pa, &flow);
    }
    *mass_kg_s = -flow.mass_kg_s;
}

void dw_network_mix(const dw_network_at *at, dw_network_sums *s)
{
    if (s->base_gas_frac > 0.0 && s->base_gas_frac < 1.0) {
        s->base_temperature_k = mixed_temperature_k(at, s->base_gas_frac);
    }
}

/* What gathers at the stack base from forward flues and the relief opening; not yet how hot it is. */
static void gather_at_base(const dw_network_at *at, double stack_base_pa, dw_network_sums *s)
{
    const dw_network *net = at->net;
    dw_hole relief = at->relief;
    dw_opening_flow flow;
    if (at->down) {
        s->base_gas_frac = 0.0;
        s->base_temperature_k = net->far_temperature_k;
        relief.out_coeff *= sqrt(net->far_density_kg_m3 / at->rho_kg_m3);
    }
    dw_hole_flow(&relief, stack_base_pa + at->base_fine_pa, &flow);
    s->relief_kg_s = flow.mass_kg_s;
    const double air = fmax(s->relief_kg_s, 0.0), all = air + s->flue_out_kg_s;
    if (!at->down && air > 0.0 && all > 0.0) {
        s->base_gas_frac = s->flue_out_kg_s / all;
        if (!(s->base_gas_frac > 0.0)) s->base_temperature_k = net->kiln->site.room_temperature_k;
    }
}

static void add_flues(const dw_network_at *at, double pressure_pa, double stack_base_pa,
                      dw_network_sums *s)
{
    const dw_network *net = at->net;
    const int count = net->kiln->flue_count;
    double drive_pa[DW_FLUE_MAX];
    bool reversed = false;
    dw_opening_flow flow;
    for (int i = 0; i < count; i++) {
        drive_pa[i] = flue_drive_pa(at, pressure_pa, stack_base_pa, i);
        if (drive_pa[i] < 0.0) {
            reversed = true;
            continue;
        }
        dw_hole_flow(&at->flue[i], drive_pa[i], &flow);
        s->flue_out_kg_s -= flow.mass_kg_s;
        s->net_slope_kg_s_pa += flow.slope_kg_s_pa;
    }
    s->base_gas_frac = 1.0;
    s->base_temperature_k = net->gas_temperature_k;
    if (net->has_stack) gather_at_base(at, stack_base_pa, s);
    if (!reversed) return;
    dw_network_mix(at, s);

    const char *symbol;
    const double rho_far = dw_network_far_density_kg_m3(at, s, &symbol, NULL);
    for (int i = 0; i < count; i++) {
        if (!(drive_pa[i] < 0.0)) continue;
        reversed_flue_flow(at, i, drive_pa[i], rho_far, &flow);
        s->flue_back_kg_s += flow.mass_kg_s;
        s->net_slope_kg_s_pa += flow.slope_kg_s_pa;
    }
    s->air_kg_s += dw_network_fresh_frac(net, s) * s->flue_back_kg_s;
}

void dw_network_flows(const dw_network_at *at, double pressure_pa, double stack_base_pa,
                      dw_network_sums *sums)
{
    dw_network_sums s = {0};
    for (int i = 0; i < at->net->kiln->burner_count; i++) add_burner(at, i, pressure_pa, &s);
    add_openings(at, pressure_pa, &s);
    const double air_but_flues = s.air_kg_s;
    add_flues(at, pressure_pa, stack_base_pa, &s);
    s.in_kg_s = s.gas_kg_s + air_but_flues + s.flue_back_kg_s;
    s.net_kg_s = s.in_kg_s - s.out_kg_s - s.flue_out_kg_s;
    *sums = s;
}

void dw_network_evaluate(const dw_network_at *at, double pressure_pa, double stack_base_pa,
                         dw_network_sums *sums)
{
    dw_network_flows(at, pressure_pa, stack_base_pa, sums);
    dw_network_mix(at, sums);
}
