/* The question about the keys of a description. */
#include "questions.h"

static dw_status build(dw_asking *a)
{
    dw_build_keys(a->report, DW_VERSION, a->engine->data);
    return DW_OK;
}

static const char *const options[] = {NULL};

const dw_question_kind dw_question_keys = {
    .name = "keys", .kiln = DW_KILN_NONE, .options = options, .build = build};
