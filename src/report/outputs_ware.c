/* Outputs of oxide states and of the reduction ladder. */
#include "outputs_rows.h"

#include "report_oxides.h"

#define WARE(field) AT(DW_IN_WARE, dw_ware, field)
#define MATCHED(field) AT(DW_IN_GAS, dw_matched_gas, field)
#define BOUNDARY(field) AT(DW_IN_BOUNDARY, dw_ware_boundary, field)
#define PARCEL(field) AT(DW_IN_PARCEL, dw_ware_gas, field)
#define GLAZE(field) AT(DW_IN_GLAZE, dw_ware_glaze, field)
#define RUNG(field) AT(DW_IN_RUNG, dw_rung, field)
#define LADDER(field) AT(DW_IN_LADDER, dw_ladder_view, field)
#define SOURCE_OF_FORM NO_WORKING("the form between whose boundaries log10_po2_bar is")
#define SAME_WITH_PARCELS NO_WORKING("the same, with the forms for the leaner and the richer parcel")
#define WORD_OF_RATIO NO_WORKING("the word whose limits in config/bands.yaml hold equivalence_ratio")

static double air_ratio(const void *rung)
{
    return 1.0 / ((const dw_rung *)rung)->equivalence_ratio;
}

static const dw_output_row oxides[] = {
    {"kiln", A_NAME},
    {"solved", ASKED},
    {"reason", WORDS},
    {"asked", WORD, NO_WORKING("what was put in, in words")},
    {"sensor", A_WORD},
    {"sensor_temperature_k", TEMPERATURE, AT(DW_IN_GIVEN, dw_ware_given, sensor_temperature_k), PUT_IN},
    {"fuel", A_NAME},
    {"temperature_k", TEMPERATURE, WARE(temperature_k)},
    {"equivalence_ratio", RATIO, WARE(mean.equivalence_ratio)},
    {"log10_po2_bar", LOG10, WARE(mean.log10_po2_bar)},
    {"probe_emf_v", VOLTS, WARE(probe_emf_v)},
    {"co_co2_ratio", WARE_RATIO, WARE(co_co2_ratio)},
    {"h2_h2o_ratio", WARE_RATIO, WARE(h2_h2o_ratio)},
    {"gas.found", WORDS},
    {"gas.word", WORD, WORD_OF_RATIO},
    {"gas.o2_wet", MATCHED_SHARE, MATCHED(o2_wet)},
    {"gas.o2_dry", MATCHED_SHARE, MATCHED(o2_dry)},
    {"gas.co_dry", MATCHED_SHARE, MATCHED(co_dry)},
    {"gas.composition_temperature_k", TEMPERATURE, MATCHED(composition_temperature_k)},
    {"metals.*.form", WORD, SOURCE_OF_FORM},
    {"metals.*.formula", WORD, NO_WORKING("the same as a formula")},
    {"metals.*.near", WORD,
     NO_WORKING("the form across the boundary, where distance_log10 or two calibrations say that it is near")},
    {"metals.*.distance_log10", LOG10},
    {"metals.*.nearest_buffer", WORD, NO_WORKING("the name of the calibration that distance_log10 is measured to")},
    {"metals.*.drawn_on", ASKED},
    {"metals.*.mixed", YES_NO, NO_WORKING("yes or no: whether lean and rich differ")},
    {"metals.*.lean", WORD, NO_WORKING("the form for the leaner parcel")},
    {"metals.*.rich", WORD, NO_WORKING("the form for the richer parcel")},

    {"boundaries.*.boundary", HEADING("between"), A_NAME},
    {"boundaries.*.buffer", HEADING("calibration"), A_NAME},
    {"boundaries.*.log10_po2_bar", LOG10, BOUNDARY(log10_po2_bar), HEADING("log10\npO2")},
    {"boundaries.*.gas_minus_log10", LOG10, BOUNDARY(gas_minus_log10), HEADING("gas minus\nboundary")},
    {"boundaries.*.co_co2_ratio", WARE_RATIO, BOUNDARY(co_co2_ratio), HEADING("CO/\nCO2")},
    {"boundaries.*.h2_h2o_ratio", WARE_RATIO, BOUNDARY(h2_h2o_ratio), HEADING("H2/\nH2O")},
    {"boundaries.*.probe_emf_v", VOLTS, BOUNDARY(probe_emf_v), HEADING("\nprobe")},
    {"boundaries.*.range", HEADING(""), WORDS},
    {"boundaries.*.source", A_NAME},
    {"comparison.*.boundary", A_NAME},
    {"comparison.*.buffer", A_NAME},
    {"comparison.*.log10_po2_bar", LOG10, BOUNDARY(log10_po2_bar)},
    {"comparison.*.gas_minus_log10", LOG10, BOUNDARY(gas_minus_log10)},
    {"comparison.*.co_co2_ratio", WARE_RATIO, BOUNDARY(co_co2_ratio)},
    {"comparison.*.h2_h2o_ratio", WARE_RATIO, BOUNDARY(h2_h2o_ratio)},
    {"comparison.*.probe_emf_v", VOLTS, BOUNDARY(probe_emf_v)},
    {"comparison.*.range", WORDS},
    {"comparison.*.source", A_NAME},
    {"parcels.*.gas", A_NAME},
    {"parcels.*.which", SHOWN, HEADING("gas")},
    {"parcels.*.equivalence_ratio", RATIO, PARCEL(equivalence_ratio), HEADING("equivalence\nratio")},
    {"parcels.*.log10_po2_bar", LOG10, PARCEL(log10_po2_bar), HEADING("log10\npO2")},
    {"parcels.*.carbon_activity", WARE_RATIO, PARCEL(carbon_activity), HEADING("carbon\nactivity")},
    {"glazes.*.glaze", HEADING("glaze"), A_NAME},
    {"glazes.*.kress_ferrous", FERROUS, GLAZE(iron.kress_share), HEADING("Kress &\nCarmichael")},
    {"glazes.*.borisov_ferrous", FERROUS, GLAZE(iron.borisov_share), HEADING("Borisov\net al.")},
    {"glazes.*.ferrous_low", FERROUS, GLAZE(iron.low_share), HEADING("range\nfrom")},
    {"glazes.*.ferrous_high", FERROUS, GLAZE(iron.high_share), HEADING("\nto")},
    {"glazes.*.lean_ferrous_low", FERROUS, GLAZE(lean.low_share)},
    {"glazes.*.rich_ferrous_high", FERROUS, GLAZE(rich.high_share)},
    {"glazes.*.reason", WORDS},
    {"windows.*.subject", WORD, HEADING("for")},
    {"windows.*.stage", WORD, HEADING("stage")},
    {"windows.*.from_k", TEMPERATURE, AT(DW_IN_WINDOW, dw_window, from_k), HEADING("from")},
    {"windows.*.to_k", TEMPERATURE, AT(DW_IN_WINDOW, dw_window, to_k), HEADING("to")},
    {"windows.*.time", WORD, HEADING("")},
    {"windows.*.needs", WORD, HEADING("needs")},
    {"windows.*.fits", WORD, HEADING("this gas")},
    {"windows.*.text", WORD},
    {"windows.*.basis", WORD},
    {"windows.*.source", WORD},
    {"windows.*.*", WORD,
     NO_WORKING("a condition in config/oxides.yaml, compared in words with the numbers above")},
};

/* Along a sweep of a kiln, and over temperatures without one. */
static const dw_output_row oxides_sweep[] = {
    {"glaze", WORD},
    {"rows.*.temperature_k", TEMPERATURE, HEADING("temper-\nature")},
    {"rows.*.solved", YES_NO},
    {"rows.*.word", WORD, HEADING("gas")},
    {"rows.*.equivalence_ratio", RATIO_COLUMN, HEADING("equiv.\nratio")},
    {"rows.*.co_dry", GAS_COLUMN, HEADING("CO\ndry")},
    {"rows.*.o2_dry", GAS_COLUMN, HEADING("O2\ndry")},
    {"rows.*.log10_po2_bar", LOG10, WARE(mean.log10_po2_bar), HEADING("log10\npO2")},
    {"rows.*.probe_emf_v", VOLTS, WARE(probe_emf_v), HEADING("\nprobe")},
    {"rows.*.co_co2_ratio", WARE_RATIO, WARE(co_co2_ratio), HEADING("CO/\nCO2")},
    {"rows.*.iron", WORD},
    {"rows.*.iron_forms", WORD},
    {"rows.*.copper", WORD},
    {"rows.*.copper_forms", WORD},
    {"rows.*.manganese", WORD},
    {"rows.*.manganese_forms", WORD},
    {"rows.*.nickel", WORD},
    {"rows.*.nickel_forms", WORD},
    {"rows.*.kress_ferrous", FERROUS, GLAZE(iron.kress_share), HEADING("ferrous\nK&C")},
    {"rows.*.borisov_ferrous", FERROUS, GLAZE(iron.borisov_share), HEADING("ferrous\nBorisov")},
    {"rows.*.glaze_reason", WORD},
    {"rows.*.sooting", YES_NO},
    {"rows.*.stages", WORD, HEADING("stages at this temperature")},
    {"rows.*.reason", WORD},
    {"solved_count", COUNT},
};

static const dw_output_row ladder[] = {
    {"kiln", A_NAME},
    {"fuel", A_NAME},
    {"reason", WORD},
    {"temperature_k", TEMPERATURE, LADDER(temperature_k)},
    {"composition_temperature_k", TEMPERATURE, LADDER(composition_temperature_k)},
    {"composition_temperature_rich_k", TEMPERATURE, LADDER(composition_rich_k)},
    {"unmixedness", GIVEN(NUMBER), LADDER(spread), PUT_IN},
    {"rungs.*.equivalence_ratio", RATIO_COLUMN, RUNG(equivalence_ratio), HEADING("equiv.\nratio"),
     NO_WORKING("what was put in: the steps of the ladder")},
    {"rungs.*.reduction_word", WORD, HEADING("reduction"), WORD_OF_RATIO},
    {"rungs.*.co_dry_mixed", GAS_COLUMN, RUNG(mixed.co), HEADING("CO\ndry")},
    {"rungs.*.co_dry", GAS_COLUMN, RUNG(unmixed.co), HEADING("\nuneven")},
    {"rungs.*.o2_dry", GAS_COLUMN, RUNG(unmixed.o2), HEADING("O2\ndry")},
    {"rungs.*.log10_po2_bar", LOG10, RUNG(ware.mean.log10_po2_bar), HEADING("log10\npO2")},
    {"rungs.*.probe_emf_v", VOLTS, ALIGNED(1.0e-3), RUNG(ware.probe_emf_v), HEADING("\nprobe")},
    {"rungs.*.iron", WORD, SOURCE_OF_FORM},
    {"rungs.*.iron_forms", WORD, SAME_WITH_PARCELS},
    {"rungs.*.copper", WORD, SOURCE_OF_FORM},
    {"rungs.*.copper_forms", WORD, SAME_WITH_PARCELS},
    {"rungs.*.manganese", WORD, SOURCE_OF_FORM},
    {"rungs.*.manganese_forms", WORD, SAME_WITH_PARCELS},
    {"rungs.*.nickel", WORD, SOURCE_OF_FORM},
    {"rungs.*.nickel_forms", WORD, SAME_WITH_PARCELS},
    {"rungs.*.air_ratio", RATIO_COLUMN, READ(DW_IN_RUNG, air_ratio), HEADING("air\nratio")},
    {"rungs.*.co_co2_ratio", WARE_RATIO, RUNG(ware.co_co2_ratio), HEADING("CO/\nCO2")},
    {"rungs.*.h2_dry", GAS_COLUMN, RUNG(unmixed.h2)},
    {"rungs.*.co2_dry", GAS_COLUMN, RUNG(unmixed.co2)},
    {"rungs.*.carbon_activity", WARE_RATIO, RUNG(ware.mean.carbon_activity)},
    {"rungs.*.lean_log10_po2_bar", LOG10, RUNG(ware.lean.log10_po2_bar)},
    {"rungs.*.rich_log10_po2_bar", LOG10, RUNG(ware.rich.log10_po2_bar)},
};

LIST(dw_output_oxides, oxides);
LIST(dw_output_oxides_sweep, oxides_sweep);
LIST(dw_output_ladder, ladder);
