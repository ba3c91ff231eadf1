/* Runs every row of every table in tests/reference (see reference.h).
 *
 *     test_reference [--csv FILE] [folder [sources.yaml]]
 *
 * --csv writes how far each row is off, one line a row; proof.py makes its table from them.
 *
 * Tables whose name ends in _cea.csv hold whole states, not rows of this kind; they are read by
 * tests/consistency/test_equilibrium_cea.c. laws.csv says which law each quantity belongs to; it is
 * read by proof.py. */

#include "reference.h"

#include <dirent.h>
#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "csv_table.h"
#include "reference_row.h"

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
    if (ref_find_quantity(f[F_QUANTITY]) == NULL) return "asks for an unknown quantity";
    if (strcmp(f[F_STATUS], "fails") == 0) return NULL;
    if (!ref_parse_number(f[F_EXPECTED], &number)) return "expects no number";
    if (!ref_parse_number(f[F_RTOL], &rtol) || !ref_parse_number(f[F_ATOL], &atol) || rtol < 0.0 ||
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

/* What all rows share. */
typedef struct run {
    const char *sources;
    FILE *csv;         /* NULL: not wanted */
    const char *table; /* name without .csv, of the rows at hand */
    int table_length;
} run;

static bool open_csv(const char *path, run *r)
{
    r->csv = fopen(path, "w");
    if (r->csv == NULL) return false;
    return fprintf(r->csv, "table,id,quantity,source,provenance,status,expected,actual,deviation,"
                           "tolerance\n") > 0;
}

static void write_deviation(const run *r, char *const *f, double expected, double found,
                            double tolerance)
{
    if (r->csv == NULL) return;
    (void)fprintf(r->csv, "%.*s,\"%s\",%s,%s,%s,%s,%.17g,%.17g,%.6g,%.6g\n", r->table_length,
                  r->table, f[F_ID], f[F_QUANTITY], f[F_SOURCE], f[F_PROVENANCE], f[F_STATUS],
                  expected, found, fabs(found - expected), tolerance);
}

/* The row's verdict: NULL when it passes, otherwise why not, in message. */
static const char *check_row(char *const *f, const run *r, tally *t, ref_name_list *names,
                             char *message, size_t size)
{
    const char *fault = fault_in_form(f, r->sources);
    if (fault != NULL) return fault;

    ref_row_log log = {names, ""};
    ref_row row = {.log = &log};
    if (!ref_split_inputs(f[F_INPUTS], &row)) {
        free(row.text);
        return "has malformed inputs";
    }
    for (int i = 0; i < row.input_count; i++) {
        if (ref_enter_name(names, row.name[i]) < 0)
            ref_complain(&log, "too many or too long:", row.name[i]);
    }
    const double found = ref_find_quantity(f[F_QUANTITY])(&row);
    free(row.text);
    if (log.complaint[0] != '\0') {
        (void)snprintf(message, size, "%s", log.complaint);
        return message;
    }

    if (strcmp(f[F_STATUS], "fails") == 0) {
        write_deviation(r, f, NAN, found, NAN);
        if (isnan(found)) return NULL;
        (void)snprintf(message, size, "gives %.10g, should answer with an error", found);
        return message;
    }
    double expected = NAN, rtol = NAN, atol = NAN;
    (void)(ref_parse_number(f[F_EXPECTED], &expected) && ref_parse_number(f[F_RTOL], &rtol) &&
           ref_parse_number(f[F_ATOL], &atol));
    /* Without a tolerance the row asks for equality: counts, yes or no. */
    const double tolerance = rtol * fabs(expected) + atol;
    const double ratio = found == expected ? 0.0 : fabs(found - expected) / tolerance;
    write_deviation(r, f, expected, found, tolerance);
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

static tally run_table(const char *folder, const char *name, run *r)
{
    tally t = {0, 0, 0.0, NULL};
    char path[1024], message[1200];
    csv_table table;
    ref_name_list names = {.count = 0};
    r->table = name;
    r->table_length = (int)(strlen(name) - strlen(".csv"));
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
                                                        : check_row(row->field, r, &t, &names,
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
        if (!ends_with(entry->d_name, ".csv") || ends_with(entry->d_name, "_cea.csv") ||
            strcmp(entry->d_name, "laws.csv") == 0) {
            continue;
        }
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
    const char *csv_path = NULL;
    if (argc > 2 && strcmp(argv[1], "--csv") == 0) {
        csv_path = argv[2];
        argc -= 2;
        argv += 2;
    }
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
        (void)fprintf(stderr, "usage: test_reference [--csv FILE] [folder of tables [sources.yaml]]\n");
        free(sources);
        return 2;
    }
    run r = {.sources = sources};
    if (csv_path != NULL && !open_csv(csv_path, &r)) {
        (void)fprintf(stderr, "cannot write %s\n", csv_path);
        free(sources);
        return 2;
    }
    size_t passed = 0, failed = 0;
    for (int i = 0; i < count; i++) {
        const tally t = run_table(folder, names[i], &r);
        passed += t.passed;
        failed += t.failed;
    }
    free(sources);
    if (r.csv != NULL) {
        const bool written = ferror(r.csv) == 0;
        if (fclose(r.csv) != 0 || !written) {
            (void)printf("FAIL cannot write %s\n", csv_path);
            failed++;
        }
    }
    (void)printf("%zu passed, %zu failed\n", passed, failed);
    return failed == 0 ? 0 : 1;
}
