/* oracle_plan.h: a small plan that keeps every rule, for tests to break. */
#ifndef KILNSTOW_TESTS_ORACLE_PLAN_H
#define KILNSTOW_TESTS_ORACLE_PLAN_H

#include "kilnstow/plan.h"

enum { MUG, BOWL, PLATE, FORM, TILE, POT, LID, TESTER, VASE, SMALL_PIECES };

typedef struct {
    ks_arena *arena;
    ks_order *order;
    ks_kiln *kiln;
    ks_plan *plan;
    ks_load *load; /* the only one: two levels, whole shelf below, two halves above */
} small_plan;

small_plan small_plan_made(ks_arena *arena);

/* The copy of a piece in the load, NULL if it is not there. */
ks_placed *small_plan_find(const small_plan *small, const char *id, int copy);

/* Moves a placed piece's stand and all its parts. */
void small_plan_move(const small_plan *small, ks_placed *placed, double x, double y, double turn);

#endif
