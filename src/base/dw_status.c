#include "dw_status.h"

const char *dw_status_text(dw_status status)
{
#define DW_STATUS_AS_TEXT(name, text) \
    case name: return text;
    switch (status) {
        DW_STATUS_LIST(DW_STATUS_AS_TEXT)
    case DW_STATUS_COUNT: break;
    }
#undef DW_STATUS_AS_TEXT
    return "unknown status";
}
