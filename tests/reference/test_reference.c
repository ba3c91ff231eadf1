/* Runs every row of every table in tests/reference (see reference.h).
 *
 *     test_reference [folder [sources.yaml]]
 *
 * Tables whose name ends in _cea.csv hold whole states, not rows of this kind; they are read by
 * tests/consistency/test_equilibrium_cea.c. */

#include "reference.h"

#include <dirent.h>
#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "csv_table.h"

#ifndef DW_REFERENCE_DIR
#define DW_REFERENCE_DIR NULL
#endif
#ifndef DW_CONFIG_DIR
#define DW_CONFIG_DIR NULL
#endif

enum {
    F_ID,
    F_QUANTITY,
    F_INPUTS,
    F_EXPECTED,
    F_UNIT,
    F_RTOL,
    F_ATOL,
    F_SOURCE,
    F_WHERE,
    F_PROVENANCE,
    F_STATUS,
    F_REASON,
    FIELD_COUNT
};
static const char *const field_names[FIELD_COUNT] = {"id",    "quantity",   "inputs", "expected",
                                                     "unit",  "rtol",       "atol",   "source",
                                                     "where", "provenance", "status", "reason"};

enum { INPUT_MAX = 40, NAME_MAX_COUNT = 100, NAME_LENGTH = 40 };

/* Input names of a table, and whether any row's function asked for them: a name that none asks for
 * is a slip of the pen. Rows of one case may share inputs that not each of them needs. */
typedef struct name_list {
    int count;
    char name[NAME_MAX_COUNT][NAME_LENGTH];
    bool asked[NAME_MAX_COUNT];
} name_list;

/* What happens while a row is computed; apart from the row, which its function may not change. */
typedef struct row_log {
    name_list *names;
    char complaint[160]; /* "" when there is none */
} row_log;

struct ref_row {
    int input_count;
    char *name[INPUT_MAX]; /* into text */
    char *value[INPUT_MAX];
    char *text; /* owned copy of the field inputs */
    row_log *log;
};

static void complain(row_log *log, const char *text, const char *subject)
{
    if (log->complaint[0] == '\0') {
        (void)snprintf(log->complaint, sizeof log->complaint, "%s '%s'", text, subject);
    }
}

/* Entry of a name, added when new; -1 when the list is full or the name too long. */
static int enter_name(name_list *list, const char *name)
{
    for (int i = 0; i < list->count; i++) {
        if (strcmp(list->name[i], name) == 0) return i;
    }
    if (list->count == NAME_MAX_COUNT || strlen(name) >= NAME_LENGTH) return -1;
    memcpy(list->name[list->count], name, strlen(name) + 1);
    list->asked[list->count] = false;
    return list->count++;
}

static const char *find_input(const ref_row *row, const char *name)
{
    for (int i = 0; i < row->input_count; i++) {
        if (strcmp(row->name[i], name) == 0) {
            const int entry = enter_name(row->log->names, name);
            if (entry >= 0) row->log->names->asked[entry] = true;
            return row->value[i];
        }
    }
    return NULL;
}

static bool parse_number(const char *text, double *number)
{
    char *end;
    *number = strtod(text, &end);
    return end != text && *end == '\0' && isfinite(*number);
}

double ref_number_or(const ref_row *row, const char *name, double fallback)
{
    const char *text = find_input(row, name);
    double number = fallback;
    if (text != NULL && !parse_number(text, &number)) {
        complain(row->log, "not a number:", name);
        return NAN;
    }
    return number;
}

double ref_number(const ref_row *row, const char *name)
{
    if (find_input(row, name) == NULL) {
        complain(row->log, "missing input", name);
        return NAN;
    }
    return ref_number_or(row, name, NAN);
}

const char *ref_word(const ref_row *row, const char *name, const char *fallback)
{
    const char *text = find_input(row, name);
    return text == NULL ? fallback : text;
}

/* Cuts `name=value;name=value` into the row. */
static bool split_inputs(const char *field, ref_row *row)
{
    const size_t size = strlen(field) + 1;
    row->input_count = 0;
    row->text = malloc(size);
    if (row->text == NULL) return false;
    memcpy(row->text, field, size);
    char *at = row->text;
    while (*at != '\0') {
        char *end = strchr(at, ';');
        char *equals = strchr(at, '=');
        if (equals == NULL || equals == at || (end != NULL && equals > end)) return false;
        if (row->input_count == INPUT_MAX) return false;
        *equals = '\0';
        row->name[row->input_count] = at;
        row->value[row->input_count++] = equals + 1;
        if (end == NULL) break;
        *end = '\0';
        at = end + 1;
    }
    return true;
}

static ref_function find_quantity(const char *name)
{
    const ref_quantity *const lists[] = {ref_flow_quantities, ref_gas_quantities,
                                         ref_fuel_quantities};
    for (size_t l = 0; l < sizeof lists / sizeof lists[0]; l++) {
        for (const ref_quantity *q = lists[l]; q->name != NULL; q++) {
            if (strcmp(q->name, name) == 0) return q->compute;
        }
    }
    return NULL;
}

/* The text of sources.yaml and whether it has a line `key: <key>`. */
static char *read_text(const char *path)
{
    FILE *file = fopen(path, "rb");
    if (file == NULL) return NULL;
    char *text = NULL;
    size_t length = 0, got;
    do {
        char *grown = realloc(text, length + 4097);
        if (grown == NULL) {
            free(text);
            text = NULL;
            break;
        }
        text = grown;
        got = fread(text + length, 1, 4096, file);
        length += got;
        text[length] = '\0';
    } while (got > 0);
    (void)fclose(file);
    return text;
}

static bool has_source(const char *sources, const char *key)
{
    static const char mark[] = "key: ";
    const size_t length = strlen(key);
    for (const char *at = strstr(sources, mark); at != NULL; at = strstr(at, mark)) {
        at += sizeof mark - 1;
        if (strncmp(at, key, length) == 0 && strchr(" \r\n", at[length]) != NULL) return true;
    }
    return false;
}

static bool one_of(const char *word, const char *const list[], size_t count)
{
    for (size_t i = 0; i < count; i++) {
        if (strcmp(list[i], word) == 0) return true;
    }
    return false;
}

/* What is wrong with the row as it is written; NULL when nothing is. */
static const char *fault_in_form(char *const *f, const char *sources)
{
    static const char *const provenances[] = {"read", "recalled", "computed", "derived",
                                              "practice"};
    static const char *const statuses[] = {"ok", "fails", "known-failure"};
    const bool known_failure = strcmp(f[F_STATUS], "known-failure") == 0;
    double number, rtol, atol;
    if (f[F_ID][0] == '\0') return "has no id";
    if (!one_of(f[F_STATUS], statuses, 3)) return "has an unknown status";
    if (!one_of(f[F_PROVENANCE], provenances, 5)) return "has no known provenance";
    if (f[F_SOURCE][0] == '\0' || f[F_WHERE][0] == '\0') return "has no source or place in it";
    if (!has_source(sources, f[F_SOURCE])) return "names a source that sources.yaml lacks";
    if (f[F_UNIT][0] == '\0') return "has no unit";
    if (known_failure && f[F_REASON][0] == '\0') return "gives no reason";
    if (find_quantity(f[F_QUANTITY]) == NULL) return "asks for an unknown quantity";
    if (strcmp(f[F_STATUS], "fails") == 0) return NULL;
    if (!parse_number(f[F_EXPECTED], &number)) return "expects no number";
    if (!parse_number(f[F_RTOL], &rtol) || !parse_number(f[F_ATOL], &atol) || rtol < 0.0 ||
        atol < 0.0) {
        return "has no tolerance";
    }
    return NULL;
}

typedef struct tally {
    size_t passed, failed;
    double worst; /* largest deviation / tolerance of rows that must agree */
    const char *worst_id;
} tally;

/* The row's verdict: NULL when it passes, otherwise why not, in message. */
static const char *check_row(char *const *f, const char *sources, tally *t, name_list *names,
                             char *message, size_t size)
{
    const char *fault = fault_in_form(f, sources);
    if (fault != NULL) return fault;

    row_log log = {names, ""};
    ref_row row = {.log = &log};
    if (!split_inputs(f[F_INPUTS], &row)) {
        free(row.text);
        return "has malformed inputs";
    }
    for (int i = 0; i < row.input_count; i++) {
        if (enter_name(names, row.name[i]) < 0)
            complain(&log, "too many or too long:", row.name[i]);
    }
    const double found = find_quantity(f[F_QUANTITY])(&row);
    free(row.text);
    if (log.complaint[0] != '\0') {
        (void)snprintf(message, size, "%s", log.complaint);
        return message;
    }

    if (strcmp(f[F_STATUS], "fails") == 0) {
        if (isnan(found)) return NULL;
        (void)snprintf(message, size, "gives %.10g, should answer with an error", found);
        return message;
    }
    double expected = NAN, rtol = NAN, atol = NAN;
    (void)(parse_number(f[F_EXPECTED], &expected) && parse_number(f[F_RTOL], &rtol) &&
           parse_number(f[F_ATOL], &atol));
    /* Without a tolerance the row asks for equality: counts, yes or no. */
    const double ratio =
        found == expected ? 0.0 : fabs(found - expected) / (rtol * fabs(expected) + atol);
    const bool agrees = ratio <= 1.0; /* false for NaN */
    if (strcmp(f[F_STATUS], "known-failure") == 0) {
        return agrees ? "is marked known-failure but agrees: mark it ok" : NULL;
    }
    if (!agrees) {
        (void)snprintf(message, size, "gives %.10g, expected %s %s (off by %.3g tolerances)", found,
                       f[F_EXPECTED], f[F_UNIT], ratio);
        return message;
    }
    if (t->worst_id == NULL || ratio > t->worst) {
        t->worst = ratio;
        t->worst_id = f[F_ID];
    }
    return NULL;
}

static bool seen_before(const csv_table *table, size_t row)
{
    for (size_t i = 1; i < row; i++) {
        if (table->row[i].count > 0 &&
            strcmp(table->row[i].field[F_ID], table->row[row].field[F_ID]) == 0) {
            return true;
        }
    }
    return false;
}

static bool good_header(const csv_row *header)
{
    if (header->count != FIELD_COUNT) return false;
    for (int i = 0; i < FIELD_COUNT; i++) {
        if (strcmp(header->field[i], field_names[i]) != 0) return false;
    }
    return true;
}

static tally run_table(const char *folder, const char *name, const char *sources)
{
    tally t = {0, 0, 0.0, NULL};
    char path[1024], message[1200];
    csv_table table;
    name_list names = {.count = 0};
    if (snprintf(path, sizeof path, "%s/%s", folder, name) >= (int)sizeof path) {
        (void)printf("FAIL path too long\n");
        t.failed++;
        return t;
    }
    if (!csv_table_read(path, &table, message, sizeof message)) {
        (void)printf("FAIL %s\n", message);
        t.failed++;
        return t;
    }
    if (!good_header(&table.row[0])) {
        (void)printf("FAIL %s: the first row must name the columns of reference.h\n", name);
        t.failed++;
    } else {
        for (size_t i = 1; i < table.count; i++) {
            const csv_row *row = &table.row[i];
            const char *why = row->count != FIELD_COUNT ? "does not have twelve fields"
                              : seen_before(&table, i)  ? "has the id of an earlier row"
                                                        : check_row(row->field, sources, &t, &names,
                                                                    message, sizeof message);
            if (why == NULL) {
                t.passed++;
            } else {
                (void)printf("FAIL %s:%zu: %s %s\n", name, row->line, row->field[F_ID], why);
                t.failed++;
            }
        }
        for (int i = 0; i < names.count; i++) {
            if (names.asked[i]) continue;
            (void)printf("FAIL %s: no quantity uses the input '%s'\n", name, names.name[i]);
            t.failed++;
        }
        (void)printf("%-24s %4zu rows, %zu failed, worst %.2f of its tolerance (%s)\n", name,
                     table.count - 1, t.failed, t.worst, t.worst_id ? t.worst_id : "none");
    }
    csv_table_free(&table);
    return t;
}

static bool ends_with(const char *text, const char *end)
{
    const size_t n = strlen(text), m = strlen(end);
    return n >= m && strcmp(text + n - m, end) == 0;
}

enum { TABLE_MAX = 64, NAME_SIZE = 256 };

static int compare_names(const void *a, const void *b) { return strcmp(a, b); }

/* The tables of the folder in order of name; -1 when there are too many or no folder. */
static int list_tables(const char *folder, char names[TABLE_MAX][NAME_SIZE])
{
    int count = 0;
    DIR *dir = opendir(folder);
    if (dir == NULL) return -1;
    const struct dirent *entry;
    while ((entry = readdir(dir)) != NULL) {
        if (!ends_with(entry->d_name, ".csv") || ends_with(entry->d_name, "_cea.csv")) continue;
        if (count == TABLE_MAX || strlen(entry->d_name) >= NAME_SIZE) {
            count = -1;
            break;
        }
        (void)snprintf(names[count++], NAME_SIZE, "%s", entry->d_name);
    }
    (void)closedir(dir);
    if (count > 0) qsort(names, (size_t)count, NAME_SIZE, compare_names);
    return count;
}

int main(int argc, char **argv)
{
    static char names[TABLE_MAX][NAME_SIZE];
    const char *folder = argc > 1 ? argv[1] : DW_REFERENCE_DIR;
    const char *config = DW_CONFIG_DIR;
    char sources_path[1024] = "";
    if (argc > 2) {
        (void)snprintf(sources_path, sizeof sources_path, "%s", argv[2]);
    } else if (config != NULL) {
        (void)snprintf(sources_path, sizeof sources_path, "%s/sources.yaml", config);
    } else if (folder != NULL) {
        (void)snprintf(sources_path, sizeof sources_path, "%s/../../config/sources.yaml", folder);
    }
    const int count = folder == NULL ? -1 : list_tables(folder, names);
    char *sources = read_text(sources_path);
    if (count <= 0 || sources == NULL) {
        (void)fprintf(stderr, "usage: test_reference [folder of tables [sources.yaml]]\n");
        free(sources);
        return 2;
    }
    size_t passed = 0, failed = 0;
    for (int i = 0; i < count; i++) {
        const tally t = run_table(folder, names[i], sources);
        passed += t.passed;
        failed += t.failed;
    }
    free(sources);
    (void)printf("%zu passed, %zu failed\n", passed, failed);
    return failed == 0 ? 0 : 1;
}
