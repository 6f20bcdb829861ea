/* place_child.h: what the planning process does, and the messages by which it hands up its plans.
 */
#ifndef KILNSTOW_APP_PLACE_CHILD_H
#define KILNSTOW_APP_PLACE_CHILD_H

#include "kilnstow/check.h"
#include "kilnstow/place.h"

typedef struct {
    const ks_order *order;
    ks_place_options options;
} ks_place_work;

enum {
    KS_SAYS_PROGRESS = 1, /* ks_progress */
    KS_SAYS_PLAN,         /* ks_plan_head, then the plan in brief and its text as in a file */
    KS_SAYS_FEWER,        /* the text of the plan with one load fewer */
    KS_SAYS_ENDED,        /* ks_placing_end; nothing follows */
};

typedef struct {
    int stayed, stood; /* pieces where they stood in the plan started from, of how many */
    double free_worth; /* were shelves of that plan not kept; NAN = they are not */
    bool passes, ok;   /* our own check; and with no must-go piece waiting */
    size_t brief;      /* bytes of the plan in brief (ks_plan_brief) */
} ks_plan_head;

typedef struct {
    ks_status status;
    ks_error err;
    char stopped_by[16]; /* "rounds" or "proof"; "unfinished" when it was hurried */
} ks_placing_end;

/* The work of a child (payload: a ks_place_work): hands up a plan whenever there is a better one,
 * in the end the best with all reasons for what waits. */
void ks_place_in_child(int up, void *payload);

/* Whether no rule is broken but the one that an honest plan may break: a piece that must go waits.
 */
bool ks_plan_passes(const ks_check_report *report);

#endif
