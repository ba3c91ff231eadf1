/* Engine and case: what questions are asked of. */
#include "engine.h"

#include <stdlib.h>

#include "built_in.h"
#include "diag.h"

const char *dw_version(void)
{
    return DW_VERSION;
}

dw_status dw_engine_create(const char *config_dir, dw_diag_list *diag, dw_engine **engine)
{
    if (engine == NULL) return DW_ERR_ARG;
    *engine = NULL;
    dw_engine *e = calloc(1, sizeof *e);
    if (e == NULL) return DW_ERR_NOMEM;
    dw_status status = dw_built_in_find(config_dir, diag, &e->read, &e->data);
    if (status == DW_OK) {
        status = dw_model_init(&e->model, e->data);
        if (status != DW_OK) {
            dw_diag_add(diag, DW_ERROR, "data-incomplete", (dw_place){"species.yaml", 0, 0},
                        "a gas that the model needs is missing from the table of species");
        }
    }
    if (status != DW_OK) {
        dw_engine_destroy(e);
        return status;
    }
    *engine = e;
    return DW_OK;
}

void dw_engine_destroy(dw_engine *engine)
{
    if (engine == NULL) return;
    free(engine->read);
    free(engine);
}

dw_status dw_case_read(const dw_engine *engine, const char *file, const char *text, size_t length,
                       const dw_setting *settings, size_t setting_count, dw_diag_list *diag,
                       dw_case **kiln)
{
    if (kiln == NULL) return DW_ERR_ARG;
    *kiln = NULL;
    if (engine == NULL || file == NULL || text == NULL || (settings == NULL && setting_count > 0)) {
        return DW_ERR_ARG;
    }
    dw_case *c = malloc(sizeof *c);
    if (c == NULL) return DW_ERR_NOMEM;
    const dw_status status = dw_read_kiln(engine->data, file, text, length, settings,
                                          setting_count, diag, &c->file);
    if (status != DW_OK) {
        free(c);
        return status;
    }
    c->resolved = c->file.kiln;
    dw_kiln_resolve(&c->resolved);
    *kiln = c;
    return DW_OK;
}

void dw_case_destroy(dw_case *kiln)
{
    free(kiln);
}

void dw_text_free(char *text)
{
    free(text);
}
