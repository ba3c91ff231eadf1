/* The gas supply: pressure at the jets where the gauge sits before a loss. */
#include "check.h"

#include <string.h>

#include "kit.h"
#include "network.h"

static dw_kiln kiln;
static dw_network net;
static char reason[DW_REASON_SIZE];

/* Two entries of plain burners on one gauge; two pieces and one. */
static void two_burners(double gauge_pa, double static_pa, double running_pa)
{
    kit_plain_kiln(&kiln);
    kiln.burner_count = 2;
    kiln.burner[0].count = 2;
    kiln.burner[1] = kiln.burner[0];
    strcpy(kiln.burner[1].name, "other");
    kiln.burner[1].count = 1;
    kiln.operating.gas_pressure_pa = gauge_pa;
    for (int i = 0; i < 2; i++) { /* as read, not as resolved */
        kiln.burner[i].gas_pressure_pa = NAN;
        kiln.burner[i].gas_shared = false;
    }
    kiln.operating.gauge = DW_GAUGE_MANIFOLD;
    kiln.operating.supply_static_pa = static_pa;
    kiln.operating.supply_running_pa = running_pa;
}

static void take(void)
{
    dw_kiln_resolve(&kiln);
    assert_int_equal(dw_network_init(&net, kit_model(), &kiln, reason), DW_OK);
    assert_int_equal(dw_network_take_supply(&net, reason), DW_OK);
}

static double gas_kg_s(void)
{
    double sum = 0.0;
    for (int i = 0; i < kiln.burner_count; i++)
        if (net.burner[i].lit) sum += net.burner[i].gas_kg_s;
    return sum;
}

/* With everything lit and the static pressure at the gauge, the jets have the running one: the flow falls with its
 * root, but for what gas expands (published: x 0.824 for 32 %, x 0.854 for 27 %). */
static void what_is_lost_takes_its_root_of_the_flow(void **state)
{
    (void)state;
    static const double lost[] = {0.32, 0.27}, factor[] = {0.824, 0.854};
    for (int i = 0; i < 2; i++) {
        two_burners(1700.0, 1700.0, (1.0 - lost[i]) * 1700.0);
        take();
        assert_true(net.supply.lossy);
        assert_close(net.supply.jet_pa, (1.0 - lost[i]) * 1700.0, 1e-12, 0.0);
        assert_close(net.burner[1].gas_pressure_pa, net.supply.jet_pa, 0.0, 0.0);
        assert_close(net.supply.flow_kg_s, gas_kg_s(), 1e-14, 0.0);
        assert_close(net.supply.running_kg_s, gas_kg_s(), 1e-12, 0.0);
        const double with_loss = gas_kg_s();
        kiln.operating.gauge = DW_GAUGE_JET;
        take();
        assert_false(net.supply.lossy);
        assert_close(net.burner[1].gas_pressure_pa, 1700.0, 0.0, 0.0);
        assert_close(with_loss / gas_kg_s(), factor[i], 0.0, 2e-3);
    }
}

/* q goes with the root of p where gas hardly expands: p + (p_st - p_run) (q/q_run)^2 = p_gauge is linear in p, with
 * (q/q_run)^2 = p/p_run times the square of the share of jets that are lit. */
static void fewer_lit_burners_lose_less(void **state)
{
    (void)state;
    two_burners(90.0, 100.0, 60.0);
    kiln.burner[0].lit = false; /* two of three jets off; they count in the running flow */
    take();
    const double share = 1.0 / 3.0;
    assert_close(net.supply.jet_pa, 90.0 / (1.0 + 40.0 / 60.0 * share * share), 3e-4, 0.0);
    /* The balance itself, whatever the gas does. */
    two_burners(180e3, 150e3, 30e3);
    kiln.burner[1].lit = false;
    take();
    assert_close(net.supply.loss_pa_s2_kg2, 120e3 / pow(net.supply.running_kg_s, 2.0), 1e-14, 0.0);
    assert_close(net.supply.jet_pa + net.supply.loss_pa_s2_kg2 * pow(net.supply.flow_kg_s, 2.0), 180e3, 1e-12, 0.0);
    assert_close(net.supply.flow_kg_s, net.burner[0].gas_kg_s, 1e-14, 0.0);
    assert_true(net.supply.jet_pa < 180e3 && net.supply.jet_pa > 30e3);
}

static void burners_with_a_pressure_of_their_own_are_not_on_it(void **state)
{
    (void)state;
    two_burners(1700.0, 1700.0, 1200.0);
    kiln.burner[1].gas_pressure_pa = 5000.0;
    take();
    assert_close(net.burner[1].gas_pressure_pa, 5000.0, 0.0, 0.0);
    assert_close(net.burner[0].gas_pressure_pa, 1200.0, 1e-12, 0.0);
    assert_close(net.supply.flow_kg_s, net.burner[0].gas_kg_s, 1e-14, 0.0);
    /* Nothing lit on it: nothing is lost. */
    kiln.burner[0].lit = false;
    take();
    assert_false(net.supply.lossy);
    assert_close(net.burner[1].gas_pressure_pa, 5000.0, 0.0, 0.0);
}

static void a_thin_jet_has_the_coefficient_of_the_pressure_it_gets(void **state)
{
    (void)state;
    two_burners(80e3, 80e3, 40e3);
    kiln.burner[0].jet_discharge_coeff = kiln.burner[1].jet_discharge_coeff = NAN;
    take();
    assert_close(net.supply.jet_pa, 40e3, 1e-12, 0.0);
    const double lossy_kg_s = gas_kg_s();
    kiln.operating.gauge = DW_GAUGE_JET;
    for (int i = 0; i < 2; i++) {
        kiln.burner[i].jet_discharge_coeff = kiln.burner[i].gas_pressure_pa = NAN;
        kiln.burner[i].jet_thin_pa = NAN;
    }
    kiln.operating.gas_pressure_pa = 40e3;
    take();
    assert_close(lossy_kg_s, gas_kg_s(), 1e-11, 0.0);
}

/* Lighting opens valves before anything burns: more gas, so that its times are on the careful side. */
static void a_network_alone_leaves_the_loss_out(void **state)
{
    (void)state;
    two_burners(1700.0, 1700.0, 1200.0);
    dw_kiln_resolve(&kiln);
    memset(&net, 0x5a, sizeof net);
    assert_int_equal(dw_network_init(&net, kit_model(), &kiln, reason), DW_OK);
    assert_false(net.supply.lossy);
    assert_close(net.burner[0].gas_pressure_pa, 1700.0, 0.0, 0.0);
}

static void a_point_has_it_in_the_answer_and_in_the_slope(void **state)
{
    (void)state;
    static dw_kiln_file file;
    static dw_result plain, at, again, low, high;
    kit_example("juniper-flat", &file);
    dw_kiln k = file.kiln;
    assert_int_equal(dw_operating_point(kit_model(), &k, &plain), DW_OK);
    k.operating.gauge = DW_GAUGE_MANIFOLD;
    k.operating.supply_static_pa = 20e3;
    k.operating.supply_running_pa = 14.6e3;
    assert_int_equal(dw_operating_point(kit_model(), &k, &at), DW_OK);
    assert_true(at.equivalence_ratio < 0.95 * plain.equivalence_ratio);
    double jets_pa = NAN;
    for (int i = 0; i < at.finding_count; i++) {
        if (at.finding[i].code == DW_FIND_SUPPLY_LOSS) jets_pa = at.finding[i].value;
    }
    assert_close(jets_pa, 14.6e3, 1e-12, 0.0);
    /* A kiln that is resolved already is the same kiln. */
    dw_kiln resolved = k;
    dw_kiln_resolve(&resolved);
    assert_int_equal(dw_operating_point(kit_model(), &resolved, &again), DW_OK);
    assert_close(again.equivalence_ratio, at.equivalence_ratio, 0.0, 0.0);
    const double h = 2.0;
    k.operating.gas_pressure_pa -= h;
    assert_int_equal(dw_operating_point(kit_model(), &k, &low), DW_OK);
    k.operating.gas_pressure_pa += 2.0 * h;
    assert_int_equal(dw_operating_point(kit_model(), &k, &high), DW_OK);
    assert_close(at.dphi_dgas_pressure_per_pa,
                 (high.equivalence_ratio - low.equivalence_ratio) / (2.0 * h), 1e-4, 0.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_is_lost_takes_its_root_of_the_flow),
        cmocka_unit_test(fewer_lit_burners_lose_less),
        cmocka_unit_test(burners_with_a_pressure_of_their_own_are_not_on_it),
        cmocka_unit_test(a_thin_jet_has_the_coefficient_of_the_pressure_it_gets),
        cmocka_unit_test(a_network_alone_leaves_the_loss_out),
        cmocka_unit_test(a_point_has_it_in_the_answer_and_in_the_slope),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
