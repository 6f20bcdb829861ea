/* check.h: proves, without the packer, that a plan keeps every rule. */
#ifndef KILNSTOW_CHECK_H
#define KILNSTOW_CHECK_H

#include "kilnstow/plan.h"

#ifdef __cplusplus
extern "C" {
#endif

/* A rule, and the tightest place where it holds. docs/checking.md says what each rule asks. */
typedef struct {
    const char *rule;
    double tightest_mm; /* to spare, in `unit`; infinity when the rule met nothing to judge */
    const char *where;  /* "load 1, level 2: mug-3 and bowl-1" */
    const char *unit;   /* "mm", "kg", "pieces", ... */
} ks_rule_kept;

typedef struct {
    const char *rule;
    const char *where;
    double by_mm; /* how much it is short by, in `unit`; 1e6 = wrong beyond measure */
    const char *unit;
} ks_rule_broken;

/* What a loader would see to, and breaks no rule. */
typedef struct {
    const char *rule;
    const char *where;
} ks_remark;

/* A height to take again: the plan would be another if it were so much out. */
enum { KS_MEASURES = 3 };
typedef struct {
    const char *id;    /* of the piece */
    const char *where; /* "load 1, level 2" */
    double decides_mm;
    bool waits; /* lower by that it would go in there; else higher by more than that it would not */
} ks_measure;

/* What holds however far sizes measured by hand may be out. */
typedef struct {
    double error_mm;            /* that they may be out by: 2 mm, or as the ware tells */
    double beside_mm, above_mm; /* least distance then left; infinity = there is nothing there */
    int n;
    ks_measure of[KS_MEASURES]; /* those that decide by the least first */
} ks_ruler;

typedef struct {
    bool ok;
    int n_rules;
    ks_rule_kept *rules; /* every rule the checker knows, in a fixed order */
    int n_broken;
    ks_rule_broken *broken;
    int n_remarks;
    ks_remark *remarks;
    ks_ruler ruler;
} ks_check_report;

/* Judges the plan by the order it carries; never fails, whatever the plan holds. The rule "must go"
 * alone can be broken by an honest plan: one that had to leave out a piece that must go. Of each
 * rule the first 500 breaks are told. */
void ks_check(const ks_plan *plan, ks_arena *arena, ks_check_report *out);

/* What one place of a load has to spare under a rule, as far as a few pieces are concerned. */
typedef struct {
    const char *rule, *unit;
    double spare;   /* in `unit`; less than 0: the rule is broken there */
    const char *id; /* of whom it concerns */
    int copy;
    const char *near; /* what stands there besides: another piece, "a post"; NULL = none */
    int near_copy;    /* 0 = it has no number */
} ks_nearby;

/* Judges one load (from 0) as ks_check does, but tells all that concerns these pieces of it and
 * nothing else: each break, and what is tightest besides. In `arena`; returns how many. */
int ks_check_nearby(const ks_plan *plan, int load, int n, const ks_placed *const *pieces,
                    ks_arena *arena, ks_nearby **out);

/* The report in lines: what is broken, or the tightest place of each rule; and how it ends. */
const char *ks_check_words(const ks_check_report *report, const ks_plan *plan, ks_arena *arena);

#ifdef __cplusplus
}
#endif

#endif
