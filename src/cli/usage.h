#ifndef DW_USAGE_H
#define DW_USAGE_H

/**
 * @file usage.h
 * The texts of --help and --version.
 *
 * Layer: cli. Constant texts.
 */

/** Help of the program. */
extern const char dw_usage_general[];

/** Help of one command, by its index in dw_command. */
extern const char *const dw_usage_command[];

/** What follows the version number in --version. */
extern const char dw_usage_licence[];

#endif
