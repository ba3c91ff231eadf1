/* First line a path, second a value, third a range: overrides and varied quantities on a fixed kiln. */
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "damperwise.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static const char kiln_text[] =
    "damperwise: 1\n"
    "kiln:\n"
    "  name: test\n"
    "  site: {elevation: 300 m, air_temperature: 15 degC, relative_humidity: 50 %}\n"
    "  fuel: propane\n"
    "  chamber: {width: 0.7 m, depth: 0.7 m, height: 0.9 m, packed: 40 %}\n"
    "  burners:\n"
    "    - {name: left, count: 2, kind: inspirating, jet: {diameter: 1.3 mm}, throat_diameter: 34 mm,\n"
    "       port_diameter: 42 mm, height: 0.1 m}\n"
    "  openings:\n"
    "    - {name: ports, kind: hole, count: 2, area: 12 cm2, height: 0.1 m}\n"
    "  flues:\n"
    "    - {name: back flue, area: 200 cm2, height: 0.08 m, damper: {kind: slide, open: 50 %}}\n"
    "  stack: {height: 3 m, area: 300 cm2, lining: brick}\n"
    "operating: {gas_pressure: 15 kPa, chamber_temperature: 1100 degC}\n";

static dw_engine *engine;
static dw_case *plain; /* the kiln as it is written, read once */

/* The next line of the input as text of its own. */
static char *line_of(const uint8_t **at, const uint8_t *end)
{
    const uint8_t *from = *at;
    while (*at < end && **at != '\n') (*at)++;
    const size_t length = (size_t)(*at - from);
    if (*at < end) (*at)++;
    char *line = malloc(length + 1);
    if (line == NULL) abort();
    if (length > 0) memcpy(line, from, length);
    line[length] = '\0';
    return line;
}

static int stop_early(void *user, size_t done, size_t total)
{
    (void)user;
    (void)total;
    return done > 1;
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    if (engine == NULL && dw_engine_create(NULL, NULL, &engine) != DW_OK) abort();
    dw_diag_list *diag = dw_diag_list_create();
    if (plain == NULL && dw_case_read(engine, "k.yaml", kiln_text, sizeof kiln_text - 1, NULL, 0,
                                      diag, &plain) != DW_OK) {
        abort();
    }
    const uint8_t *at = data, *end = data + size;
    char *path = line_of(&at, end), *value = line_of(&at, end), *range = line_of(&at, end);
    dw_case *kiln = NULL;
    const dw_setting setting = {path, value};
    dw_status status = dw_case_read(engine, "k.yaml", kiln_text, sizeof kiln_text - 1, &setting, 1,
                                    diag, &kiln);
    if (status != DW_OK && (status != DW_ERR_INPUT || dw_diag_count_grade(diag, DW_ERROR) == 0)) {
        abort();
    }
    dw_case_destroy(kiln);
    dw_diag_list_clear(diag);
    /* A long sweep is no fault, only slow: keep the fuzzer to short ranges. */
    if (strlen(range) < 40) {
        const dw_vary vary = {path, range};
        const dw_output output = {DW_FORMAT_JSON, DW_SHOW_METRIC};
        char *text = NULL;
        size_t length = 0;
        const dw_question question = {
            .name = "estimate", .vary = &vary, .vary_count = 1, .progress = stop_early};
        status = dw_ask(engine, plain, &question, output, diag, &text, &length);
        if (status == DW_ERR_BUG || status == DW_ERR_ARG) abort();
        dw_text_free(text);
    }
    dw_diag_list_destroy(diag);
    free(path);
    free(value);
    free(range);
    return 0;
}
