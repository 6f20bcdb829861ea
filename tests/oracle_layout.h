/* oracle_layout.h: random layouts of ware, and GEOS's own verdict on their distances. */
#ifndef KILNSTOW_TESTS_ORACLE_LAYOUT_H
#define KILNSTOW_TESTS_ORACLE_LAYOUT_H

#include "kilnstow/check.h"

#include <stdint.h>

/* One shelf of two to six pieces of one or two parts each, dropped anywhere: discs, ovals, convex
 * and concave polygons, in a chamber that may be concave. Mostly rules are broken. */
ks_plan *random_layout(uint64_t *seed, ks_arena *arena);

/* Worked out pair by pair by the wording of docs/checking.md, without any short cut. Infinity where
 * there was nothing to judge; below 0 only the sign is exact. */
typedef struct {
    double ware, under, wall, support;
} layout_verdict;

layout_verdict oracle_verdict(const ks_plan *plan);

/* The same four of the checker's report. */
layout_verdict checker_verdict(const ks_plan *plan, ks_arena *arena);

/* Whether the two agree, within `within` mm where they are not negative, else in sign. */
bool verdicts_agree(layout_verdict a, layout_verdict b, double within);

#endif
