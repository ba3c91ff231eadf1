#ifndef DW_SAY_H
#define DW_SAY_H

/**
 * @file say.h
 * One line to standard error, whatever is in it.
 *
 * Layer: cli. Arguments and file names may hold anything; what could steer a terminal is shown as an escape
 * (base/visible.h).
 */

#include "dw_status.h"

/** Says "damperwise: ..." and ends the line. */
void dw_say(const char *format, ...) DW_PRINTF(1, 2);

/** The same for a whole line without the name of the program before it. */
void dw_say_line(const char *line);

#endif
