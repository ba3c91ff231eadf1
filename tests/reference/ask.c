/* Answers questions about any law of the program, for scripts that compare it with others.
 *
 *     ask < questions > answers
 *
 * A question is a line `quantity<TAB>name=value;name=value`, with the quantities and inputs of the
 * tables in this folder (reference.h); the answer is a line with the number in 17 digits, or
 * `error` when the law refuses. Two questions are of their own kind: `equilibrium` answers with
 * `CO2=0.09;H2O=0.18;...` and `equilibrium_seconds` with a time (reference_gas.h). A question that
 * makes no sense ends the run with exit code 2 and says on standard error which it was. */

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "reference_gas.h"
#include "reference_row.h"

enum { LINE_SIZE = 4096 };

/* Prints the answer; why there is none, otherwise NULL. */
static const char *answer(const char *quantity, const ref_row *row)
{
    double value;
    if (strcmp(quantity, "equilibrium") == 0) {
        if (!ref_print_equilibrium(row, stdout)) (void)puts("error");
        return NULL;
    }
    if (strcmp(quantity, "equilibrium_seconds") == 0) {
        value = ref_equilibrium_seconds(row);
    } else {
        const ref_function compute = ref_find_quantity(quantity);
        if (compute == NULL) return "no such quantity";
        value = compute(row);
    }
    if (isnan(value)) {
        (void)puts("error");
    } else {
        (void)printf("%.17g\n", value);
    }
    return NULL;
}

/* Takes one line apart and answers it; what is wrong with it, otherwise NULL. */
static const char *handle(char *line, char *complaint, size_t size)
{
    char *inputs = strchr(line, '\t');
    if (inputs == NULL) return "no tab after the quantity";
    *inputs++ = '\0';
    ref_name_list names = {.count = 0};
    ref_row_log log = {&names, ""};
    ref_row row = {.log = &log};
    const char *fault = ref_split_inputs(inputs, &row) ? NULL : "malformed inputs";
    for (int i = 0; fault == NULL && i < row.input_count; i++) {
        if (ref_enter_name(&names, row.name[i]) < 0) fault = "too many or too long inputs";
    }
    if (fault == NULL) fault = answer(line, &row);
    for (int i = 0; fault == NULL && i < names.count; i++) {
        if (!names.asked[i]) ref_complain(&log, "unused input", names.name[i]);
    }
    free(row.text);
    if (fault != NULL || log.complaint[0] == '\0') return fault;
    (void)snprintf(complaint, size, "%s", log.complaint);
    return complaint;
}

int main(void)
{
    static char line[LINE_SIZE];
    char complaint[200];
    for (unsigned long number = 1; fgets(line, sizeof line, stdin) != NULL; number++) {
        const size_t length = strcspn(line, "\n");
        const char *fault = "line too long";
        if (line[length] == '\n' || feof(stdin)) {
            line[length] = '\0';
            fault = handle(line, complaint, sizeof complaint);
        }
        if (fault != NULL) {
            (void)fprintf(stderr, "ask: line %lu: %s\n", number, fault);
            return 2;
        }
    }
    return ferror(stdin) || fflush(stdout) != 0 ? 1 : 0;
}
