/* draft.h: a plan in the making: loads, their levels, and what stands on them. */
#ifndef KILNSTOW_PLACE_DRAFT_DRAFT_H
#define KILNSTOW_PLACE_DRAFT_DRAFT_H

#include "place/draft/level_fill.h"

typedef struct {
    ks_stack_level at;
    ks_shelf_layout layout; /* items are those of the job */
    int n_pins;
    ks_shelf_spot *pins; /* ware the order keeps here, and a pack at the peephole */
    int cones;           /* packs that have to be in, 0 or 1 */
} ks_draft_level;

typedef struct {
    int kind;     /* into job.kinds */
    int n_levels; /* 0 = this slot is not fired */
    ks_draft_level *levels;
} ks_draft_load;

typedef struct {
    int n_loads; /* one for each slot */
    ks_draft_load *loads;
    int *left;    /* copies of each item that wait */
    double score; /* worth weighed by urgency, less what each firing costs: leads the search */
    double worth; /* as the plan reports it */
} ks_draft;

/* Nothing fired, everything left. */
ks_draft ks_draft_empty(const ks_job *job, ks_arena *arena);

/* A copy that shares nothing that changes. */
ks_draft ks_draft_copy(const ks_job *job, const ks_draft *draft, ks_arena *arena);

/* Counts again what is left, score and worth. */
void ks_draft_count(const ks_job *job, ks_draft *draft);

/* Of each set, whether all of it is in one load. */
bool *ks_draft_together(const ks_job *job, const ks_draft *draft, ks_arena *arena);

/* Shelves of a load, and posts, each of two on top of one another counted. */
int ks_draft_shelves(const ks_job *job, const ks_draft_load *load);
int ks_draft_posts(const ks_job *job, const ks_draft_load *load);

/* Whether a copy of a piece the order keeps somewhere stands there. */
bool ks_draft_is_pinned(const ks_draft *draft, int slot, int piece);

/* The number of a load that is fired, from 1, as the plan counts: slots not fired have none. */
int ks_draft_number(const ks_draft *draft, int slot);

/* How many loads are fired. */
int ks_draft_fired(const ks_draft *draft);

/* Whether a load holds nothing at all. */
bool ks_draft_is_bare(const ks_draft_load *load);

/* Of dated ware in loads that open too late for it, while others do not, the sum of `by` of each
 * item. */
double ks_draft_late(const ks_job *job, const ks_draft *draft, const double *by);

/* Lays a level bare; its ware is left again. */
void ks_draft_clear_level(const ks_job *job, ks_draft *draft, int slot, int level);

/* Puts a layout on a bare level. */
void ks_draft_set_level(const ks_job *job, ks_draft *draft, int slot, int level,
                        ks_shelf_layout layout);

#endif
