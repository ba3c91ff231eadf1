/* The smallest program on the installed library. */
#include <damperwise.h>
#include <stdio.h>

int main(void)
{
    dw_engine *engine = NULL;
    if (dw_engine_create(NULL, NULL, &engine) != DW_OK) return 1;
    dw_case *kiln = NULL;
    const dw_status status = dw_case_read(engine, "none", "damperwise: 1\n", 14, NULL, 0, NULL, &kiln);
    dw_engine_destroy(engine);
    printf("%s: %s\n", dw_version(), dw_status_text(status));
    return status == DW_ERR_INPUT ? 0 : 1;
}
