#include "diag.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "format.h"
#include "visible.h"

enum { GRADE_COUNT = DW_ERROR + 1, SUMMARY_SIZE = 200 };

/* One allocation per entry: its strings lie behind it. */
typedef struct entry {
    dw_diag diag;
    struct entry *older; /* every entry ever kept, for freeing */
    char strings[];
} entry;

struct dw_diag_list {
    entry *newest;
    const entry *kept[DW_DIAG_MAX];
    size_t kept_count;
    size_t added[GRADE_COUNT];    /* of each grade, kept or not */
    size_t left_out[GRADE_COUNT]; /* of each grade, not kept    */
    int lost;
    dw_diag summary; /* stands behind the kept entries when some were left out */
    char summary_text[SUMMARY_SIZE];
};

dw_diag_list *dw_diag_list_create(void) { return calloc(1, sizeof(dw_diag_list)); }

void dw_diag_list_clear(dw_diag_list *list)
{
    if (list == NULL) return;
    for (entry *e = list->newest, *older; e != NULL; e = older) {
        older = e->older;
        free(e);
    }
    memset(list, 0, sizeof *list);
}

void dw_diag_list_destroy(dw_diag_list *list)
{
    dw_diag_list_clear(list);
    free(list);
}

static size_t left_out_total(const dw_diag_list *list)
{
    size_t total = 0;
    for (int g = 0; g < GRADE_COUNT; g++)
        total += list->left_out[g];
    return total;
}

/* Text as one line that any writer may show (control characters from an input and halves of
 * characters from a cut text become escapes) to out, when that is not NULL; answers its bytes
 * with the NUL. */
static size_t copy_visible(const char *text, char *out)
{
    char piece[DW_VISIBLE_SIZE];
    size_t length = strlen(text), size = 0;
    while (length > 0) {
        const size_t used = dw_visible(text, length, piece);
        const size_t own = strlen(piece);
        if (out != NULL) memcpy(out + size, piece, own);
        size += own;
        text += used;
        length -= used;
    }
    if (out != NULL) out[size] = '\0';
    return size + 1;
}

/* A new entry; NULL when out of memory. */
static entry *new_entry(dw_diag_list *list, dw_grade grade, const char *code, dw_place place,
                        const char *text)
{
    const char *file = place.file != NULL ? place.file : "";
    const size_t code_size = strlen(code) + 1, file_size = copy_visible(file, NULL);
    entry *e = malloc(sizeof *e + code_size + file_size + copy_visible(text, NULL));
    if (e == NULL) return NULL;
    char *code_copy = e->strings, *file_copy = code_copy + code_size;
    memcpy(code_copy, code, code_size);
    (void)copy_visible(file, file_copy);
    (void)copy_visible(text, file_copy + file_size);
    e->diag = (dw_diag){.grade = grade,
                        .code = code_copy,
                        .file = file_copy,
                        .line = place.line,
                        .column = place.column,
                        .text = file_copy + file_size};
    e->older = list->newest;
    list->newest = e;
    return e;
}

/* Finds room for an entry of this grade. A full list gives up the latest of its least grave
 * entries for a graver one, so that no flood of notes hides a hazard or an error. */
static int make_room(dw_diag_list *list, dw_grade grade)
{
    if (list->kept_count < DW_DIAG_MAX) return 1;
    size_t victim = 0;
    for (size_t i = 1; i < list->kept_count; i++) {
        if (list->kept[i]->diag.grade <= list->kept[victim]->diag.grade) victim = i;
    }
    const dw_grade lowest = list->kept[victim]->diag.grade;
    if (lowest >= grade) return 0;
    list->left_out[lowest]++;
    list->kept_count--;
    memmove(&list->kept[victim], &list->kept[victim + 1],
            (list->kept_count - victim) * sizeof(const entry *));
    return 1;
}

static void sum_up(dw_diag_list *list)
{
    const size_t total = left_out_total(list);
    if (total == 0) return;
    (void)snprintf(list->summary_text, sizeof list->summary_text,
                   "%zu more messages are left out (errors: %zu, hazards: %zu, warnings: %zu, "
                   "notes: %zu)",
                   total, list->left_out[DW_ERROR], list->left_out[DW_HAZARD],
                   list->left_out[DW_WARNING], list->left_out[DW_NOTE]);
    list->summary = (dw_diag){DW_NOTE, "more-messages", "", 0, 0, list->summary_text};
}

void dw_diag_add(dw_diag_list *list, dw_grade grade, const char *code, dw_place place,
                 const char *format, ...)
{
    if (list == NULL || (int)grade < DW_NOTE || grade > DW_ERROR) return;
    list->added[grade]++;
    if (!make_room(list, grade)) {
        list->left_out[grade]++;
        sum_up(list);
        return;
    }

    va_list args, again;
    va_start(args, format);
    va_copy(again, args);
    const int length = dw_vprint(NULL, 0, format, args);
    char *text = length >= 0 ? malloc((size_t)length + 1) : NULL;
    entry *e = NULL;
    if (text != NULL) {
        (void)dw_vprint(text, (size_t)length + 1, format, again);
        e = new_entry(list, grade, code != NULL ? code : "", place, text);
    }
    free(text);
    if (e != NULL) {
        list->kept[list->kept_count++] = e;
    } else {
        list->lost = 1;
        list->left_out[grade]++;
    }
    va_end(again);
    va_end(args);
    sum_up(list);
}

int dw_diag_lost(const dw_diag_list *list) { return list != NULL && list->lost; }

size_t dw_diag_count(const dw_diag_list *list)
{
    if (list == NULL) return 0;
    return list->kept_count + (left_out_total(list) > 0 ? 1 : 0);
}

size_t dw_diag_count_grade(const dw_diag_list *list, dw_grade grade)
{
    if (list == NULL || (int)grade < DW_NOTE || grade > DW_ERROR) return 0;
    return list->added[grade];
}

const dw_diag *dw_diag_get(const dw_diag_list *list, size_t i)
{
    if (i >= dw_diag_count(list)) return NULL;
    return i < list->kept_count ? &list->kept[i]->diag : &list->summary;
}

const char *dw_grade_text(dw_grade grade)
{
    switch (grade) {
    case DW_NOTE: return "note";
    case DW_WARNING: return "warning";
    case DW_HAZARD: return "hazard";
    case DW_ERROR: return "error";
    }
    return "note";
}

size_t dw_diag_format(const dw_diag *diag, char *out, size_t size)
{
    if (size > 0 && out != NULL) out[0] = '\0';
    if (diag == NULL) return 0;
    if (out == NULL) size = 0;

    char place[32] = "";
    if (diag->line > 0 && diag->column > 0) {
        (void)snprintf(place, sizeof place, "%d:%d:", diag->line, diag->column);
    } else if (diag->line > 0) {
        (void)snprintf(place, sizeof place, "%d:", diag->line);
    }
    const int has_file = diag->file[0] != '\0';
    const int has_code = diag->code[0] != '\0';
    const int length =
        snprintf(out, size, "%s%s%s%s%s: %s%s%s%s", diag->file, has_file ? ":" : "", place,
                 has_file || place[0] != '\0' ? " " : "", dw_grade_text(diag->grade), diag->text,
                 has_code ? " [" : "", diag->code, has_code ? "]" : "");
    return length > 0 ? (size_t)length : 0;
}
