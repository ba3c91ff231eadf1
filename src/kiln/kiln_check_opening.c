/* What makes an opening meaningless. */
#include "kiln_checker.h"

static bool check_ends(const checker *c, const dw_kiln *kiln, const dw_opening *opening)
{
    if (!in_chamber(c, "from", opening->from_m, kiln) || !in_chamber(c, "to", opening->to_m, kiln)) {
        return false;
    }
    if (opening->from_m < opening->to_m) return true;
    return fault(c, "'%s.from' is %s, expected less than 'to', which is %s", path_of(c).text,
                 show(opening->from_m, DW_DIM_LENGTH).text, show(opening->to_m, DW_DIM_LENGTH).text);
}

/* The difference of its ends is rounded; that much is not a fault. */
static bool check_joint(const checker *c, const dw_kiln *kiln, const dw_opening *joint)
{
    if (!positive(c, "width", joint->width_m, DW_DIM_LENGTH) ||
        !positive(c, "depth", joint->depth_m, DW_DIM_LENGTH)) {
        return false;
    }
    const bool has_ends = !isnan(joint->from_m) || !isnan(joint->to_m);
    if (isnan(joint->height_m) != has_ends) {
        return fault(c,
                     "'%s' has %s, expected height for a level joint, or from and to for "
                     "an upright one",
                     path_of(c).text, has_ends ? "both height and from or to" : "neither height nor from and to");
    }
    if (!has_ends) {
        return in_chamber(c, "height", joint->height_m, kiln) &&
               positive(c, "length", joint->length_m, DW_DIM_LENGTH);
    }
    if (!check_ends(c, kiln, joint)) return false;
    const double rise_m = joint->to_m - joint->from_m;
    if (isfinite(joint->length_m) && joint->length_m >= rise_m * (1.0 - 1e-9)) return true;
    return fault(c, "'%s.length' is %s, expected at least the %s from its lower to its upper end",
                 path_of(c).text, show(joint->length_m, DW_DIM_LENGTH).text,
                 show(rise_m, DW_DIM_LENGTH).text);
}

bool dw_check_opening(const checker *c, const dw_kiln *kiln, const dw_opening *opening)
{
    if (opening->count < 1)
        return fault(c, "'%s.count' is %d, expected 1 or more", path_of(c).text, opening->count);
    if (!share(c, "open", opening->open_frac)) return false;
    if (opening->kind == DW_OPENING_JOINT) return check_joint(c, kiln, opening);
    if (!not_negative(c, "area", opening->area_m2, DW_DIM_AREA) ||
        !coefficient(c, "discharge_coefficient", opening->discharge_coeff)) {
        return false;
    }
    if (opening->kind == DW_OPENING_HOLE && !isnan(opening->depth_m) &&
        !positive(c, "depth", opening->depth_m, DW_DIM_LENGTH)) {
        return false;
    }
    if (opening->kind == DW_OPENING_TALL) return check_ends(c, kiln, opening);
    if (!in_chamber(c, "height", opening->height_m, kiln)) return false;
    return opening->kind != DW_OPENING_CRACK ||
           (within(c, "exponent", opening->exponent, DW_DIM_NUMBER, DW_CRACK_EXPONENT_LOW,
                   DW_CRACK_EXPONENT_HIGH) &&
            positive(c, "reference_pressure", opening->reference_pressure_pa,
                     DW_DIM_PRESSURE_GAUGE));
}
