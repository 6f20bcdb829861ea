/* check.h: proves, without the packer, that a plan keeps every rule. */
#ifndef KILNSTOW_CHECK_H
#define KILNSTOW_CHECK_H

#include "kilnstow/plan.h"

/* A rule, and the tightest place where it holds. */
typedef struct {
    const char *rule;
    double tightest_mm; /* to spare; infinity when the rule met nothing to judge */
    const char *where;  /* "load 1, level 2: mug-3 and bowl-1" */
} ks_rule_kept;

typedef struct {
    const char *rule;
    const char *where;
    double by_mm; /* how much it is short by; kg for mass, pieces for counts: see unit */
    const char *unit;
} ks_rule_broken;

typedef struct {
    bool ok;
    int n_rules;
    ks_rule_kept *rules; /* every rule the checker knows, in a fixed order */
    int n_broken;
    ks_rule_broken *broken;
} ks_check_report;

/* Judges the plan by the order it carries. */
void ks_check(const ks_plan *plan, ks_arena *arena, ks_check_report *out);

#endif
