#include "working_doubt.h"

#include <math.h>

#include "working_parts.h"

void dw_working_doubt(const dw_doubt *doubt, dw_working *w)
{
    if (doubt->count == 0) return;
    dw_work_section(w, "How sure the equivalence ratio is");
    dw_work_text(w, "Each input that was not given is set to both ends of its usual range, one "
                    "input at a time, and the whole kiln is worked out again; you can do the same "
                    "with --set. An end that has no solution counts as no change.");
    double low[DW_DOUBT_COUNT], high[DW_DOUBT_COUNT], least[DW_DOUBT_COUNT], most[DW_DOUBT_COUNT];
    const dw_work_quantity *phi = dw_working_find(w, "phi");
    const double now = phi != NULL ? phi->value[0] : NAN;
    dw_work_table_begin(w, "The equivalence ratio at the ends", "input", (size_t)doubt->count);
    for (int i = 0; i < doubt->count; i++) {
        const dw_doubt_item *item = &doubt->item[i];
        dw_work_row(w, (size_t)i, "%s", dw_doubt_input_text(item->input));
        low[i] = item->low;
        high[i] = item->high;
        least[i] = isnan(item->phi_low) ? now : item->phi_low;
        most[i] = isnan(item->phi_high) ? now : item->phi_high;
    }
    dw_work_column(w, DW_WORK_DATA, "low", "lower end, or factor", "", low);
    dw_work_column(w, DW_WORK_DATA, "high", "upper end, or factor", "", high);
    dw_work_column(w, DW_WORK_SOLVED, "ph_1", "phi at the lower end", "", least);
    dw_work_column(w, DW_WORK_SOLVED, "ph_2", "phi at the upper end", "", most);
    dw_work_step_is(w, "doubt.equivalence_ratio_low", "ph_low", "all inputs together: lower end",
                    "",
                    "phi*exp(-sqrt(sum(ln(phi/min(phi, min(ph_1, ph_2)))^2)))", doubt->phi_from,
                    "assumption");
    dw_work_step_is(w, "doubt.equivalence_ratio_high", "ph_high", "to", "",
                    "phi*exp(sqrt(sum(ln(max(phi, max(ph_1, ph_2))/phi)^2)))", doubt->phi_to,
                    "assumption");
}
