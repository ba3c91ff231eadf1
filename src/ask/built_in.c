#include "built_in.h"

#include <string.h>

dw_status dw_built_in_read(const char *config_dir, dw_diag_list *diag, dw_data *data)
{
    if (config_dir != NULL || data == NULL || dw_built_in_data.size != sizeof *data) {
        return dw_read_data(config_dir, diag, data);
    }
    memcpy(data, dw_built_in_data.words, sizeof *data);
    return DW_OK;
}
