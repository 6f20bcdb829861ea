/* error.h: what went wrong, in words for the person who asked. */
#ifndef KILNSTOW_ERROR_H
#define KILNSTOW_ERROR_H

#ifdef __cplusplus
extern "C" {
#endif

/* The values are the program's exit statuses, so that no table between the two can drift. A
 * disappointing answer (a piece left over, a cone not reached) is data in a result, never one of
 * these. */
typedef enum {
    KS_OK = 0,
    KS_BAD_USAGE = 2,     /* the command line, or a call that asks for the impossible */
    KS_BAD_INPUT = 3,     /* a file or a value that cannot be used */
    KS_SYSTEM = 4,        /* the machine refused: file, disk, permission, memory */
    KS_NO_ANSWER = 5,     /* stopped before there was an answer */
    KS_BUG = 70,          /* ours */
    KS_INTERRUPTED = 130, /* by the user, before there was an answer */
} ks_status;

enum { KS_ERRORS_SHOWN = 20 };

/* Owned by the caller, who zeroes it. `text` is one line for each failure, at most
 * KS_ERRORS_SHOWN of them, each "file:line: field: what was found; what would be right". */
typedef struct {
    ks_status status; /* of the first failure */
    int count;        /* failures so far, also those no longer shown */
    char text[8192];
} ks_error;

/* The single funnel of failure: notes a line in *err (err may be NULL) and returns `status`. */
ks_status ks_fail(ks_error *err, ks_status status, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

#ifdef __cplusplus
}
#endif

#endif
