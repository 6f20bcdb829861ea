/* reason_list.h: the closed list of reasons and changes: what files call them, and what they say.
 */
#ifndef KILNSTOW_STUDIO_REASON_LIST_H
#define KILNSTOW_STUDIO_REASON_LIST_H

#include "kilnstow/reason.h"

#include <stdbool.h>

typedef struct {
    const char *name; /* in plans */
    const char *why;  /* its kind, a plan's `why`; NULL of a change */
    const char *says; /* with the keys of its figures in braces: "by {by}, standing by itself" */
} ks_reason_entry;

const ks_reason_entry *ks_reason_entry_of(ks_reason_name name);

/* KS_UNTOLD where there is none of that name. */
ks_reason_name ks_reason_called(const char *name);

/* Whether its text names the figure. */
bool ks_reason_has(ks_reason_name name, const char *key);

#endif
