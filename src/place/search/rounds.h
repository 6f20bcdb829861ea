/* rounds.h: the rounds of a placing: pricing new patterns, then whole loads, then repairs. */
#ifndef KILNSTOW_PLACE_SEARCH_ROUNDS_H
#define KILNSTOW_PLACE_SEARCH_ROUNDS_H

#include "place/job/stream.h"
#include "place/search/earlier_plan.h"
#include "place/search/greedy.h"
#include "place/search/pool.h"

enum { KS_TASKS = 8 }; /* logical workers, however many threads do their work */

typedef struct {
    ks_job *job;
    ks_arena *arena;
    ks_pool pool;
    ks_draft best;
    double *price; /* of each item, smoothed over rounds */
    double *rent;  /* of each item: the part of a load it takes, by area and height */
    int fewest;    /* loads that could take all that is wanted, at the least */
    bool priced;   /* whether prices are there */
    struct ks_joint_loads {
        bool begun, hopeless; /* hopeless: for the best plan as it is */
        int stalled;          /* rounds without gain */
        double left;          /* what waits, by what it counts */
        ks_draft draft;       /* a plan in the making, of all loads together */
        double *counts;       /* what a copy of each item counts in it */
    } aim;
    int n_field; /* of one load: plans on unlike stacks, the best of which is worked on */
    ks_draft field[KS_TASKS];
    struct ks_load_by_load {
        bool begun, done;
        int loads, to_pack; /* of this attempt: in all, and those still to be packed */
        bool *open;         /* of each slot: it may still be packed */
        int *tries;         /* of each number of loads */
        ks_draft *found;    /* the best of each number of loads; no loads = none was planned */
        double *bulk;       /* of a copy of each item: of a load's room */
        double *capacity;   /* of each kind of load, as bulk */
        ks_draft draft;     /* the loads packed so far */
        ks_draft none;      /* no load at all */
    } ahead;
    int round;
    bool begun;     /* the first plan is there, and the rest of the first round is to come */
    ks_draft first; /* that plan, and the task of the first round that it is of */
    int first_task;
    int found;        /* plans that were the best so far */
    int64_t work;     /* of one task of one round */
    ks_before before; /* where things stood in the plan it starts from */
    ks_draft from;    /* that plan with what is new; no loads when there is none */
} ks_run;

void ks_run_init(ks_run *search, ks_job *job, ks_arena *arena);

/* Whether the first plan may be handed out for good: nothing has yet to be looked at that comes
 * before worth. */
bool ks_run_may_end(const ks_run *search);

/* The first plan, then what is left of its round; then, a whole round each, pricing, building and
 * repairing. */
void ks_run_round(ks_run *search);

/* Takes up the plan that the options tell to start from. */
void ks_run_start_from(ks_run *search);

/* A copy of the best so far, of no more loads than were asked for; of plans worth the same that in
 * which more stands where it stood. */
ks_draft ks_run_best(const ks_run *search, ks_arena *arena);

/* One round of column generation: prices, new stacks, new patterns. */
void ks_run_pricing(ks_run *search);

/* The one load that the patterns of the pool make, taken whole. */
void ks_run_integer_master(ks_run *search);

/* One round of refilling levels of the best plan. */
void ks_run_repair(ks_run *search);

/* The same for any draft, in place; items count what `worth` says (NULL: the draft's own score).
 * `time` tells the mendings of a run for one purpose apart. */
void ks_run_mend(ks_run *search, ks_draft *draft, const double *worth, ks_purpose purpose,
                 int time);

/* One round of that for up to KS_TASKS plans of one load at once, in place. */
void ks_run_mend_several(ks_run *search, int n, ks_draft *drafts);

/* One round of mending plans on unlike stacks side by side; as the rounds of the race go by, the
 * lesser half of them drops out. `part` of the race is over, 0 to 1. */
void ks_run_race(ks_run *search, double part);

/* A better plan on the stack of one that is in the race takes its place. */
void ks_run_join_race(ks_run *search, const ks_draft *draft);

/* On the levels of the best plans so far ware is laid out anew owner by owner, where the order asks
 * for one piece of every owner before anyone's second. */
void ks_run_share_fairly(ks_run *run);

/* One round of emptying the emptiest loads into the others and building them anew. */
void ks_run_ruin_recreate(ks_run *run);

/* One round of planning all loads anew together, one fewer than the best plan has when that leaves
 * nothing waiting. False when it does not come into question. */
bool ks_run_joint_loads(ks_run *run);

/* The next of several loads planned by itself, from the share of the ware that it is offered. False
 * when no number of loads is left to try. */
bool ks_run_load_by_load(ks_run *run);

/* Whether it is known what one load fewer than the best plan has would come to. */
bool ks_run_fewer_is_known(const ks_run *run);

/* The best plan that has one load fewer than the best of all; NULL when none was planned. */
const ks_draft *ks_run_one_load_fewer(const ks_run *run);

/* Whether the best plan leaves any ware out. */
bool ks_run_waits(const ks_run *search);

/* Makes a copy of a draft the best. */
void ks_run_set_best(ks_run *search, const ks_draft *draft);

/* The same when the draft is better. */
bool ks_run_take(ks_run *search, const ks_draft *draft);

/* Random numbers of this round. */
ks_random ks_run_random(const ks_run *search, ks_purpose purpose, int task);

#endif
