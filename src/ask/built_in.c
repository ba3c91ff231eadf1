#include "built_in.h"

#include <stdlib.h>

dw_status dw_built_in_find(const char *config_dir, dw_diag_list *diag, dw_data **read,
                           const dw_data **data)
{
    if (read == NULL || data == NULL) return DW_ERR_ARG;
    *read = NULL;
    *data = NULL;
    if (config_dir == NULL && dw_built_in_data != NULL) {
        *data = &dw_built_in_data->data;
        return DW_OK;
    }
    dw_data *made = calloc(1, sizeof *made);
    if (made == NULL) return DW_ERR_NOMEM;
    const dw_status status = dw_read_data(config_dir, diag, made);
    if (status != DW_OK) {
        free(made);
        return status;
    }
    *data = *read = made;
    return DW_OK;
}
