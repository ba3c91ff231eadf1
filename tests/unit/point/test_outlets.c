/* Ways out and ways in that were once counted wrongly. */
#include "check.h"

#include "kit.h"

static dw_result solve(const dw_kiln *kiln)
{
    dw_result r;
    assert_int_equal(dw_operating_point(kit_model(), kiln, &r), DW_OK);
    return r;
}

static void open_flue_without_stack_loses_one_speed_head_whatever_is_downstream(void **state)
{
    (void)state;
    dw_kiln_file file;
    kit_example("fennelbank-school", &file);
    assert_false(file.kiln.stack.present);
    dw_kiln plenum = file.kiln, duct = file.kiln, table = file.kiln;
    for (int i = 0; i < file.kiln.flue_count; i++) {
        plenum.flue[i].damper.open_frac = 1.0;
        plenum.flue[i].downstream_is_plenum = true;
        duct.flue[i].damper.open_frac = 1.0;
        duct.flue[i].downstream_is_plenum = false;
        duct.flue[i].downstream_area_m2 = duct.flue[i].area_m2;
        /* A damper that loses nothing: entry 0.5 and exit 1 are left. */
        dw_damper *d = &table.flue[i].damper;
        d->kind = DW_DAMPER_TABLE;
        d->open_frac = 1.0;
        d->row_count = 2;
        d->row_open_frac[0] = 0.5;
        d->row_loss[0] = 4.0;
        d->row_open_frac[1] = 1.0;
        d->row_loss[1] = 0.0;
    }
    const dw_result a = solve(&plenum), b = solve(&duct), c = solve(&table);
    assert_close(b.air_ratio, a.air_ratio, 1e-10, 0.0);
    assert_close(c.air_ratio, a.air_ratio, 1e-10, 0.0);
    assert_close(b.flue_flow_kg_s, a.flue_flow_kg_s, 1e-10, 0.0);
}

static void air_through_an_unlit_burner_is_not_primary(void **state)
{
    (void)state;
    dw_kiln_file file;
    kit_example("tram-shed", &file);
    assert_true(file.kiln.burner_count >= 2);
    file.kiln.burner[1].lit = false;
    file.kiln.burner[1].plugged = false;
    const dw_result r = solve(&file.kiln);
    double primary = 0.0, unlit = 0.0;
    for (int i = 0; i < r.flow_count; i++) {
        if (r.flow[i].kind == DW_FLOW_PRIMARY_AIR || r.flow[i].kind == DW_FLOW_AIR_JET) {
            primary += r.flow[i].mass_kg_s;
        }
        if (r.flow[i].kind == DW_FLOW_UNLIT_BURNER) unlit += r.flow[i].mass_kg_s;
    }
    assert_true(unlit > 0.01 * primary);
    assert_close(r.primary_aeration, primary / (r.gas_flow_kg_s * r.stoichiometric_air_kg_kg), 1e-12,
                 0.0);
}

static void a_hood_gap_ends_the_stack_below_its_cap(void **state)
{
    (void)state;
    dw_kiln_file file;
    kit_example("juniper-flat", &file);
    file.kiln.stack.hood_gap_height_m = 0.7;
    const dw_result bare = solve(&file.kiln);
    file.kiln.stack.cap_loss = 1.0;
    assert_close(solve(&file.kiln).air_ratio, bare.air_ratio, 1e-14, 0.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(open_flue_without_stack_loses_one_speed_head_whatever_is_downstream),
        cmocka_unit_test(air_through_an_unlit_burner_is_not_primary),
        cmocka_unit_test(a_hood_gap_ends_the_stack_below_its_cap),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
