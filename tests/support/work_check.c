#include "work_check.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "check.h"

/* The number of a quantity in a row; of a single one in any. */
static double entry(const dw_work_quantity *q, size_t row)
{
    return q->value[q->rows == 0 ? 0 : row < q->rows ? row : 0];
}

/* The largest number that a step is made of in its own unit: a difference is no better than that. */
static double scale_of(const dw_working *w, const dw_work_step *s, size_t row, double value)
{
    double scale = fabs(value);
    /* Heating values and enthalpies of formation are two sets of digits: part in 1e8 of the heat. */
    if (strcmp(s->keys, "closure.energy") == 0) return 10.0 * dw_working_find(w, "Q_net")->value[0];
    const size_t last = s->input_count > 0 ? s->input[s->input_count - 1] : DW_WORK_NONE;
    const size_t like = s->result != DW_WORK_NONE ? s->result : last;
    const char *unit = like != DW_WORK_NONE ? dw_working_quantity(w, like)->unit : NULL;
    for (size_t i = 0; i < s->input_count; i++) {
        const dw_work_quantity *q = dw_working_quantity(w, s->input[i]);
        if (unit == NULL || strcmp(q->unit, unit) != 0) continue;
        /* Counts and shares of a balance are no measure of each other. */
        if (s->is_balance && unit[0] == '\0') continue;
        scale = fmax(scale, fabs(entry(q, row)));
    }
    return scale;
}

static int check_step(const dw_working *w, const char *name, size_t step,
                      const double *const *numbers, double tolerance)
{
    const dw_work_step *s = dw_working_step(w, step);
    const dw_work_quantity *q =
        s->result != DW_WORK_NONE ? dw_working_quantity(w, s->result) : NULL;
    const size_t rows = q != NULL && q->rows > 0 ? q->rows : 1;
    int bad = 0;
    for (size_t i = 0; i < rows; i++) {
        double left = NAN, right = NAN;
        const dw_status status = dw_working_evaluate(w, step, numbers, i, &left, &right);
        const double wanted = s->is_balance || q == NULL ? right : q->value[i];
        /* Exact nought on one side, such as an element that is absent. */
        const double scale =
            fmax(scale_of(w, s, i, wanted), s->is_balance ? fabs(left) : 0.0);
        if (status == DW_OK && fabs(left - wanted) <= tolerance * scale) continue;
        /* Too small to have its digits. */
        if (status == DW_OK && fabs(left) < 1e-290 && fabs(wanted) < 1e-290) continue;
        if (name != NULL) {
            print_error("%s: step %zu, row %zu, %s = %s: %.15g, wanted %.15g\n", name, step + 1, i,
                        q != NULL ? q->symbol : "balance", s->formula, left, wanted);
        }
        bad++;
    }
    return bad;
}

int work_check_steps(const dw_working *w, const char *name, double tolerance)
{
    int bad = 0;
    for (size_t k = 0; k < dw_working_step_count(w); k++) {
        bad += check_step(w, name, k, NULL, tolerance);
    }
    return bad;
}

int work_check_chain(const dw_working *w, const char *name, double tolerance)
{
    const size_t count = dw_working_quantity_count(w);
    double **own = calloc(count, sizeof *own);
    assert_non_null(own);
    int bad = 0;
    for (size_t k = 0; k < dw_working_step_count(w); k++) {
        const dw_work_step *s = dw_working_step(w, k);
        const double *const *numbers = (const double *const *)own;
        bad += check_step(w, name, k, numbers, tolerance);
        if (s->is_balance) continue;
        const dw_work_quantity *q = dw_working_quantity(w, s->result);
        const size_t rows = q->rows > 0 ? q->rows : 1;
        double *got = malloc(rows * sizeof *got), right;
        assert_non_null(got);
        for (size_t i = 0; i < rows; i++) {
            assert_int_equal(dw_working_evaluate(w, k, numbers, i, &got[i], &right), DW_OK);
        }
        free(own[s->result]);
        own[s->result] = got;
    }
    for (size_t i = 0; i < count; i++) free(own[i]);
    free(own);
    return bad;
}

int work_check_moved(const dw_working *w, const char *symbol, double factor)
{
    const size_t count = dw_working_quantity_count(w);
    double **moved = calloc(count, sizeof *moved);
    assert_non_null(moved);
    bool any = false;
    for (size_t i = 0; i < count; i++) {
        const dw_work_quantity *q = dw_working_quantity(w, i);
        if (strcmp(q->symbol, symbol) != 0) continue;
        const size_t rows = q->rows > 0 ? q->rows : 1;
        moved[i] = malloc(rows * sizeof *moved[i]);
        assert_non_null(moved[i]);
        for (size_t r = 0; r < rows; r++) moved[i][r] = factor * q->value[r];
        any = true;
    }
    int off = 0;
    for (size_t k = 0; k < dw_working_step_count(w); k++) {
        off += check_step(w, NULL, k, (const double *const *)moved, 1e-6) > 0;
    }
    for (size_t i = 0; i < count; i++) free(moved[i]);
    free(moved);
    return any ? off : -1;
}

int work_check_sources(const dw_working *w, const dw_data *data)
{
    int bad = 0;
    for (size_t k = 0; k < dw_working_step_count(w); k++) {
        const char *key = dw_working_step(w, k)->source;
        bool found = false;
        for (size_t s = 0; s < data->source_count; s++) {
            found = found || strcmp(data->source[s].key, key) == 0;
        }
        if (found) continue;
        print_error("step %zu names source '%s'\n", k + 1, key);
        bad++;
    }
    return bad;
}

const dw_work_step *work_step_of(const dw_working *w, const char *key)
{
    const size_t length = strlen(key);
    for (size_t k = 0; k < dw_working_step_count(w); k++) {
        const dw_work_step *s = dw_working_step(w, k);
        for (const char *p = s->keys; (p = strstr(p, key)) != NULL; p += length) {
            if ((p == s->keys || p[-1] == ' ') && (p[length] == ' ' || p[length] == '\0')) return s;
        }
    }
    return NULL;
}

static bool begins(const char *text, const char *words)
{
    return text != NULL && strncmp(text, words, strlen(words)) == 0;
}

bool work_says(const dw_working *w, const char *words)
{
    for (size_t i = 0; i < dw_working_item_count(w); i++) {
        if (begins(dw_working_item(w, i)->text, words)) return true;
    }
    for (size_t i = 0; i < dw_working_table_count(w); i++) {
        if (begins(dw_working_table(w, i)->title, words)) return true;
    }
    for (size_t i = 0; i < dw_working_quantity_count(w); i++) {
        if (begins(dw_working_quantity(w, i)->meaning, words)) return true;
    }
    return false;
}
