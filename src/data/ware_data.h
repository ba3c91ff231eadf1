#ifndef DW_WARE_DATA_H
#define DW_WARE_DATA_H

/**
 * @file ware_data.h
 * What config/oxides.yaml and config/glazes.yaml hold beside the buffers: what potters want from
 * the gas and when, and glazes.
 *
 * Layer: data. Plain values, read-only after loading (data/data_oxides.c, data/data_glazes.c).
 */

#include "glaze_iron.h"
#include "oxide.h"

enum { DW_WINDOW_MAX = 16, DW_GLAZE_MAX = 16, DW_WARE_TEXT_SIZE = 240 };

/** What the gas has to be. */
typedef enum dw_ware_need {
    DW_WARE_NOTHING,
    DW_WARE_REDUCED_TO,    /**< the metal in this form or one poorer in oxygen               */
    DW_WARE_OXIDIZED_TO,   /**< the metal in this form or one richer in oxygen               */
    DW_WARE_H2_H2O,        /**< at least so much H2/H2O                                      */
    DW_WARE_SOOT           /**< a flame that smokes, a judgement                             */
} dw_ware_need;

/** A condition that practice or a publication states for a stage of a firing. */
typedef struct dw_window {
    char subject[24];              /**< "copper red"                                         */
    char stage[40];                /**< "before the glaze seals"                             */
    double from_k, to_k;           /**< temperature of the ware                              */
    dw_ware_need need;
    int metal, form;               /**< of DW_WARE_REDUCED_TO and _OXIDIZED_TO; else -1      */
    double h2_h2o_ratio;           /**< of DW_WARE_H2_H2O; else NaN                          */
    char text[DW_WARE_TEXT_SIZE];
    char source[32];
} dw_window;

/** A glaze by mass fractions of its oxides. */
typedef struct dw_glaze {
    char name[32];
    char note[DW_WARE_TEXT_SIZE];
    double y[DW_MELT_OXIDE_COUNT]; /**< mass fractions, iron as FeO                          */
    char outside[16];              /**< an oxide that the formulas do not know; "" when none */
    char source[32];
} dw_glaze;

#endif
