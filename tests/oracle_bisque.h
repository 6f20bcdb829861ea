/* oracle_bisque.h: a load of stacked ware as GEOS and plain arithmetic see it, without the checker.
 */
#ifndef KILNSTOW_TESTS_ORACLE_BISQUE_H
#define KILNSTOW_TESTS_ORACLE_BISQUE_H

#include "kilnstow/plan.h"

enum {
    BISQUE_MEET,
    BISQUE_REST,
    BISQUE_WALL,
    BISQUE_HIGH,
    BISQUE_CARRIED,
    BISQUE_STANDS,
    BISQUE_RULES
};

/* How much each rule has to spare at its tightest, mm, pieces or kg; negative where it is broken.
 * Ware apart or inside other ware; resting on what carries it; clear of the wall; stacks no higher
 * than the rules let them; nothing carries too much; stacks stand, also at 5 degrees. */
typedef struct {
    double spare[BISQUE_RULES];
} bisque_verdict;

bisque_verdict oracle_bisque(const ks_plan *plan, int load);

#endif
