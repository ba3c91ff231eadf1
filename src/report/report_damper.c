/* What the dampers do: which word each position gives, what is never reached, and how to set it. */
#include "reports.h"
#include "show_number.h"

#include <math.h>
#include <string.h>

/* From here on a position is shown as 100 %. */
static const double FULLY = 0.9995;

static bool is_known(const dw_maker *m)
{
    return m->source->damper != NULL && m->result->solved;
}

static const char *word_of(const dw_maker *m, int band)
{
    return band < 0 ? "not solved" : m->source->data->band[band].word;
}

static dw_number share(double value)
{
    return dw_output_number("estimate", "damper_words.*.from_frac", value);
}

/* "54.2 %", to be put into a sentence. */
static const char *share_text(const dw_maker *m, double value)
{
    char shown[DW_SHOWN_SIZE];
    const dw_number number = share(value);
    dw_show_number(&number, DW_UNITS_METRIC, shown);
    return dw_report_keep(m->report, shown);
}

static const char *ratio_text(const dw_maker *m, double value)
{
    char shown[DW_SHOWN_SIZE];
    const dw_number number = dw_output_number("estimate", "equivalence_ratio", value);
    dw_show_bare(&number, DW_UNITS_METRIC, shown);
    return dw_report_keep(m->report, shown);
}

/* ---- the words in order ------------------------------------------------------------------- */

static const char *all_words(const dw_maker *m)
{
    const dw_damper_words *d = m->source->damper;
    if (d->count == 1 && d->span[0].band >= 0) {
        return dw_report_keepf(m->report, "%s at every position",
                               dw_reduction_phrase(m->report, m->source->data, d->span[0].band));
    }
    const char *text = "";
    for (int i = 0; i < d->count; ++i) {
        const dw_damper_span *span = &d->span[i];
        const char *word = i == 0 && span->band >= 0
                               ? dw_reduction_phrase(m->report, m->source->data, span->band)
                               : word_of(m, span->band);
        if (i + 1 == d->count) {
            text = dw_report_keepf(m->report, "%s%s %s", text, word,
                                   span->from_frac > FULLY ? "only when fully open" : "above");
        } else {
            text = dw_report_keepf(m->report, "%s%s %s %s, ", text, word, i == 0 ? "up to" : "to",
                                   share_text(m, span->to_frac));
        }
        if (text == NULL) return "";
    }
    return text;
}

/* An option that is to be copied stays on one line while it fits. */
static const char *unbroken(const dw_maker *m, const char *option)
{
    const char *text = "";
    while (option != NULL && text != NULL && *option != '\0') {
        const size_t length = strcspn(option, " ");
        const bool more = option[length] == ' ';
        text = more ? dw_report_keepf(m->report, "%s%.*s%c", text, (int)length, option, DW_GLUE)
                    : dw_report_keepf(m->report, "%s%s", text, option);
        option += more ? length + 1 : length;
    }
    return text != NULL ? text : "";
}

/* The options that set every damper by itself when the widest is open this far. */
static const char *set_options(const dw_maker *m, double widest_frac)
{
    const dw_damper_words *d = m->source->damper;
    const char *text = "";
    for (int i = 0; i < d->flue_count && text != NULL; ++i) {
        const char *name = m->source->kiln->flue[i].name;
        const char quote = strchr(name, '\'') != NULL ? '"' : '\'';
        char bare[DW_SHOWN_SIZE];
        const dw_number number = share(dw_damper_mark(d, i, widest_frac));
        dw_show_bare(&number, DW_UNITS_METRIC, bare);
        text = dw_report_keepf(m->report, "%s%s%s", text, i > 0 ? " " : "",
                               unbroken(m, dw_report_keepf(m->report, "--set %cflues.%s.damper.open=%s %%%c",
                                                           quote, name, bare, quote)));
    }
    return text != NULL ? text : "";
}

/* ---- what is never reached ---------------------------------------------------------------- */

static const char *limit_text(dw_damper_limit limit)
{
    switch (limit) {
    case DW_LIMIT_INLETS: return "the burners and openings let in no more air than this";
    case DW_LIMIT_FLUES: return "the flues let out no more gas than this";
    case DW_LIMIT_STACK: return "the stack pulls no harder than this";
    case DW_LIMIT_BURNER_AIR: return "the burners bring in this much air by themselves";
    case DW_LIMIT_OPENINGS: return "this much air comes in through the openings";
    case DW_LIMIT_LEAKS: return "this much air leaks in";
    case DW_LIMIT_BACK_FLOW: return "air comes back down a flue";
    case DW_LIMIT_UNSOLVED: return "beyond this position the kiln has no solution";
    case DW_LIMIT_NONE: break;
    }
    return "the atmosphere jumps past it";
}

static bool is_reached(const dw_damper_words *d, int band)
{
    for (int i = 0; i < d->count; ++i) {
        if (d->span[i].band == band) return true;
    }
    return false;
}

/* The end of the dampers' reach that is nearest to a word; NULL where the ratio jumps past it. */
static const dw_damper_end *end_before(const dw_maker *m, int band)
{
    const dw_damper_words *d = m->source->damper;
    const dw_data *data = m->source->data;
    if (!isfinite(d->leanest.equivalence_ratio)) return NULL;
    if (d->leanest.equivalence_ratio >= data->band[band].phi_below) return &d->leanest;
    if (band > 0 && d->richest.equivalence_ratio < data->band[band - 1].phi_below) return &d->richest;
    return NULL;
}

/* The words that one end of the reach keeps away: "medium, heavy". */
static const char *words_beyond(const dw_maker *m, const dw_damper_end *end)
{
    const char *text = NULL;
    for (size_t i = 0; i < m->source->data->band_count; ++i) {
        if (is_reached(m->source->damper, (int)i) || end_before(m, (int)i) != end) continue;
        text = text == NULL ? word_of(m, (int)i)
                            : dw_report_keepf(m->report, "%s, %s", text, word_of(m, (int)i));
        if (text == NULL) return NULL;
    }
    return text;
}

static void add_beyond(const dw_maker *m, dw_item *screen, const dw_damper_end *end, const char *most)
{
    const char *words = words_beyond(m, end);
    if (words == NULL) return;
    dw_item *line = dw_report_line(m->report, screen, NULL, "",
                                   "Not at any position: {0}. The {1} is {2}, at {3}: {4}.");
    dw_add_text(m->report, line, words);
    dw_add_text(m->report, line, most);
    dw_add_text(m->report, line, ratio_text(m, end->equivalence_ratio));
    dw_add_number(m->report, line, share(end->open_frac));
    dw_add_text(m->report, line, limit_text(end->limit));
    if (line != NULL) line->max_lines = 3;
}

/* ---- first screen ------------------------------------------------------------------------- */

/* How to set the dampers for the nearest other words: the place that is just inside each of them. */
static void add_settings(const dw_maker *m, dw_item *screen)
{
    const dw_damper_words *d = m->source->damper;
    int here = 0;
    while (here + 1 < d->count && d->widest_frac > d->span[here].to_frac) ++here;
    for (int side = -1; side <= 1; side += 2) {
        const int i = here + side;
        if (i < 0 || i >= d->count || d->span[i].band < 0) continue;
        dw_item *line = dw_report_line(m->report, screen, NULL, "", "{0} begins at {1}");
        dw_add_text(m->report, line, dw_sentence(m->report, word_of(m, d->span[i].band)));
        dw_add_text(m->report, line, set_options(m, side < 0 ? d->span[i].to_frac : d->span[i].from_frac));
        if (line != NULL) line->max_lines = 3;
    }
}

void dw_add_damper_words(const dw_maker *m, dw_item *screen)
{
    if (!is_known(m)) return;
    const dw_damper_words *d = m->source->damper;
    dw_item *line = dw_report_line(m->report, screen, NULL, "Damper",
                                   d->together ? "Moved together, read at '{1}': {0}." : "{0}.");
    const char *words = all_words(m);
    dw_add_text(m->report, line, d->together ? words : dw_sentence(m->report, words));
    if (d->together) dw_add_text(m->report, line, m->source->kiln->flue[d->widest].name);
    if (line != NULL) line->max_lines = 3;
    if (d->together) add_settings(m, screen);
    add_beyond(m, screen, &d->leanest, "leanest equivalence ratio");
    add_beyond(m, screen, &d->richest, "richest equivalence ratio");
}

/* ---- JSON and section --------------------------------------------------------------------- */

static void put_words(const dw_maker *m, dw_item *parent)
{
    const dw_damper_words *d = m->source->damper;
    dw_item *table = dw_output_table(m->report, parent, "estimate", "damper_words",
                                     "What each position of the damper gives");
    for (int i = 0; i < d->count; ++i) {
        dw_cell *cell = dw_report_row(m->report, table);
        if (cell == NULL) return;
        const dw_damper_span *span = &d->span[i];
        cell[0].text = span->band < 0 ? NULL : word_of(m, span->band);
        cell[1].text = span->band < 0
                           ? "not solved"
                           : dw_reduction_phrase(m->report, m->source->data, span->band);
        dw_output_fill(table->table, cell, m->source->data, DW_IN_DAMPER, d, (size_t)i);
    }
}

static void put_marks(const dw_maker *m, dw_item *parent)
{
    const dw_damper_words *d = m->source->damper;
    if (!d->together) return;
    dw_item *prose = dw_report_group(m->report, parent, NULL, "Setting each damper", DW_STYLE_PLAIN);
    dw_item *line = dw_report_line(m->report, prose, NULL, "",
                                   "The positions above are those of '{0}', the damper that is open "
                                   "widest. The others move with it in proportion.");
    dw_add_text(m->report, line, m->source->kiln->flue[d->widest].name);
    for (int i = 1; i < d->count; ++i) {
        line = dw_report_line(m->report, prose, NULL, "", "From {0} to {1}: {2}");
        dw_add_text(m->report, line, word_of(m, d->span[i - 1].band));
        dw_add_text(m->report, line, word_of(m, d->span[i].band));
        dw_add_text(m->report, line, set_options(m, d->span[i].from_frac));
    }
}

static void put_not_reached(const dw_maker *m, dw_item *parent)
{
    const dw_data *data = m->source->data;
    bool any = false;
    for (size_t i = 0; i < data->band_count; ++i) any = any || !is_reached(m->source->damper, (int)i);
    dw_item *table = dw_output_table(m->report, parent, "estimate", "damper_words_not_reached",
                                     any ? "Words that no position gives" : NULL);
    for (size_t i = 0; i < data->band_count; ++i) {
        if (is_reached(m->source->damper, (int)i)) continue;
        dw_cell *cell = dw_report_row(m->report, table);
        if (cell == NULL) return;
        const dw_damper_end *end = end_before(m, (int)i);
        cell[0].text = data->band[i].word;
        cell[1].si = end != NULL ? end->equivalence_ratio : NAN;
        cell[2].si = end != NULL ? end->open_frac : NAN;
        cell[3].text = limit_text(end != NULL ? end->limit : DW_LIMIT_NONE);
    }
}

void dw_build_damper_words(const dw_maker *m)
{
    dw_item *root = dw_report_root(m->report);
    if (!is_known(m)) {
        (void)dw_report_null(m->report, root, "damper_words", NULL, NULL);
        (void)dw_report_null(m->report, root, "damper_words_of", NULL, NULL);
        (void)dw_report_null(m->report, root, "damper_words_not_reached", NULL, NULL);
        return;
    }
    put_words(m, root);
    (void)dw_report_text(m->report, root, "damper_words_of", NULL,
                         m->source->kiln->flue[m->source->damper->widest].name);
    put_marks(m, root);
    put_not_reached(m, root);
}
