#ifndef DW_REPORT_OXIDES_H
#define DW_REPORT_OXIDES_H

/**
 * @file report_oxides.h
 * Builders: oxide states, iron in glazes, what potters look for, and the reduction ladder.
 *
 * Layer: report. As reports.h: what is shown, in which order and in which words; no physics.
 */

#include "ladder.h"
#include "outputs.h"
#include "reports.h"
#include "ware_detail.h"
#include "ware_given.h"

/** What is known of one state, with or without a kiln. All borrowed. */
typedef struct dw_oxides_view {
    const dw_result *result;           /**< solved or not; NULL: no kiln was asked            */
    const dw_ware *ware;               /**< NULL when not solved                              */
    const dw_ware_boundary *boundary;
    int boundary_count;
    const dw_ware_glaze *glaze;
    size_t glaze_count;
    const char *asked;                 /**< without a kiln: "CO/CO2 0.12"; NULL with one      */
    const dw_ware_given *given;        /**< without a kiln; NULL with one                     */
    const dw_matched_gas *gas;         /**< without a kiln; NULL with one                     */
} dw_oxides_view;

/** One state: first lines, then boundaries, carbon, glazes, windows. */
void dw_build_oxides(dw_report *report, const dw_report_source *source,
                     const dw_oxides_view *view);

/** The iron and copper of an operating point in words, into a section of its report: "oxides". */
void dw_build_oxide_words(dw_report *report, dw_item *section, const dw_data *data,
                          const dw_ware *ware);

/** A table of states that grows by a row for each. */
typedef struct dw_oxides_table {
    dw_report *report;
    const dw_report_source *source;
    dw_item *table;
    dw_item *count_item, *solved_item;
    const dw_glaze *glaze;             /**< NULL: no columns for one                          */
    size_t lead_count;                 /**< columns of the axes, or the temperature           */
    int co;                            /**< species index                                     */
    size_t row_count, solved_count;
} dw_oxides_table;

/** Begins a table along a sweep (axes) or, with axis_count 0, over temperatures. asked and given: what
 *  stays the same from row to row without a kiln; NULL with one. */
void dw_build_oxides_table(dw_oxides_table *table, dw_report *report,
                           const dw_report_source *source, const dw_sweep_axis *axes,
                           size_t axis_count, const dw_glaze *glaze, const char *asked,
                           const dw_ware_given *given);

/** Adds a row. lead holds the values of the axes, or the temperature; result NULL without a kiln, gas
 *  NULL with one; ware NULL when not solved; why says why there is none. */
void dw_build_oxides_row(dw_oxides_table *table, const double *lead, const dw_result *result,
                         const dw_matched_gas *gas, const dw_ware *ware,
                         const dw_ware_glaze *glaze, const char *why);

void dw_build_oxides_table_end(dw_oxides_table *table);

/** A ladder: rungs for the table, finer ones for the curves of the chart. All borrowed. */
typedef struct dw_ladder_view {
    double temperature_k, composition_temperature_k, spread;
    const char *fuel;
    const dw_rung *rung;
    size_t rung_count;
    const dw_rung *curve;              /**< NULL: no chart                                    */
    size_t curve_count;
    const dw_ware_boundary *boundary;  /**< at the temperature of the ladder                  */
    int boundary_count;
} dw_ladder_view;

void dw_build_ladder(dw_report *report, const dw_report_source *source,
                     const dw_ladder_view *view);

/** A ladder that cannot be drawn: the reason. */
void dw_build_ladder_refused(dw_report *report, const dw_report_source *source,
                             const char *reason);

/** The chart of a ladder as SVG, kept by the tree; NULL after a failure. */
const char *dw_ladder_chart(dw_report *report, const dw_data *data, const dw_ladder_view *view);

/* ---- shared by the files that build these ------------------------------------------------- */

/** Sensor and fuel that a state without a kiln is taken for: sentences into text, and by keys. */
void dw_build_given(dw_report *report, dw_item *text, const dw_ware_given *given);
void dw_build_given_keys(dw_report *report, const dw_ware_given *given);

/** The gas of a state without a kiln: a line of the first screen, and its numbers by keys. */
void dw_build_matched_gas(dw_report *report, dw_item *screen, const dw_data *data,
                          const dw_matched_gas *gas);
void dw_build_matched_gas_keys(dw_report *report, const dw_data *data, const dw_matched_gas *gas);


/** "FeO", "Fe3O4 or FeO" near a boundary, "Fe2O3 to FeO" when mixed; NULL when not known. */
const char *dw_forms_short(dw_report *report, const dw_metal *metal, const dw_ware_metal *state);

/** "wustite (FeO), near the boundary to magnetite (Fe3O4)" and so on; why not when not known. */
const char *dw_forms_long(dw_report *report, const dw_metal *metal, const dw_ware_metal *state);

/** "yes", "in part or near", "no", "not known"; NULL when nothing is asked. */
const char *dw_fit_word(dw_ware_fit fit);

/** "too cold yet", "now", "too hot". */
const char *dw_heat_word(dw_ware_heat heat);

/** Why the iron of a glaze is not given; NULL when it is. */
const char *dw_glaze_reason(dw_report *report, const dw_ware_glaze *glaze);

/** Two columns for each metal, its form and its forms, the latter in the text for the first so many; returns
 *  how many there are. */
size_t dw_metal_columns(dw_report *report, const dw_oxide_table *oxides, int shown, dw_column *column);

/** Their cells. */
void dw_metal_cells(dw_report *report, const dw_oxide_table *oxides, const dw_ware *ware, dw_cell *cell);

#endif
