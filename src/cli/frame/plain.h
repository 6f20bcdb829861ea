/* plain.h: standard output and error that show control characters instead of obeying them. */
#ifndef KILNSTOW_CLI_PLAIN_H
#define KILNSTOW_CLI_PLAIN_H

#include "base/text.h"

/* From here on all that is printed goes through ks_plain_add: a title, a file's name or an argument
 * may hold anything, and none of it reaches a terminal raw. Call it before anything is printed. */
void ks_plain_start(void);

/* On a terminal: back to the start of standard error's line, and the line empty. The one control
 * sequence that is ours. */
void ks_plain_wipe_line(void);

/* From here on what is printed goes to standard error: a file written to standard output stands
 * there alone. */
void ks_plain_aside(void);

/* Adds the bytes to `to`, what a terminal would obey as an escape ("\u001B", "\x9B"). A character
 * cut off at the end is left; returns how many bytes were taken. */
size_t ks_plain_add(ks_text *to, const char *bytes, size_t length);

#endif
