/* What `check` says of the gas: where its pressure is read, and how far the gauge may be off. */
#include "reports.h"

#include <math.h>
#include <stddef.h>

/* A dial of class 1.6 may be off by so much of its full scale [en837-1]. */
static const double DIAL_ERROR = 0.016;

/* The heading comes with the first line below it. */
typedef struct gas_section {
    dw_report *report;
    const dw_report_source *source;
    dw_item *prose;
} gas_section;

static dw_item *line_of(gas_section *s, const char *label, const char *pattern)
{
    if (s->prose == NULL) {
        s->prose = dw_report_group(s->report, dw_report_root(s->report), NULL, "The gas and its jets",
                                   DW_STYLE_PROSE);
    }
    return dw_report_line(s->report, s->prose, NULL, label, pattern);
}

/* In the unit of the pressure that was typed. */
static void add_pressure(const gas_section *s, dw_item *line, double si, int digits)
{
    dw_number number = dw_number_of(si, DW_DIM_PRESSURE_GAUGE, digits);
    number.trim = true;
    dw_add_number(s->report, line,
                  dw_number_typed(s->source, offsetof(dw_kiln, operating.gas_pressure_pa), number));
}

static void add_share(const gas_section *s, dw_item *line, double share)
{
    dw_add_number(s->report, line, dw_number_of(share, DW_DIM_RATIO, 2));
}

static void put_supply(gas_section *s, const dw_result *result)
{
    const dw_operating *o = &s->source->kiln->operating;
    for (int i = 0; o->gauge != DW_GAUGE_JET && i < result->finding_count; i++) {
        const dw_finding *f = &result->finding[i];
        if (f->code != DW_FIND_SUPPLY_LOSS) continue;
        dw_item *line = line_of(s, "supply",
                                "The gauge at the manifold reads {0}, and the jets get {1} at this flow: {2} of the "
                                "pressure is lost on the way.");
        add_pressure(s, line, o->gas_pressure_pa, 3);
        add_pressure(s, line, f->value, 3);
        add_share(s, line, 1.0 - f->value / o->gas_pressure_pa);
    }
}

static void put_gauge(gas_section *s)
{
    const dw_operating *o = &s->source->kiln->operating;
    if (!(o->gauge_end_pa > 0.0) || !(o->gas_pressure_pa > 0.0)) return;
    if (o->gas_pressure_pa > o->gauge_end_pa) {
        dw_item *beyond = line_of(s, "WARNING",
                                  "The gas pressure of {0} is beyond the end of the gauge's scale, {1}. Read the gauge "
                                  "again.");
        add_pressure(s, beyond, o->gas_pressure_pa, 3);
        add_pressure(s, beyond, o->gauge_end_pa, 3);
        return;
    }
    dw_item *line = line_of(s, "gauge",
                            "A dial that goes to {0} may be off by {1} at any reading (class 1.6: 1.6 % of the full "
                            "scale). That is {2} of the {3} read here, and about half as much of the gas. A gauge whose "
                            "scale ends nearer the reading is better.");
    const double error_pa = DIAL_ERROR * o->gauge_end_pa;
    add_pressure(s, line, o->gauge_end_pa, 3);
    add_pressure(s, line, error_pa, 2);
    add_share(s, line, error_pa / o->gas_pressure_pa);
    add_pressure(s, line, o->gas_pressure_pa, 3);
}

void dw_build_check_gas(dw_report *report, const dw_report_source *source, const dw_result *result)
{
    gas_section s = {report, source, NULL};
    put_supply(&s, result);
    put_gauge(&s);
}
