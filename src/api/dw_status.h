#ifndef DW_STATUS_H
#define DW_STATUS_H

/**
 * @file dw_status.h
 * How a call can end. One list makes the enum, the names and the texts.
 *
 * Layer: api (seen by every layer). No state, no allocation.
 */

#ifdef __cplusplus
extern "C" {
#endif

#define DW_STATUS_LIST(X)                                                     \
    X(DW_OK, "success")                                                       \
    X(DW_ERR_NOMEM, "out of memory")                                          \
    X(DW_ERR_ARG, "argument is null or not a finite number")                  \
    X(DW_ERR_DOMAIN, "argument is outside the physical domain")               \
    X(DW_ERR_INPUT, "the input has errors")                                   \
    X(DW_ERR_NO_CONVERGE, "not solved")                                       \
    X(DW_ERR_IO, "reading or writing failed")                                 \
    X(DW_ERR_BUG, "internal error")

#define DW_STATUS_AS_ENUM(name, text) name,
/** Outcome of a call: DW_OK, or why the call could not do its job. */
typedef enum dw_status { DW_STATUS_LIST(DW_STATUS_AS_ENUM) DW_STATUS_COUNT } dw_status;
#undef DW_STATUS_AS_ENUM

/** The caller must look at the result. */
#if defined(__GNUC__) || defined(__clang__)
#define DW_MUST_CHECK __attribute__((warn_unused_result))
#define DW_PRINTF(format_index, first_index) \
    __attribute__((format(printf, format_index, first_index)))
#else
#define DW_MUST_CHECK
#define DW_PRINTF(format_index, first_index)
#endif

/** One lower-case line for a status, without a full stop; never NULL. Static storage. */
const char *dw_status_text(dw_status status);

#ifdef __cplusplus
}
#endif

#endif
