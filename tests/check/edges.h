/* edges.h: runs tables of plans that just keep a rule, and that break only it by a hundredth. */
#ifndef KILNSTOW_TESTS_EDGES_H
#define KILNSTOW_TESTS_EDGES_H

#include "bare_plan.h"

/* How a rule judges: by how much is to spare, or whether two values are the same. */
typedef enum { SPARE, SAME } edge_sense;

/* A plan in which `rule` has exactly `spare` to spare (negative: is short by as much), for shapes
 * of two kinds. With SAME it is off by `spare`, whatever its sign. */
typedef struct {
    const char *rule;
    const char *name;
    void (*build)(bare_plan *s, shape_kind a, shape_kind b, double spare);
    int kinds;   /* for how many of the two every kind is tried: 0, 1 (a) or 2 */
    double step; /* how much is tried; 0 = 0.01 */
    edge_sense sense;
    double within;     /* how exactly it is known; 0 = 1e-6 */
    bool touching;     /* elsewhere in the plan the rule has nothing to spare, whatever is tried */
    const char *where; /* as told in the report; NULL = any */
    const char *also;  /* another rule that cannot be kept where this one is broken; NULL = none */
    const char *told;  /* the rule under which it is told while it is kept; NULL = the same */
} edge;

/* For each row and shape: a plan with a step to spare, one with nothing, one a step short. */
void edges_hold(const edge *rows, int n);

/* A change of a plan that breaks one rule, by more than a hundredth: what is no matter of more or
 * less. */
typedef struct {
    const char *rule;
    const char *name;
    void (*change)(bare_plan *s);
    double by;         /* 0 = not told here */
    const char *where; /* NULL = not told here */
    const char *also;  /* another rule that may be broken with it; NULL = none */
} slip;

/* Every one breaks its rule and no other. `base` makes of the bare plan the one that they change;
 * NULL = nothing. */
void slips_are_found(void (*base)(bare_plan *s), const slip *rows, int n);

/* A plan that keeps every rule though it looks as if it did not. */
typedef struct {
    const char *rule;
    const char *name;
    void (*build)(bare_plan *s);
    double
        spare; /* at the rule's tightest place; INFINITY = it meets nothing, NAN = not told here */
} keeper;

void keepers_are_kept(const keeper *rows, int n);

#endif
