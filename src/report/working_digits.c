#include "report_working.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "format.h"
#include "number.h"

enum {
    EXACT_DIGITS = 10,  /* numbers as short as this are printed whole            */
    MOST_DIGITS = 17,   /* any number to its last bit                            */
    ROUNDS = 6
};

struct dw_work_digits {
    const dw_working *w;
    int *step;          /* of the numbers put in one by one              */
    int *column;        /* of the entries of each quantity that is a column */
    double **rounded;   /* scratch: as printed                           */
    int *rounded_to;    /* with so many digits, for columns; 0: not yet  */
};

static void print(double value, int digits, char out[DW_WORK_SHOWN_SIZE])
{
    const double v = value == 0.0 ? 0.0 : value;
    (void)dw_print(out, DW_WORK_SHOWN_SIZE, "%.*g", digits, v);
    const char *e = strchr(out, 'e');
    if (e != NULL && fabs(v) >= 1.0 && fabs(v) < 1e9) {
        /* 1.6e+03 is 1600: nobody reads the other. */
        const double step = pow(10.0, (double)strtol(e + 1, NULL, 10) - digits + 1);
        (void)dw_print(out, DW_WORK_SHOWN_SIZE, "%.0f", round(v / step) * step);
    }
}

static double as_printed(const char *text)
{
    double value;
    return dw_number_read(text, strlen(text), &value) > 0 ? value : NAN;
}

/* With so many digits, but whole where that is short. */
static void print_input(double value, int digits, char out[DW_WORK_SHOWN_SIZE])
{
    if (!isfinite(value)) {
        (void)snprintf(out, DW_WORK_SHOWN_SIZE, "-");
        return;
    }
    for (int d = 1; d <= EXACT_DIGITS; ++d) {
        print(value, d, out);
        if (as_printed(out) == value) return;
    }
    print(value, digits, out);
}

static double rounded_to(double value, int digits)
{
    char text[DW_WORK_SHOWN_SIZE];
    if (!isfinite(value)) return value;
    print(value, digits, text);
    return as_printed(text);
}

static double input_as_printed(double value, int digits)
{
    char text[DW_WORK_SHOWN_SIZE];
    if (!isfinite(value)) return value;
    print_input(value, digits, text);
    return as_printed(text);
}

/* Numbers of a step as they would be printed with so many digits. */
static void put_in(dw_work_digits *d, const dw_work_step *s, int digits)
{
    for (size_t i = 0; i < s->input_count; ++i) {
        const size_t q = s->input[i];
        const dw_work_quantity *quantity = dw_working_quantity(d->w, q);
        const size_t count = quantity->rows > 0 ? quantity->rows : 1;
        const int own = quantity->rows > 0 && d->column[q] > digits ? d->column[q] : digits;
        /* Printing and reading a long column is most of the work. */
        if (quantity->rows > 0 && d->rounded_to[q] == own) continue;
        d->rounded_to[q] = own;
        for (size_t r = 0; r < count; ++r) {
            d->rounded[q][r] = input_as_printed(quantity->value[r], own);
        }
    }
}

static bool agrees(double from_printed, double value, int digits)
{
    if (value == 0.0 || !isfinite(value)) return true;
    return rounded_to(from_printed, digits) == rounded_to(value, digits);
}

/* Does the step give its printed result with so many digits put in? */
static bool works(dw_work_digits *d, size_t step, int digits)
{
    const dw_work_step *s = dw_working_step(d->w, step);
    const dw_work_quantity *q =
        s->result != DW_WORK_NONE ? dw_working_quantity(d->w, s->result) : NULL;
    const size_t rows = q != NULL && q->rows > 0 ? q->rows : 1;
    put_in(d, s, digits);
    for (size_t r = 0; r < rows; ++r) {
        double left, right, left_now, right_now;
        if (dw_working_evaluate(d->w, step, (const double *const *)d->rounded, r, &left, &right) !=
                DW_OK ||
            dw_working_evaluate(d->w, step, NULL, r, &left_now, &right_now) != DW_OK) {
            return true;
        }
        if (s->is_balance || q == NULL) {
            if (!agrees(left, left_now, DW_WORK_RESULT_DIGITS) ||
                !agrees(right, right_now, DW_WORK_RESULT_DIGITS)) {
                return false;
            }
            continue;
        }
        int wanted = DW_WORK_RESULT_DIGITS;
        if (q->rows > 0 && d->column[s->result] > wanted) wanted = d->column[s->result];
        if (!agrees(left, q->value[r], wanted)) return false;
    }
    return true;
}

/* Later steps first: what they ask of a column is known before the step that gives it. */
static bool pass(dw_work_digits *d)
{
    bool changed = false;
    for (size_t k = dw_working_step_count(d->w); k-- > 0;) {
        const dw_work_step *s = dw_working_step(d->w, k);
        int digits = d->step[k];
        while (digits < MOST_DIGITS && !works(d, k, digits)) ++digits;
        changed = changed || digits != d->step[k];
        d->step[k] = digits;
        for (size_t i = 0; i < s->input_count; ++i) {
            const size_t q = s->input[i];
            if (dw_working_quantity(d->w, q)->rows == 0 || d->column[q] >= digits) continue;
            d->column[q] = digits;
            changed = true;
        }
    }
    return changed;
}

void dw_work_digits_free(dw_work_digits *d)
{
    if (d == NULL) return;
    for (size_t q = 0; d->rounded != NULL && q < dw_working_quantity_count(d->w); ++q) {
        free(d->rounded[q]);
    }
    free(d->rounded);
    free(d->rounded_to);
    free(d->step);
    free(d->column);
    free(d);
}

dw_work_digits *dw_work_digits_find(const dw_working *w)
{
    const size_t steps = dw_working_step_count(w), count = dw_working_quantity_count(w);
    dw_work_digits *d = calloc(1, sizeof *d);
    if (d == NULL) return NULL;
    d->w = w;
    d->step = calloc(steps + 1, sizeof *d->step);
    d->column = calloc(count + 1, sizeof *d->column);
    d->rounded = calloc(count + 1, sizeof *d->rounded);
    d->rounded_to = calloc(count + 1, sizeof *d->rounded_to);
    bool good = d->step != NULL && d->column != NULL && d->rounded != NULL &&
                d->rounded_to != NULL;
    for (size_t q = 0; good && q < count; ++q) {
        const size_t rows = dw_working_quantity(w, q)->rows;
        d->rounded[q] = calloc(rows > 0 ? rows : 1, sizeof *d->rounded[q]);
        d->column[q] = DW_WORK_RESULT_DIGITS;
        good = d->rounded[q] != NULL;
    }
    if (!good) {
        dw_work_digits_free(d);
        return NULL;
    }
    for (size_t k = 0; k < steps; ++k) d->step[k] = DW_WORK_RESULT_DIGITS;
    for (int i = 0; i < ROUNDS && pass(d); ++i) {
    }
    return d;
}

void dw_work_show_input(const dw_work_digits *d, size_t step, size_t quantity,
                        char out[DW_WORK_SHOWN_SIZE])
{
    print_input(dw_working_quantity(d->w, quantity)->value[0], d->step[step], out);
}

void dw_work_show_entry(const dw_work_digits *d, size_t quantity, size_t row,
                        char out[DW_WORK_SHOWN_SIZE])
{
    print_input(dw_working_quantity(d->w, quantity)->value[row], d->column[quantity], out);
}

void dw_work_show_result(double value, char out[DW_WORK_SHOWN_SIZE])
{
    if (isfinite(value)) {
        print(value, DW_WORK_RESULT_DIGITS, out);
    } else {
        (void)snprintf(out, DW_WORK_SHOWN_SIZE, "-");
    }
}
