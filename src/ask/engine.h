#ifndef DW_ENGINE_H
#define DW_ENGINE_H

/**
 * @file engine.h
 * The insides of an engine and of a case.
 *
 * Layer: ask. Not for others, not installed.
 */

#include "damperwise.h"
#include "operating_point.h"
#include "read_kiln.h"

struct dw_engine {
    const dw_data *data;  /**< in use */
    dw_data *read;        /**< owned; NULL: data are those that the build packed */
    dw_model model;
};

struct dw_case {
    dw_kiln_file file;
    dw_kiln resolved;
};

#endif
