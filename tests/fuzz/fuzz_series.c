/* Bytes as a recorded series of carbon monoxide, with and without symptoms, by every writer. */
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "damperwise.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static dw_engine *engine;

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    if (engine == NULL && dw_engine_create(NULL, NULL, &engine) != DW_OK) abort();
    const unsigned choice = size > 0 ? data[size / 2] : 0;
    const dw_output output = {(dw_format)(choice % 3), (dw_units)(choice / 3 % 2)};
    const dw_option options[] = {{"series_name", "fuzz.csv", 0},
                                 {"series", size > 0 ? (const char *)data : "", size},
                                 {"smoker", choice / 6 % 2 ? "yes" : "no", 0},
                                 {"symptoms", choice / 12 % 2 ? "yes" : NULL, 0}};
    const dw_question question = {.name = "exposure", .option = options, .option_count = 4};
    dw_diag_list *diag = dw_diag_list_create();
    char *text = NULL;
    size_t length = 0;
    const dw_status status = dw_ask(engine, NULL, &question, output, diag, &text, &length);
    if (status == DW_OK) {
        if (text == NULL || strlen(text) != length) abort();
    } else if (status != DW_ERR_INPUT || text != NULL ||
               dw_diag_count_grade(diag, DW_ERROR) == 0) {
        abort(); /* refused without saying why */
    }
    dw_text_free(text);
    dw_diag_list_destroy(diag);
    return 0;
}
