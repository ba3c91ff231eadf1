/* First byte a kind of quantity, the rest its text. */
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "units.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    if (size < 1) return 0;
    const dw_dim dim = (dw_dim)(data[0] % DW_DIM_COUNT_);
    char message[DW_QUANTITY_MESSAGE_SIZE];
    double si;
    const dw_status status =
        dw_quantity_from_text((const char *)data + 1, size - 1, dim, &si, message);
    if (status == DW_OK) {
        if (!isfinite(si) || message[0] != '\0') abort();
    } else if (status != DW_ERR_INPUT || !isnan(si) || message[0] == '\0' ||
               memchr(message, 0, sizeof message) == NULL) {
        abort();
    }
    return 0;
}
