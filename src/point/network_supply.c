/* The gas supply: from the gauge to the jets. */
#include "network.h"

#include <math.h>
#include <stdio.h>

#include "root1d.h"

DW_LAW(supply_loss, "K", "pressure lost on the way to the jets / square of the flow", "Pa s2/kg2", "supply-loss",
       (double p_st, double p_run, double q_run), (p_st - p_run) / pow(q_run, 2.0))
DW_LAW(at_the_jets, "p_jet", "gas pressure at the jets", "Pa", "supply-loss",
       (double p_gauge, double K, double q), p_gauge - K * pow(q, 2.0))

/* A pressure at the jets being tried. */
typedef struct trial {
    const dw_network *net;
    double gauge_pa, loss_pa_s2_kg2;
} trial;

/* Through the jets on the supply, all or those that are lit, at a pressure; NaN when a jet cannot be. */
static double flow_kg_s(const dw_network *net, double jet_pa, bool all)
{
    double sum = 0.0;
    for (int i = 0; i < net->kiln->burner_count; i++) {
        const dw_burner *b = &net->kiln->burner[i];
        if (!b->gas_shared || !(all || b->lit)) continue;
        dw_jet_supply jet;
        dw_jet_flow flow;
        if (dw_network_gas_jet(net, b, jet_pa, &jet) != DW_OK) return NAN;
        dw_jet_discharge(&jet, net->pressure_pa_abs, &flow);
        sum += b->count * flow.mass_kg_s;
    }
    return sum;
}

static double excess_pa(double jet_pa, void *context)
{
    const trial *t = context;
    return jet_pa - at_the_jets(t->gauge_pa, t->loss_pa_s2_kg2, flow_kg_s(t->net, jet_pa, false));
}

static const dw_burner *first_lit_on_it(const dw_kiln *kiln)
{
    for (int i = 0; i < kiln->burner_count; i++) {
        if (kiln->burner[i].lit && kiln->burner[i].gas_shared) return &kiln->burner[i];
    }
    return NULL;
}

dw_status dw_network_take_supply(dw_network *net, char *reason)
{
    const dw_operating *o = &net->kiln->operating;
    const dw_burner *lit = first_lit_on_it(net->kiln);
    dw_gas_supply *s = &net->supply;
    *s = (dw_gas_supply){.lossy = false};
    if (o->gauge == DW_GAUGE_MANIFOLD && lit != NULL && lit->gas_pressure_pa > 0.0) {
        s->lossy = true;
        s->gauge_pa = lit->gas_pressure_pa;
        s->running_kg_s = flow_kg_s(net, o->supply_running_pa, true);
        s->loss_pa_s2_kg2 = supply_loss(o->supply_static_pa, o->supply_running_pa, s->running_kg_s);
        trial t = {net, s->gauge_pa, s->loss_pa_s2_kg2};
        dw_root root;
        if (dw_root_find(excess_pa, &t, 0.0, s->gauge_pa, 0.0, 1e-14 * s->gauge_pa, &root) != DW_OK) {
            (void)snprintf(reason, DW_REASON_SIZE, "the gas supply has no pressure at the jets");
            return DW_ERR_DOMAIN;
        }
        s->jet_pa = root.x;
        s->flow_kg_s = flow_kg_s(net, root.x, false);
    }
    return dw_network_take_burners(net, reason);
}

void dw_network_supply_write(const dw_network *net, dw_working *w)
{
    const dw_operating *o = &net->kiln->operating;
    const dw_gas_supply *s = &net->supply;
    dw_work_section(w, "From the gauge to the jets");
    dw_work_text(w, "Pressure is lost on the way from the gauge to the jets. The loss grows with the square of the flow, "
                    "and the two readings of the supply, with every burner shut and with every burner lit, give its "
                    "size. The pressure at the jets and the flow are found together: the jets pass q at p_jet.");
    dw_work_put(w, DW_WORK_INPUT, "p_gauge", "gas pressure at the gauge", "Pa", s->gauge_pa);
    const double p_st =
        dw_law_given(w, DW_WORK_INPUT, "p_st", "gas pressure with every burner shut", "Pa", o->supply_static_pa);
    const double p_run = dw_law_given(w, DW_WORK_INPUT, "p_run", "gas pressure at the jets with every burner lit", "Pa",
                                      o->supply_running_pa);
    const double q_run = dw_law_given(w, DW_WORK_SOLVED, "q_run", "gas through all these jets at p_run", "kg/s",
                                      s->running_kg_s);
    (void)DW_STEP(w, supply_loss, (p_st, p_run, q_run));
    dw_work_put(w, DW_WORK_SOLVED, "q", "gas through those that are lit", "kg/s", s->flow_kg_s);
    dw_law_write(w, "", NULL, NULL, &at_the_jets_law, s->jet_pa);
}
