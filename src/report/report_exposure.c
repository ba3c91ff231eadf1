#include "report_exposure.h"

#include <math.h>
#include <string.h>


/* SAFETY.md says the same at its head. */
static const char *const first_aid[] = {
    "EVERYBODY OUT, into fresh air, now. Do not stay to finish the firing.",
    "CALL THE EMERGENCY NUMBER (112 in Europe, 911 in North America, 999 in the UK, 000 in "
    "Australia, or your own) from outside. Say that it may be carbon monoxide.",
    "GET MEDICAL HELP even if everybody feels better outside. A blood test shows carbon monoxide "
    "if it is taken soon. If someone is unconscious, confused, pregnant, a child, or ill in "
    "heart or lungs, say so first.",
    "Shut the main gas valve only if you pass it on the way out. Nobody goes back in until the "
    "fire brigade or the gas supplier says that you may.",
    "The figures that follow are for afterwards. They are not a diagnosis, and not a reason to "
    "skip any of this.",
};

void dw_build_first_aid(dw_report *report)
{
    static const char *const labels[] = {"1", "2", "3", "4", "5"};
    dw_item *root = dw_report_root(report);
    dw_item *text = dw_report_group(report, root, NULL, "", DW_STYLE_SCREEN);
    dw_item *list = dw_report_list(report, root, "do_first", NULL);
    for (size_t i = 0; i < sizeof first_aid / sizeof first_aid[0]; i++) {
        (void)dw_report_text(report, text, NULL, labels[i], first_aid[i]);
        dw_add_text(report, list, first_aid[i]);
    }
    dw_tell(report, text, "");
}

static void put_title(dw_report *r, dw_item *screen, const dw_exposure_source *s)
{
    const dw_exposure *x = s->exposure;
    dw_item *line;
    if (s->series != NULL) {
        line = dw_report_line(r, screen, NULL, "Air",
                              "{0}: {1} readings over {2}, mean {3}, highest {4}");
        dw_add_text(r, line, s->series_name);
        (void)dw_report_integer(r, line, NULL, NULL, (long long)s->series->reading_count);
        dw_add_text(r, line, dw_people_duration(r, x->duration_s));
        dw_add_output(r, line, "exposure", "exposure.mean_ppm", x->mean_ppm);
        dw_add_output(r, line, "exposure", "exposure.peak_ppm", x->peak_ppm);
        return;
    }
    line = dw_report_line(r, screen, NULL, "Air", "{0} of carbon monoxide for {1}");
    dw_add_output(r, line, "exposure", "exposure.mean_ppm", x->mean_ppm);
    dw_add_text(r, line, dw_people_duration(r, x->duration_s));
}

static void put_screen(dw_report *r, const dw_report_source *source, const dw_exposure_source *s)
{
    const dw_co_data *co = &source->data->co;
    dw_item *screen = dw_report_group(r, dw_report_root(r), NULL, "", DW_STYLE_SCREEN);
    dw_build_verdict(r, screen, s->exposure->verdict,
                     s->symptoms && s->exposure->verdict == DW_VERDICT_RAISED
                         ? "An exposure is never called low when somebody feels ill or an alarm "
                           "has sounded: that counts for more than these figures."
                         : NULL);
    put_title(r, screen, s);
    dw_build_deciding_limit(r, screen, co, s->exposure, false);
    dw_build_blood_line(r, screen, co, s->exposure);
    dw_build_alarm_line(r, screen, co, s->exposure);
    if (!s->symptoms) {
        (void)dw_report_text(r, screen, NULL, "If ill",
                             "headache, dizziness, sickness or an alarm: everybody out, call the "
                             "emergency number, get medical help; figures come later");
    }
    dw_build_caution(r, screen, "Caution");
}

static void put_numbers(dw_report *r, const dw_exposure_source *s)
{
    const dw_exposure *x = s->exposure;
    dw_item *group = dw_report_group(r, dw_report_root(r), "exposure", NULL, DW_STYLE_SECTION);
    (void)dw_report_text(r, group, "verdict", NULL, dw_verdict_text(x->verdict));
    (void)dw_report_bool(r, group, "symptoms_reported", NULL, s->symptoms);
    (void)dw_report_output(r, group, "exposure", "exposure.duration_s", x->duration_s);
    (void)dw_report_output(r, group, "exposure", "exposure.mean_ppm", x->mean_ppm);
    (void)dw_report_output(r, group, "exposure", "exposure.peak_ppm", x->peak_ppm);
    if (s->series != NULL) {
        (void)dw_report_text(r, group, "series", NULL, s->series_name);
        (void)dw_report_integer(r, group, "reading_count", NULL,
                                (long long)s->series->reading_count);
        (void)dw_report_output(r, group, "exposure", "exposure.longest_gap_s", s->series->longest_gap_s);
    }
}

/* About two dozen rows, evenly over the time: the highest level since the row before, blood then. */
static void put_course(dw_report *r, const dw_exposure_source *s)
{
    dw_item *group = dw_report_group(r, dw_report_root(r), NULL, "Over time", DW_STYLE_SECTION);
    dw_item *table = dw_output_table(r, group, "exposure", "course", "");
    double highest = 0.0;
    int row = 1;
    for (size_t i = 0; i < s->step_count; i++) {
        highest = fmax(highest, s->step[i].peak_ppm);
        if (!dw_exposure_ends_row(s->step, s->step_count, i, &row)) continue;
        dw_cell *cell = dw_report_row(r, table);
        if (cell == NULL) return;
        cell[0].si = s->step[i].until_s;
        cell[1].text = dw_people_duration(r, s->step[i].until_s);
        cell[2].si = highest;
        cell[3].si = s->cohb_frac[i];
        highest = 0.0;
    }
}

static void put_notes(dw_report *r, const dw_report_source *source, const dw_exposure_source *s)
{
    dw_item *prose =
        dw_report_group(r, dw_report_root(r), NULL, "What is assumed", DW_STYLE_PLAIN);
    dw_build_people_notes(r, prose, &source->data->co, s->exposure, s->person);
    if (s->series != NULL) {
        dw_item *line = dw_report_line(r, prose, NULL, "",
                                       "Between two readings the higher of the two is assumed to "
                                       "hold (longest gap {0}). Nothing is known of the time "
                                       "before the first reading and after the last.");
        dw_add_text(r, line, dw_people_duration(r, s->series->longest_gap_s));
    }
    (void)dw_report_text(r, prose, NULL, "",
                         isnan(s->person->barometric_pa_abs)
                             ? "The air pressure is that at sea level; higher up, carbon "
                               "monoxide acts faster."
                             : "The air pressure is as given; the lower oxygen of thinner air is "
                               "counted.");
}

void dw_build_exposure(dw_report *report, const dw_report_source *source,
                       const dw_exposure_source *x)
{
    if (x->symptoms) dw_build_first_aid(report);
    put_screen(report, source, x);
    dw_build_head(report, source);
    put_numbers(report, x);
    dw_build_limits(report, source->data, x->exposure, NULL);
    dw_build_alarms(report, source->data, x->exposure);
    put_course(report, x);
    dw_build_people(report, source->data, x->exposure, x->person);
    put_notes(report, source, x);
}
