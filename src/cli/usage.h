#ifndef DW_USAGE_H
#define DW_USAGE_H

/**
 * @file usage.h
 * The texts of --help and --version, made from the tables of commands.h.
 *
 * Layer: cli. Writes to standard output.
 */

#include "commands.h"

/** Help of a command, or of the program. */
void dw_usage_show(const dw_cli_command *command);

/** Version and licence. */
void dw_usage_version(void);

#endif
