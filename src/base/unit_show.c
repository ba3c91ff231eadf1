/* Units for showing: SI numbers in the unit a person reads. */
#include <string.h>

#include "unit_rows.h"

/* A value in the unit that the table spells so. */
static double in_unit(double si, dw_dim dim, const char *spelling, const char **unit)
{
    *unit = spelling;
    for (size_t i = 0; i < dw_unit_row_count; i++) {
        const dw_unit *row = &dw_unit_rows[i];
        if (row->dim == dim && strcmp(row->spelling, spelling) == 0) {
            return si * row->denominator / row->numerator - row->offset;
        }
    }
    return si;
}

double dw_quantity_in(double si, dw_dim dim, const char *unit)
{
    const char *same;
    return unit[0] == '\0' ? si : in_unit(si, dim, unit, &same);
}

int dw_unit_is_us(const char *unit)
{
    static const char *const begin[] = {"in",  "ft",  "foot", "feet", "\"",  "'",   "sq ",  "cu ",
                                        "cf",  "CF",  "psi",  "osi",  "oz",  "lb",  "degF", "deg F",
                                        "Btu", "BTU", "kBtu", "kBTU", "MMB", "MBH", "therm", "mph"};
    for (size_t i = 0; i < sizeof begin / sizeof begin[0]; i++) {
        if (strncmp(unit, begin[i], strlen(begin[i])) == 0) return 1;
    }
    return 0;
}

double dw_quantity_display(double si, dw_dim dim, dw_unit_system system, const char **unit)
{
    if ((int)dim < 0 || dim >= DW_DIM_COUNT_) {
        *unit = "";
        return si;
    }
    return in_unit(si, dim, dw_dim_texts[dim].display[system == DW_UNITS_US ? 1 : 0], unit);
}

double dw_pressure_display(double si, int small, dw_unit_system system, const char **unit)
{
    static const char *const spelling[2][2] = {{"kPa", "psi"}, {"Pa", "in w.c."}};
    return in_unit(si, DW_DIM_PRESSURE_GAUGE,
                   spelling[small ? 1 : 0][system == DW_UNITS_US ? 1 : 0], unit);
}

int dw_unit_row(size_t index, const char **unit, dw_dim *dim, double *factor, double *offset)
{
    if (index >= dw_unit_row_count) return 0;
    const dw_unit *row = &dw_unit_rows[index];
    *unit = row->spelling;
    *dim = row->dim;
    *factor = row->numerator / row->denominator;
    *offset = row->offset;
    return 1;
}
