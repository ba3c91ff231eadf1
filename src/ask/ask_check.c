/* The question about a description: its inputs, and rules of thumb. */
#include "questions.h"
#include "rules.h"

/* A description can be looked at whether or not its setting balances. */
static dw_status build(dw_asking *a)
{
    dw_result *result = a->state;
    const dw_status solved = dw_asked_point(a, &a->kiln->file.kiln, DW_EXTENT_GAS, result);
    if (solved != DW_OK && solved != DW_ERR_NO_CONVERGE) return solved;
    if (a->w == NULL) {
        dw_build_check(a->report, &a->source, result, a->diag);
        return DW_OK;
    }
    dw_rule_finding findings[DW_RULE_FINDING_MAX];
    (void)dw_rules_look(a->engine->data, &a->kiln->resolved, result, a->w, findings);
    return dw_working_status(a->w);
}

static const char *const options[] = {NULL};

const dw_question_kind dw_question_check = {.name = "check",
                                            .kiln = DW_KILN_NEEDED,
                                            .has_working = true,
                                            .options = options,
                                            .state_size = sizeof(dw_result),
                                            .build = build};
