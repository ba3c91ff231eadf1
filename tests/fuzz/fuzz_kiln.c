/* Bytes as a kiln description: read it, and if it reads, drive every command and every writer. */
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "damperwise.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static dw_engine *engine;

/* No answer may claim to be one and hold what is none. */
static void look_at(dw_status status, const char *text, size_t length)
{
    if (status != DW_OK && status != DW_ERR_NO_CONVERGE && status != DW_ERR_INPUT) {
        (void)fprintf(stderr, "status: %s\n", dw_status_text(status));
        abort();
    }
    if (status == DW_OK && (text == NULL || length == 0)) abort();
    if (text != NULL && strlen(text) != length) abort();
}

/* One command with one writer in one system of units, chosen by the bytes themselves: over many inputs all
 * of them come up, and each input stays quick. */
static void drive(const dw_case *kiln, unsigned choice)
{
    static const dw_vary vary[2] = {{"damper", "0 %, 100 %"}, {"gas_pressure", "1 kPa, 20 kPa"}};
    const dw_output output = {(dw_format)(choice % 3), (dw_units)(choice / 3 % 2)};
    dw_diag_list *diag = dw_diag_list_create();
    char *text = NULL;
    size_t length = 0;
    static const char *const names[] = {"estimate", "check", "room", "estimate"};
    dw_question question = {.name = names[choice / 6 % 4]};
    if (choice / 6 % 4 == 3) {
        question.vary = vary;
        question.vary_count = 1 + choice / 24 % 2;
    }
    const dw_status status = dw_ask(engine, kiln, &question, output, diag, &text, &length);
    look_at(status, text, length);
    dw_text_free(text);
    dw_diag_list_destroy(diag);
}

/* The same bytes, the same choice. */
static unsigned hash(const uint8_t *data, size_t size)
{
    uint32_t h = 2166136261u;
    for (size_t i = 0; i < size; i++) h = (h ^ data[i]) * 16777619u;
    return h >> 8;
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    if (engine == NULL && dw_engine_create(NULL, NULL, &engine) != DW_OK) abort();
    dw_diag_list *diag = dw_diag_list_create();
    dw_case *kiln = NULL;
    const dw_status status =
        dw_case_read(engine, "fuzz.yaml", (const char *)data, size, NULL, 0, diag, &kiln);
    if (status == DW_OK) {
        drive(kiln, hash(data, size));
    } else if (status != DW_ERR_INPUT || dw_diag_count_grade(diag, DW_ERROR) == 0) {
        abort(); /* refused without saying why */
    }
    for (size_t i = 0; i < dw_diag_count(diag); i++) {
        char line[1024];
        (void)dw_diag_format(dw_diag_get(diag, i), line, sizeof line);
    }
    dw_case_destroy(kiln);
    dw_diag_list_destroy(diag);
    return 0;
}
