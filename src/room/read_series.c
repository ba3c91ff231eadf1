#include "read_series.h"

#include <csv.h>
#include <math.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "diag.h"
#include "format.h"
#include "number.h"

enum { FIELD_SIZE = 64, COLUMN_MAX = 64, FAULT_MAX = 20 };

static const double day_s = 86400.0;

/* One row of text, as libcsv hands it over. */
typedef struct row {
    char field[COLUMN_MAX][FIELD_SIZE];
    size_t count;
    bool ended, too_long;
} row;

typedef struct reading {
    dw_diag_list *diag;
    const char *file;
    int line;            /* that the row begins on                */
    int faults;
    row row;
    int time_column, ppm_column;
    double time_unit_s;  /* 0: a clock                            */
    double first_s, last_s, last_ppm, midnight_s;
    dw_series *series;
    size_t capacity;
    bool out_of_memory;
} reading;

static void fault(reading *r, const char *code, const char *format, ...) DW_PRINTF(3, 4);

static void fault(reading *r, const char *code, const char *format, ...)
{
    char text[200];
    va_list arguments;
    va_start(arguments, format);
    (void)dw_vprint(text, sizeof text, format, arguments);
    va_end(arguments);
    if (r->faults++ < FAULT_MAX) {
        dw_diag_add(r->diag, DW_ERROR, code, (dw_place){r->file, r->line, 0}, "%s", text);
    }
}

static void on_field(void *text, size_t length, void *context)
{
    row *to = context;
    if (to->count >= COLUMN_MAX) return;
    if (length >= FIELD_SIZE) {
        to->too_long = true;
        length = FIELD_SIZE - 1;
    }
    if (length > 0) memcpy(to->field[to->count], text, length);
    to->field[to->count++][length] = '\0';
}

static void on_row(int terminator, void *context)
{
    (void)terminator;
    ((row *)context)->ended = true;
}

/* ---- one row ------------------------------------------------------------------------------ */

static bool read_heading(reading *r)
{
    static const struct {
        const char *name;
        double unit_s;
    } times[] = {{"time_s", 1.0}, {"time_min", 60.0}, {"time_h", 3600.0}, {"clock", 0.0}};
    r->time_column = r->ppm_column = -1;
    for (size_t i = 0; i < r->row.count; i++) {
        for (size_t k = 0; k < sizeof times / sizeof times[0]; k++) {
            if (strcmp(r->row.field[i], times[k].name) != 0) continue;
            if (r->time_column >= 0) {
                fault(r, "bad-heading", "the heading has two columns of time, expected one");
                return false;
            }
            r->time_column = (int)i;
            r->time_unit_s = times[k].unit_s;
        }
        if (strcmp(r->row.field[i], "ppm") == 0 || strcmp(r->row.field[i], "co_ppm") == 0) {
            if (r->ppm_column >= 0) {
                fault(r, "bad-heading", "the heading has two columns of ppm, expected one");
                return false;
            }
            r->ppm_column = (int)i;
        }
    }
    if (r->time_column < 0) {
        fault(r, "bad-heading",
              "the heading has no column of time, expected time_s, time_min, time_h or clock");
    }
    if (r->ppm_column < 0) fault(r, "bad-heading", "the heading has no column ppm");
    return r->time_column >= 0 && r->ppm_column >= 0;
}

static bool whole_number(const char *text, double *value)
{
    const size_t length = strlen(text);
    return length > 0 && dw_number_read(text, length, value) == length && isfinite(*value);
}

/* hh:mm or hh:mm:ss as seconds of the day. */
static bool clock_time(const char *text, double *seconds)
{
    const size_t length = strlen(text);
    if (length != 5 && length != 8) return false;
    double sum = 0.0, unit = 3600.0;
    for (size_t i = 0; i < length; i += 3) {
        if (text[i] < '0' || text[i] > '9' || text[i + 1] < '0' || text[i + 1] > '9') return false;
        if (i + 2 < length && text[i + 2] != ':') return false;
        const double part = 10.0 * (text[i] - '0') + (text[i + 1] - '0');
        if (part >= (i == 0 ? 24.0 : 60.0)) return false;
        sum += part * unit;
        unit /= 60.0;
    }
    *seconds = sum;
    return true;
}

static bool read_time(reading *r, const char *text, double *time_s)
{
    if (r->time_unit_s > 0.0) {
        double value;
        if (!whole_number(text, &value) || fabs(value * r->time_unit_s) > 1e9) {
            fault(r, "bad-number", "the time is '%s', expected a number", text);
            return false;
        }
        *time_s = value * r->time_unit_s;
        return true;
    }
    if (!clock_time(text, time_s)) {
        fault(r, "bad-number", "the clock is '%s', expected a time such as 15:04 or 15:04:30",
              text);
        return false;
    }
    *time_s += r->midnight_s;
    if (r->series->reading_count > 0 && *time_s < r->last_s) {
        r->midnight_s += day_s;
        *time_s += day_s;
    }
    return true;
}

static void add_step(reading *r, double until_s, double ppm)
{
    dw_series *s = r->series;
    if (s->step_count == r->capacity) {
        const size_t larger = r->capacity == 0 ? 256 : 2 * r->capacity;
        dw_exposure_step *grown = realloc(s->step, larger * sizeof *grown);
        if (grown == NULL) {
            r->out_of_memory = true;
            return;
        }
        s->step = grown;
        r->capacity = larger;
    }
    s->step[s->step_count++] = (dw_exposure_step){until_s, ppm, ppm};
}

static void read_row(reading *r)
{
    double time_s, ppm;
    if (r->row.too_long) {
        fault(r, "bad-row", "a field has %d characters or more, which is too long", FIELD_SIZE);
        return;
    }
    const int last = r->time_column > r->ppm_column ? r->time_column : r->ppm_column;
    if (r->row.count <= (size_t)last) {
        fault(r, "bad-row", "the row has %zu fields, expected %d or more", r->row.count, last + 1);
        return;
    }
    const char *level = r->row.field[r->ppm_column];
    if (!read_time(r, r->row.field[r->time_column], &time_s)) return;
    if (!whole_number(level, &ppm) || ppm < 0.0 || ppm > 1e6) {
        fault(r, "bad-number", "the ppm is '%s', expected 0 to 1000000", level);
        return;
    }
    if (r->series->reading_count == 0) {
        r->first_s = time_s;
    } else if (!(time_s > r->last_s)) {
        fault(r, "not-rising", "the time is not later than that of the row before");
        return;
    } else {
        /* What was between two readings nobody knows: the higher of them is taken. */
        add_step(r, time_s - r->first_s, fmax(ppm, r->last_ppm));
        r->series->longest_gap_s = fmax(r->series->longest_gap_s, time_s - r->last_s);
    }
    r->series->reading_count++;
    r->last_s = time_s;
    r->last_ppm = ppm;
}

/* ---- all rows ----------------------------------------------------------------------------- */

/* Nothing but the end of a line. The text of a series need not end in NUL. */
static bool is_line_end(const char *from, size_t size)
{
    for (size_t i = 0; i < size; ++i) {
        if (from[i] != '\r' && from[i] != '\n') return false;
    }
    return true;
}

static void take_rows(reading *r, struct csv_parser *parser, const char *text, size_t length)
{
    bool heading = true, inside = false;
    int line = 0;
    for (size_t at = 0; at < length && !r->out_of_memory;) {
        const char *end = memchr(text + at, '\n', length - at);
        const size_t size = end != NULL ? (size_t)(end - (text + at)) + 1 : length - at;
        const char *from = text + at;
        const bool last = at + size == length && end == NULL;
        at += size;
        line++;
        if (!inside && (from[0] == '#' || is_line_end(from, size))) continue;
        if (!inside) {
            r->line = line;
            r->row.count = 0;
            r->row.ended = r->row.too_long = false;
        }
        bool good = csv_parse(parser, from, size, on_field, on_row, &r->row) == size;
        if (good && last) good = csv_fini(parser, on_field, on_row, &r->row) == 0;
        if (!good) {
            fault(r, "bad-csv", "%s", csv_strerror(csv_error(parser)));
            return;
        }
        inside = !r->row.ended;
        if (inside) continue;
        if (heading && !read_heading(r)) return;
        if (!heading) read_row(r);
        heading = false;
        if (r->series->reading_count > DW_SERIES_MAX) {
            fault(r, "too-many", "there are more than %d readings, which is the most allowed",
                  DW_SERIES_MAX);
            return;
        }
    }
    if (inside) fault(r, "bad-csv", "a field in quotes does not end");
    if (r->faults > 0 || r->out_of_memory) return;
    r->line = 0;
    if (r->series->reading_count < 2) {
        fault(r, "too-few", "the file has %zu readings, expected two or more",
              r->series->reading_count);
    }
}

dw_status dw_read_series(const char *file, const char *text, size_t length, dw_diag_list *diag,
                         dw_series *series)
{
    if (series == NULL) return DW_ERR_ARG;
    *series = (dw_series){.step = NULL};
    if (file == NULL || (text == NULL && length > 0)) return DW_ERR_ARG;
    reading *r = calloc(1, sizeof *r);
    struct csv_parser parser;
    if (r == NULL || csv_init(&parser, CSV_STRICT | CSV_STRICT_FINI) != 0) {
        free(r);
        return DW_ERR_NOMEM;
    }
    r->diag = diag;
    r->file = file;
    r->series = series;
    take_rows(r, &parser, text, length);
    csv_free(&parser);
    if (r->faults > FAULT_MAX) {
        dw_diag_add(diag, DW_ERROR, "more-errors", (dw_place){file, 0, 0},
                    "%d more errors are not shown", r->faults - FAULT_MAX);
    }
    const dw_status status = r->out_of_memory ? DW_ERR_NOMEM
                             : r->faults > 0  ? DW_ERR_INPUT
                                              : DW_OK;
    free(r);
    if (status != DW_OK) dw_series_free(series);
    return status;
}

void dw_series_free(dw_series *series)
{
    free(series->step);
    *series = (dw_series){.step = NULL};
}
