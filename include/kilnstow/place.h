/* place.h: plans the loads of an order: started, stepped in rounds, asked for its best, finished.
 */
#ifndef KILNSTOW_PLACE_H
#define KILNSTOW_PLACE_H

#include "kilnstow/plan.h"

#ifdef __cplusplus
extern "C" {
#endif

/* How long a full load takes, in whole hours, rounded up, from switching on. */
typedef struct {
    int cone_down, ended, open;
} ks_load_hours;

typedef struct {
    uint64_t seed;
    int rounds;            /* that the whole run may take */
    int loads;             /* no more than so many; 0 = as many as the order has */
    int threads;           /* 1 or more; changes how long it takes, never the answer */
    double reserve_mm;     /* kept beyond every clearance, default 0.02 */
    const char *export_to; /* file for the top problem, .lp or .mps, NULL = none */
    const ks_plan
        *from; /* an earlier plan to keep what it can of, NULL = none; outlives the placing */
    bool keep_shelves; /* of that plan's loads shelves and posts stay, whatever stands on them */
    const ks_load_hours *hours;  /* [kiln * firings + firing]; NULL = no time at all; outlives it */
    const unsigned char *thirds; /* of a chamber's height in which each piece sees its cone: bit 0
                                  * is the bottom one; [(kiln * firings + firing) * pieces + piece];
                                  * NULL = everywhere; outlives it */
} ks_place_options;
/* What holds where nobody tells: seed 1, 20 rounds, 2 threads. */
ks_place_options ks_place_default(void);

typedef struct {
    int round, rounds;
    double worth, bound;
    int placed, wanted; /* counted pieces */
    int filled;         /* pieces counted as "fill" beside those */
    int loads;
    int loads_at_least; /* no fewer could take all that is wanted */
    bool last;          /* set by whoever steps: the search ends here, and this is what was found */
} ks_progress;

typedef struct ks_placing ks_placing;

/* The order must outlive the placing. */
ks_status ks_placing_create(const ks_order *order, const ks_place_options *options,
                            ks_placing **out, ks_error *err);

/* The first plan of all, which comes early and with `rounds` 0 is all; then, at each call, what is
 * left of a round. `*more` is false when rounds are used up or the answer is proven best. */
ks_status ks_placing_step(ks_placing *placing, bool *more, ks_progress *progress, ks_error *err);

/* The best so far, with its reasons for what waits; in `arena`. Valid after any number of steps,
 * also none. `stopped_by` is put into the plan. */
ks_status ks_placing_best(ks_placing *placing, const char *stopped_by, ks_arena *arena,
                          ks_plan **out, ks_error *err);

/* The same in a moment: no change is looked for that would let in what waits. */
ks_plan *ks_placing_sketch(ks_placing *placing, const char *stopped_by, ks_arena *arena);

/* The plan with one load fewer than the best, what waits in it without the changes that would let
 * it in; NULL when none was planned. */
ks_plan *ks_placing_one_load_fewer(const ks_placing *placing, ks_arena *arena);

/* Whether the best so far is another than the one handed out last. */
bool ks_placing_is_better(const ks_placing *placing);

/* Of the best that was handed out last: how many pieces stand where they stood in the plan it
 * started from, of those of that plan which the order still has. */
void ks_placing_stayed(const ks_placing *placing, int *stayed, int *of);

/* What was found where shelves may stand anew, when those of an earlier plan are kept; else NAN. */
double ks_placing_free_worth(const ks_placing *placing);

/* A flag another thread or a signal handler may set: the step under way ends early, keeping its
 * best. */
void ks_placing_stop(ks_placing *placing);

/* How many more copies of one kind would go onto a level, or into a load, by themselves. */
typedef struct {
    int piece; /* into order.pieces */
    int copies;
    ks_stand *stands; /* of each, on its level; NULL for a whole load */
} ks_kind_room;

/* What would still go onto a level, all that stands there staying where it is. */
typedef struct {
    double height_mm;  /* up to what is over it, less its clearance: the tallest */
    double width_mm;   /* of the widest round piece so tall, as it is measured before it grows */
    double x_mm, y_mm; /* its middle */
    int n_kinds;
    ks_kind_room *kinds; /* those of which at least one goes in */
} ks_level_room;

typedef struct {
    const char *why_not; /* why nothing is told of this load; NULL = it is told */
    int n_levels;
    ks_level_room *levels; /* as in the load */
    int n_kinds;
    ks_kind_room *kinds; /* over all levels, most first */
} ks_load_room;

/* What could still go into each load of a plan, by the rules of its order: circles proven to a
 * tenth of a millimetre, copies as the packer found room for them, up to `KS_ROOM_MOST` on a level.
 */
enum { KS_ROOM_MOST = 60 };
ks_status ks_place_room(const ks_plan *plan, ks_arena *arena, ks_load_room **out, ks_error *err);

/* Frees the placing and what it holds; NULL is allowed. Plans handed out stay. */
void ks_placing_destroy(ks_placing *placing);

#ifdef __cplusplus
}
#endif

#endif
