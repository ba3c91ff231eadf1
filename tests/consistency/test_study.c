/* Ten thousand operating points around every example, all inputs moved: each is solved with its
 * balances closed, or says why not and gives no number. */
#include "check.h"

#include <string.h>

#include "kiln_listing.h"
#include "kit.h"

enum { FIELD_MAX = 256 };

typedef struct fields {
    const dw_kiln *kiln;
    int count;
    dw_kiln_field field[FIELD_MAX];
    double value[FIELD_MAX];
} fields;

static int collect(void *user, const dw_listing_row *row)
{
    fields *f = user;
    if (!row->is_number || f->count == FIELD_MAX) return 0;
    dw_kiln_field *field = &f->field[f->count];
    if (dw_kiln_field_find(f->kiln, row->path, NULL, field) == DW_OK) f->value[f->count++] = row->si;
    return 0;
}

/* Moves one input: usually by some per cent to a factor of three, now and then anywhere it may be. */
static void move(kit_random *random, const fields *f, int i, dw_kiln *kiln)
{
    const dw_kiln_field *field = &f->field[i];
    double to = f->value[i] * kit_log_between(random, 0.33, 3.0);
    if (field->dim == DW_DIM_TEMPERATURE) to = f->value[i] + kit_between(random, -400.0, 400.0);
    if (kit_uniform(random) < 0.2) to = kit_between(random, field->low, field->high);
    if (kit_uniform(random) < 0.03) to = field->low;
    if (kit_uniform(random) < 0.03) to = field->high;
    to = fmin(fmax(to, field->low), field->high);
    if (isfinite(to)) dw_kiln_field_put(field, kiln, to);
}

static void check_solved(const dw_result *r)
{
    assert_true(r->reason[0] == '\0');
    assert_true(r->closure_mass <= 1e-10);
    for (int e = 0; e < DW_ELEMENT_COUNT; e++) assert_true(fabs(r->closure_element[e]) <= 1e-12);
    assert_true(fabs(r->closure_energy) <= 1e-6);
    assert_true(r->equivalence_ratio > 0.0 && r->equivalence_ratio <= 3.0);
    assert_close(r->equivalence_ratio * r->air_ratio, 1.0, 1e-12, 0.0);
    assert_true(isfinite(r->pressure_floor_pa) && isfinite(r->pressure_top_pa));
    assert_true(isnan(r->neutral_plane_m) == (r->neutral != DW_NEUTRAL_INSIDE));
    double sum = 0.0, into = 0.0, out = 0.0;
    for (int i = 0; i < DW_SPECIES_MAX; i++) {
        assert_true(r->gas_wet.x[i] >= 0.0);
        sum += r->gas_wet.x[i];
    }
    assert_close(sum, 1.0, 0.0, 1e-12);
    /* The flow table is the same balance once more. */
    for (int i = 0; i < r->flow_count; i++) {
        const dw_flow *f = &r->flow[i];
        assert_true(isfinite(f->mass_kg_s));
        if (f->kind == DW_FLOW_RELIEF || f->kind == DW_FLOW_STACK) continue;
        const double in = f->kind == DW_FLOW_FLUE ? -f->mass_kg_s : f->mass_kg_s;
        if (in > 0.0) {
            into += in;
        } else {
            out -= in;
        }
    }
    assert_close(into, out, 1e-9, 0.0);
    if (!isfinite(r->dphi_ddamper) || !isfinite(r->dphi_dgas_pressure_per_pa)) {
        print_error("slopes %g and %g at phi %g, floor %g Pa\n", r->dphi_ddamper,
                    r->dphi_dgas_pressure_per_pa, r->equivalence_ratio, r->pressure_floor_pa);
        fail();
    }
}

static void check_unsolved(const dw_result *r)
{
    assert_true(r->reason[0] != '\0');
    /* Nothing but the reason and the counters is left. */
    dw_result empty = {0};
    memcpy(empty.reason, r->reason, sizeof empty.reason);
    empty.density_rounds = r->density_rounds;
    empty.pressure_steps = r->pressure_steps;
    assert_true(r->air_ratio == 0.0 && r->gas_flow_kg_s == 0.0 && r->finding_count == 0 &&
                r->flow_count == 0 && r->heat_input_net_w == 0.0 && !r->solved);
    for (int i = 0; i < DW_SPECIES_MAX; i++) assert_true(r->gas_wet.x[i] == 0.0);
}

static void every_point_closes_or_says_why(void **state)
{
    (void)state;
    kit_random random = kit_seed(1600);
    enum { REASON_MAX = 64, HEAD = 14 };
    static char reason[REASON_MAX][DW_REASON_SIZE];
    int reasons = 0, count[REASON_MAX] = {0}, solved = 0, unsolved = 0, examples = 0;
    static dw_kiln_file file[16];
    static fields f[16];
    while (kit_examples[examples] != NULL) {
        kit_example(kit_examples[examples], &file[examples]);
        dw_kiln resolved = file[examples].kiln;
        dw_kiln_resolve(&resolved);
        f[examples].kiln = &file[examples].kiln;
        dw_kiln_listing(&resolved, &file[examples].given, &kit_data()->species, collect,
                        &f[examples]);
        assert_true(f[examples].count > 20);
        examples++;
    }
    /* DW_POINTS in the environment makes it fewer or more. */
    const int points = kit_cases("DW_POINTS", 10000);
    for (int n = 0; n < points; n++) {
        const int example = n % examples;
        dw_kiln kiln = file[example].kiln;
        const int moves = 1 + kit_pick(&random, n % 3 == 0 ? 40 : 6);
        for (int i = 0; i < moves; i++) {
            move(&random, &f[example], kit_pick(&random, f[example].count), &kiln);
        }
        dw_result r;
        const dw_status status = dw_operating_point(kit_model(), &kiln, &r);
        if (status == DW_OK) {
            solved++;
            check_solved(&r);
            continue;
        }
        assert_true(status == DW_ERR_NO_CONVERGE || status == DW_ERR_DOMAIN);
        unsolved++;
        check_unsolved(&r);
        int k = 0;
        while (k < reasons && strncmp(reason[k], r.reason, HEAD) != 0) k++;
        if (k == reasons && reasons < REASON_MAX) {
            (void)snprintf(reason[reasons++], DW_REASON_SIZE, "%s", r.reason);
        }
        if (k < REASON_MAX) count[k]++;
    }
    print_message("%d solved, %d not:\n", solved, unsolved);
    for (int k = 0; k < reasons; k++) print_message("%6d  %s\n", count[k], reason[k]);
    assert_true(solved > points / 2);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(every_point_closes_or_says_why)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
