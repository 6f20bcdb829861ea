/* summary.h: a plan in a few lines of text, for a person at a terminal. */
#ifndef KILNSTOW_CLI_SUMMARY_H
#define KILNSTOW_CLI_SUMMARY_H

#include "app/place_run.h"
#include "cli/frame/speech.h"

#include <stdio.h>

/* What it costs that shelves stay where an earlier plan has them; nothing where they do not. */
void ks_summary_kept(const ks_plan *plan, double free_worth, FILE *to);

/* "82.4 litres", "412.50 EUR" or "96 pieces". */
const char *ks_summary_of_worth(const ks_plan *plan, double worth, ks_arena *arena);
void ks_summary_worth(const ks_plan *plan, FILE *to); /* what is placed, of what, and the bound */
/* In one line what one load fewer would save, and what would wait. */
void ks_summary_fewer(const ks_load_saved *saved, FILE *to);
/* Of each owner how many pieces go in, where the order asks for fairness. */
void ks_summary_owners(const ks_plan *plan, FILE *to);
void ks_summary_loads(const ks_plan *plan, FILE *to); /* levels and posts of each load */
void ks_summary_late(const ks_plan *plan, FILE *to);  /* dated ware whose load opens too late */
void ks_summary_waits(const ks_plan *plan,
                      FILE *to); /* what waits, why, and what would let it in */
/* Of how many kinds of ware what was assumed, and how to see it; nothing where nothing was. */
void ks_summary_assume(const ks_order *order, const char *order_path, FILE *to);
void ks_summary_warnings(const ks_order *order, FILE *to);

#endif
